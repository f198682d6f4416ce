package meter

import (
	"math"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
)

// deadSheets are the supervised input lines and the bus pairs of an island, read with every source off. They come from
// the same network as the live readings, so that each contact, joint and resistor counts.
func deadSheets(is *situation.Island, doors []*sheetPlace, landed map[string]bool) []sheet {
	var sheets []sheet
	for _, p := range doors {
		sheets = append(sheets, p.lineSheets()...)
	}
	return append(sheets, busSheets(is, landed)...)
}

// line makes an expectation of a pair of cores. A sound pair may leak, and the bias resistors of a unit without power
// may lie beside a bus: both lower the resistance.
func (m Meter) line(p *point, s *seen) Expectation {
	if s.nominal > float64(leastInsulation) {
		return m.open()
	}
	low := beside(beside(s.band.low, float64(leastInsulation)), bias(p))
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
func allOff(is *situation.Island) situation.Step {
	s := situation.Step{Say: "all sources off"}
	for _, ps := range is.Supplies {
		if ps.Battery != nil {
			s.Do = append(s.Do, situation.Action{Device: ps.Battery.ID, Signal: "connected", On: false})
		}
		s.Do = append(s.Do, situation.Action{Device: ps.ID, Signal: "mains", On: false})
	}
	return s
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
			do := situation.Step{Say: o.say, Do: o.steps[len(o.steps)-1].Do}
			all = append(all, sheet{say: pulled + ", " + o.say, steps: []situation.Step{do}, points: at, moved: true})
		}
	}
	return all
}

// busSheets are the bus pairs, at the controller.
func busSheets(is *situation.Island, landed map[string]bool) []sheet {
	s := sheet{say: "dead: every unit on the line without power, plugs in"}
	for _, u := range is.Units {
		if u.Device.Role != job.RoleController {
			continue
		}
		for _, name := range u.Device.Model.PortsOf(device.Bus) {
			a, b := device.PinOf(name, "a"), device.PinOf(name, "b")
			if landed[u.Device.ID+"."+a] && landed[u.Device.ID+"."+b] {
				s.points = append(s.points, point{
					u, u.Device.Door, a, b,
					"both terminators side by side, and the cable; one missing doubles it, a third lowers it by a third",
				})
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
