package meter

import (
	"math"

	"doorwright/device"
	"doorwright/situation"
	"doorwright/wiring"
)

// deadLines are the resistances of the supervised input lines and of the bus pairs of an island with every source off.
// They come from the same network as the live readings, so that each contact, joint and resistor counts.
func deadLines(is *situation.Island, plan *wiring.Plan, m Meter, share float64) []Expectation {
	var sheets []sheet
	for _, p := range placesOf(is, plan) {
		sheets = append(sheets, p.lineSheets()...)
	}
	sheets = append(sheets, busSheets(is, plan)...)
	survey(is, share, sheets, allOff(is), func(b *situation.Bench, p *point) float64 {
		return float64(b.OhmsBetween(p.unit, p.pin, p.against))
	})
	var all []Expectation
	for k := range sheets {
		s := &sheets[k]
		for i := range s.points {
			if s.seen[i].known {
				all = append(all, s.expectation(i, m.line(&s.seen[i], bias(&s.points[i]))))
			}
		}
	}
	return all
}

// line makes an expectation of a pair of cores. A sound pair may leak, which lowers a high resistance; biased is what an
// idle bus driver without power may put beside the line, +Inf for none.
func (m Meter) line(s *seen, biased float64) Expectation {
	if s.nominal > float64(leastInsulation) {
		return m.open()
	}
	low := beside(beside(s.band.low, float64(leastInsulation)), biased)
	return m.reading(Ohms, s.nominal, s.band.with(low))
}

// beside is two resistances in parallel.
func beside(a, b float64) float64 {
	if math.IsInf(b, 1) {
		return a
	}
	return a * b / (a + b)
}

// allOff takes every source from an island.
func allOff(is *situation.Island) func(*situation.Bench) {
	var do []situation.Action
	for _, s := range is.Supplies {
		if s.Battery != nil {
			do = append(do, situation.Action{Device: s.Battery.ID, Signal: "connected", On: false})
		}
		do = append(do, situation.Action{Device: s.ID, Signal: "mains", On: false})
	}
	return func(b *situation.Bench) { b.Take(situation.Step{Say: "all sources off", Do: do}) }
}

// lineSheets are the supervised inputs of a door, at rest and operated. Where nobody can operate the contact without
// power, as that of a sensor, the line stands operated already.
func (p *sheetPlace) lineSheets() []sheet {
	if p.controller == nil {
		return nil
	}
	var all []sheet
	for _, in := range inputsOf(p.controller, p.landed, p.door.Channel) {
		if in.settings.Scheme == device.SchemeNone || in.settings.Scheme == "" {
			continue
		}
		pulled := "dead: its cores off"
		if in.plug != "" {
			pulled = "dead: plug " + in.plug + " pulled"
		}
		why := "end-of-line resistors and cable, read into the plug; the same with the cable cut at the device means that " +
			"the resistors sit at the wrong end"
		at := []point{{p.controller, p.door.ID, in.in, in.against, why}}
		all = append(all, sheet{say: pulled + ", nothing operated", points: at})
		for _, o := range p.operations(in.use) {
			do := o.steps[len(o.steps)-1].Do
			all = append(all, sheet{say: pulled + ", " + o.say, steps: []situation.Step{{Say: o.say, Do: do}}, points: at})
		}
	}
	return all
}

// busSheets are the bus pairs, at the controller.
func busSheets(is *situation.Island, plan *wiring.Plan) []sheet {
	landed := landings(plan)
	s := sheet{say: "dead: every unit on the line without power, plugs in"}
	for _, u := range is.Units {
		if u.Device.Role != "controller" {
			continue
		}
		for _, name := range u.Device.Model.PortsOf(device.Bus) {
			a, b := device.PinOf(name, "a"), device.PinOf(name, "b")
			if landed[u.Device.ID+"."+a] && landed[u.Device.ID+"."+b] {
				s.points = append(s.points, point{u, u.Device.Door, a, b,
					"both terminators side by side, and the cable; one missing doubles it, a third lowers it by a third"})
			}
		}
	}
	if s.points == nil {
		return nil
	}
	return []sheet{s}
}

// bias is the path from line to line over a unit's bias resistors, which join at its dead supply; +Inf for none.
func bias(p *point) float64 {
	port, pin := device.SplitPin(p.pin)
	if q := p.unit.Device.Model.Port(port); q == nil || q.Is != device.Bus || pin != "a" {
		return math.Inf(1)
	}
	path := 0.0
	for _, part := range p.unit.Device.Model.Parts(&p.unit.Device.Settings) {
		if part.Name == device.PinOf(port, "a-bias") || part.Name == device.PinOf(port, "b-bias") {
			path += float64(part.Ohms)
		}
	}
	if path == 0 {
		return math.Inf(1)
	}
	return path
}
