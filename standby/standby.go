// Package standby estimates how long the battery of each supply carries its doors while mains is lost, what drops out
// first, whether the charger brings it back, and what battery would do.
//
// It is an estimate and says so: the current is solved from the network, but how a battery gives it depends on its age,
// its temperature and its make.
package standby

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// Label must stand beside every estimate.
const Label = "Estimate, calculated: a discharge test with the real load shows how long this battery lasts."

// Estimate is what the battery of one supply is expected to do: mains lost, all doors locked, nobody passing. All of it
// is taken in the limit case in which it lasts least.
type Estimate struct {
	Supply     *job.Supply
	Case       string          // the limit case
	Amps       unit.Ampere     // drawn from the full battery
	Nominal    unit.Ampere     // the same with everything at its nominal value: what a meter should show
	Capacity   unit.AmpereHour // of the new battery, at the 20 h rate
	Hours      unit.Second     // until the battery is empty or the supply takes it off
	Reached    unit.Second     // until the first load that must go on drops out; Hours when none does before
	Asked      unit.Second
	First      string    // what drops out first, before the battery's end; empty when nothing does
	FirstVolts unit.Volt // at the battery when it does
	Recharge   Recharge
	Needed     unit.AmpereHour // capacity that would last the time asked; 0 when no capacity does
	Assumed    []string
}

// Margin is how much longer everything works than is asked; negative when it is not long enough.
func (e Estimate) Margin() unit.Second { return e.Reached - e.Asked }

// Judge estimates every supply of a site, in the order of the job.
func Judge(site *situation.Site) []Estimate {
	var all []Estimate
	for _, s := range site.Plan.Job.Supplies {
		all = append(all, Of(site, s))
	}
	return all
}

// Of estimates one supply of a site.
func Of(site *situation.Site, s *job.Supply) Estimate {
	if s.Battery == nil {
		return withoutBattery(s)
	}
	is := site.Island(s.ID)
	benches := atRest(is)
	charge := rechargeOf(is, s, benches)
	onBattery(is, benches)
	return judge(site.Plan.Job, is, s, benches, charge)
}

func withoutBattery(s *job.Supply) Estimate {
	return Estimate{
		Supply: s, Asked: s.Standby, First: "no battery is fitted: everything on " + s.ID + " stops when mains is lost",
		Assumed: []string{},
	}
}

// onBattery takes mains from the benches of an island.
func onBattery(is *situation.Island, benches []*situation.Bench) {
	for _, b := range benches {
		for _, cause := range situation.Causes() {
			if cause.ID != "mains" {
				continue
			}
			for _, step := range cause.Steps(is, nil) {
				b.Take(step)
			}
		}
	}
}

// atRest makes a bench of an island for each limit case, the nominal one first.
func atRest(is *situation.Island) []*situation.Bench {
	var all []*situation.Bench
	for _, c := range is.Cases() {
		all = append(all, is.Bench(c))
	}
	return all
}

// judge discharges the battery in every limit case and keeps the worst.
func judge(j *job.Job, is *situation.Island, s *job.Supply, benches []*situation.Bench, charge Recharge) Estimate {
	e := Estimate{Supply: s, Asked: s.Standby, Capacity: capacityOf(s.Battery.Model), Recharge: charge, Assumed: assumed(j, s)}
	factor := unit.AmpereHour(ageing * coldFactor(j.Temperature.Low))
	loads := loadsOf(is, s)
	var worst course
	unsettled := ""
	for i, b := range benches {
		full := b.Save()
		t := trial{bench: b, supply: s, battery: is.Unit(s.Battery.ID), loads: loads}
		c := t.run()
		t.back(full, 0)
		if i == 0 {
			e.Nominal = c.amps[0]
		}
		if !c.settled {
			unsettled = c.inCase
		}
		if i == 0 || less(&c, &worst, e.Capacity/factor) {
			worst = c
		}
	}
	e.fill(&worst, factor)
	if unsettled != "" {
		e.Assumed = append(e.Assumed,
			"in the case "+unsettled+" the network did not come to rest at every voltage of the battery")
	}
	return e
}

// less says that everything works for less time in a than in b, or equally long but the battery for less.
func less(a, b *course, usable unit.AmpereHour) bool {
	x, y := a.reached(usable), b.reached(usable)
	return x < y || x == y && a.time(usable, a.end) < b.time(usable, b.end)
}

// fill takes the answer from a discharge. Factor is what a new battery must have more for cold and age.
func (e *Estimate) fill(c *course, factor unit.AmpereHour) {
	usable := e.Capacity / factor
	e.Case, e.Amps = c.inCase, c.amps[0]
	e.Hours = c.time(usable, c.end)
	e.Reached = c.reached(usable)
	if c.first.share < c.end || c.first.share == 0 {
		e.First, e.FirstVolts = c.first.what, c.first.volts
	}
	e.Needed = enough(c, e.Asked) * factor
}

// enough is the usable capacity with which everything works for the time asked, by halving; 0 when none does.
func enough(c *course, asked unit.Second) unit.AmpereHour {
	share := min(c.first.share, c.end)
	if share == 0 || asked <= 0 {
		return 0
	}
	var most unit.Ampere
	for _, i := range c.amps {
		most = max(most, i)
	}
	low, high := unit.AmpereHour(0), needed(most, asked, agm)/unit.AmpereHour(share)
	for range 60 {
		if middle := (low + high) / 2; c.reached(middle) < asked {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

func capacityOf(m *device.Model) unit.AmpereHour {
	for _, name := range m.PortsOf(device.Battery) {
		return m.Port(name).Capacity
	}
	return 0
}

// assumed says what an estimate rests on.
func assumed(j *job.Job, s *job.Supply) []string {
	low := j.Temperature.Low
	all := []string{
		"all doors locked, nobody passes; fail-secure locks draw nothing, and whether they still work at the end is not " +
			"shown here",
		fmt.Sprintf("battery at %v, the lowest of the job: capacity divided by %.3f (IEEE 485, table 1, base 25 C)",
			low, coldFactor(low)),
		fmt.Sprintf("battery aged to 80 %%: divided by %.2f, and no design margin on top", ageing),
		fmt.Sprintf("Peukert's law tied to the 20 h rate, exponent %.2f for valve-regulated batteries with glass mat "+
			"(from memory)", agm),
		"its voltage falls in a straight line from full to its end",
	}
	if low < tableEnd {
		all = append(all, fmt.Sprintf("%v is below the table's end of %v; its last slope was drawn on", low, tableEnd))
	}
	if terminalsOf(s.Model).Charge == 0 {
		all = append(all, "the data sheet of "+s.ID+" does not say what its charger gives: whether that is enough is not known")
	}
	if !s.StandbyStated {
		all = append(all, "no standby time is stated: "+s.Standby.String()+" was taken")
	}
	return all
}
