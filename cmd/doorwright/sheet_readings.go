package main

import (
	"fmt"
	"math"

	"doorwright/meter"
	"doorwright/situation"
)

// readings is what a meter should show.
type readings struct {
	Job          string    `json:"job"`
	Expectations []reading `json:"expectations"`
	Cautions     []string  `json:"cautions"`
}

// reading is one expectation, in V or ohm.
type reading struct {
	Door      string `json:"door"` // empty when several share the device
	Device    string `json:"device"`
	Pin       string `json:"pin"`
	Against   string `json:"against"`
	Label     string `json:"label"`
	Condition string `json:"condition"`
	Dead      bool   `json:"dead"`
	Quantity  string `json:"quantity"`
	Nominal   number `json:"nominal"`
	Low       number `json:"low"`
	High      number `json:"high"`
	Open      bool   `json:"over_range"`
	Unit      string `json:"unit"`
	Why       string `json:"why"`
}

func readingSheet(v *view) (sheet, error) {
	s := readings{Job: v.job.ID, Expectations: []reading{}, Cautions: meter.Cautions()}
	for _, e := range meter.Expect(situation.New(v.plan), meter.Default()) {
		if v.wants(e.Door) && (e.Door != "" || v.wantsWhere(e.Device)) {
			s.Expectations = append(s.Expectations, reading{
				e.Door, e.Device, e.Pin, e.Against, e.Label, e.Condition, e.Dead, string(e.Quantity),
				number(e.Nominal), number(e.Low), number(e.High), e.Open, e.Unit, e.Why,
			})
		}
	}
	return s, nil
}

func (s readings) text(p *page) {
	p.title("READINGS " + s.Job)
	p.say(0, plain, "What a meter shows at doors that are as planned. The band holds every sound door; a reading outside it is "+
		"a fault, or a door that is not as planned.")
	p.gap()
	for _, c := range s.Cautions {
		p.label(0, "CAUTION", yellow, c)
	}
	for _, part := range []struct {
		dead  bool
		title string
	}{{true, "DEAD TEST: everything off and unplugged"}, {false, "LIVE TEST"}} {
		s.part(p, part.dead, part.title)
	}
}

// part writes the dead or the live readings, condition by condition.
func (s readings) part(p *page, dead bool, title string) {
	var order []string
	tables := map[string]*table{}
	for _, r := range s.Expectations {
		if r.Dead != dead {
			continue
		}
		t := tables[r.Condition]
		if t == nil {
			t = &table{head: []string{"where", ">should be", ">from", ">to"}}
			tables[r.Condition] = t
			order = append(order, r.Condition)
		}
		t.add(r.Label, r.value(r.Nominal), r.bound(r.Low, false), r.bound(r.High, true))
	}
	if len(order) == 0 {
		return
	}
	p.gap()
	p.title(title)
	for _, c := range order {
		p.gap()
		p.say(0, bold, c)
		p.table(2, *tables[c])
	}
}

func (r reading) value(v number) string {
	if r.Open {
		return "over range"
	}
	return measured(float64(v), r.Unit)
}

func (r reading) bound(v number, upper bool) string {
	if r.Open && upper {
		return "over range"
	}
	return measured(float64(v), r.Unit)
}

// measured writes a figure as a meter shows it: about four digits.
func measured(v float64, unit string) string {
	if unit == "ohm" {
		for _, s := range []struct {
			from   float64
			scale  float64
			symbol string
		}{{1e6, 1e6, "Mohm"}, {1e3, 1e3, "kohm"}} {
			if math.Abs(v) >= s.from {
				return fmt.Sprintf("%.2f %s", v/s.scale, s.symbol)
			}
		}
		return fmt.Sprintf("%.1f ohm", v)
	}
	return fmt.Sprintf("%.2f %s", v, unit)
}

func (s readings) table() table {
	t := table{head: []string{
		"door", "device", "pin", "against", "label", "condition", "dead", "nominal", "low", "high", "over_range", "unit", "why",
	}}
	for _, r := range s.Expectations {
		t.add(r.Door, r.Device, r.Pin, r.Against, r.Label, r.Condition, fmt.Sprint(r.Dead), r.Nominal.String(), r.Low.String(),
			r.High.String(), fmt.Sprint(r.Open), r.Unit, r.Why)
	}
	return t
}
