package main

import (
	"fmt"
	"strings"

	"doorwright/proof"
	"doorwright/standby"
	"doorwright/unit"
)

// loads is what each supply has to give, and how long its battery is expected to last.
type loads struct {
	Job   string       `json:"job"`
	Loads []supplyLoad `json:"loads"`
}

// supplyLoad is one supply of it. Currents in A, voltages in V, times in s, capacity in Ah.
type supplyLoad struct {
	Supply   string        `json:"supply"`
	Title    string        `json:"title"`
	Model    string        `json:"model"`
	Idle     number        `json:"idle"`
	Highest  number        `json:"highest"`
	Limit    number        `json:"limit"`
	LowVolts number        `json:"volts_low"`
	TopVolts number        `json:"volts_high"`
	Battery  number        `json:"on_battery"`
	Items    []consumer    `json:"items"`
	Standby  *standbyHours `json:"standby,omitempty"`
	Restless bool          `json:"restless,omitempty"` // something keeps restarting: the figures are of what came to rest
}

// consumer is one device that a supply feeds, at idle.
type consumer struct {
	Device string `json:"device"`
	Amps   number `json:"amps"`
}

func consumersOf(items []proof.LoadItem) []consumer {
	all := []consumer{}
	for _, i := range items {
		all = append(all, consumer{i.Device, number(i.Amps)})
	}
	return all
}

// standbyHours is the estimate of one battery.
type standbyHours struct {
	Battery  string   `json:"battery"`
	Capacity number   `json:"capacity"`
	Reached  number   `json:"reached"`
	Asked    number   `json:"asked"`
	First    string   `json:"first,omitempty"` // what drops out first
	Needed   number   `json:"capacity_needed"`
	Charger  number   `json:"charging_current"`      // by the data sheet of the supply; 0 when it does not say
	Left     number   `json:"charging_current_left"` // what the doors leave of what the supply gives
	Charging number   `json:"charging_current_needed"`
	Assumed  []string `json:"assumed"`
	Label    string   `json:"label"`
}

func loadSheet(v *view) (sheet, error) {
	s := loads{Job: v.job.ID, Loads: []supplyLoad{}}
	for _, l := range v.examined().Loads {
		s.Loads = append(s.Loads, supplyLoad{
			Supply: l.Supply.ID, Title: l.Supply.Title, Model: l.Supply.ModelID, Idle: number(l.Idle), Highest: number(l.Highest),
			Limit: number(l.Rated), LowVolts: number(l.Volts.Low), TopVolts: number(l.Volts.High), Battery: number(l.Battery),
			Items: consumersOf(l.Items), Standby: hoursOf(v.examined().Standby, l.Supply.ID),
			Restless: l.Restless,
		})
	}
	return s, nil
}

func hoursOf(all []standby.Estimate, supply string) *standbyHours {
	for _, e := range all {
		if e.Supply.ID != supply || e.Supply.Battery == nil {
			continue
		}
		return &standbyHours{
			Battery: e.Supply.Battery.ModelID, Capacity: number(e.Capacity), Reached: number(e.Reached), Asked: number(e.Asked),
			First: e.First, Needed: number(e.Needed), Charger: number(e.Recharge.Charger), Left: number(e.Recharge.Left),
			Charging: number(e.Recharge.Needs), Assumed: append([]string{}, e.Assumed...), Label: standby.Label,
		}
	}
	return nil
}

func (s loads) text(p *page) {
	p.title("LOADS " + s.Job)
	p.say(0, plain, "Currents from the solved network, not sums of data sheets. Idle: all doors locked, everything nominal. "+
		"Highest: over all causes and limit cases.")
	for _, l := range s.Loads {
		p.gap()
		p.title(strings.TrimSpace("SUPPLY " + l.Supply + ": " + l.Title + " (" + l.Model + ")"))
		if l.Restless {
			p.say(2, plain, "Not known: something on this supply keeps restarting; see the findings.")
			continue
		}
		t := table{head: []string{"", ">with mains", ">on battery"}}
		t.add("idle", unit.Ampere(l.Idle).String(), "")
		t.add("highest", unit.Ampere(l.Highest).String(), unit.Ampere(l.Battery).String())
		t.add("gives up to", unit.Ampere(l.Limit).String(), "")
		t.add("at its terminals", fmt.Sprintf("%v to %v", unit.Volt(l.LowVolts), unit.Volt(l.TopVolts)), "")
		p.table(2, t)
		l.items(p)
		l.hours(p)
	}
}

func (l supplyLoad) items(p *page) {
	t := table{head: []string{"consumer at idle", ">current"}}
	for _, i := range l.Items {
		t.add(i.Device, unit.Ampere(i.Amps).String())
	}
	p.gap()
	p.table(2, t)
}

func (l supplyLoad) hours(p *page) {
	if l.Standby == nil {
		return
	}
	h := l.Standby
	p.gap()
	p.say(2, plain, fmt.Sprintf("Battery %s, estimated to last %v, %v asked. Capacity that would do: %v.",
		h.Battery, unit.Second(h.Reached), unit.Second(h.Asked), unit.AmpereHour(h.Needed)))
	charge := standby.Recharge{Needs: unit.Ampere(h.Charging), Charger: unit.Ampere(h.Charger), Left: unit.Ampere(h.Left)}
	little := ""
	if !charge.Enough() {
		little = ": TOO LITTLE"
	}
	p.say(2, plain, fmt.Sprintf("%s; 80 %% in 24 h needs %v%s.", charge.Charging(), charge.Needs, little))
	if h.First != "" {
		p.say(2, plain, "First to drop out: "+h.First+".")
	}
	p.say(2, dim, h.Label)
}

func (s loads) table() table {
	t := table{head: []string{"supply", "what", "amperes"}}
	for _, l := range s.Loads {
		t.add(l.Supply, "idle", l.Idle.String())
		t.add(l.Supply, "highest", l.Highest.String())
		t.add(l.Supply, "limit", l.Limit.String())
		t.add(l.Supply, "on battery", l.Battery.String())
		for _, i := range l.Items {
			t.add(l.Supply, i.Device, i.Amps.String())
		}
	}
	return t
}
