package meter

import (
	"fmt"
	"math"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// Volts per cell of a battery that is called full: from the first minutes under a small load to just off the charger
// (rested full 12.8 V to 13.0 V for six cells; 12.6 V under load; common practice, no source).
const (
	cellLoaded  unit.Volt = 12.6 / 6
	cellCharged unit.Volt = 13.0 / 6
)

// stray is what leakage and pick-up may leave on open cores of a sound door (common practice, no source).
const stray = 0.02

// voltage makes an expectation of a voltage. What the meter's input and a sound cable's leakage draw lowers it by the
// share that the source's resistance takes.
func (m Meter) voltage(_ *point, s *seen) Expectation {
	z := float64(s.source)
	loaded := divided(z, float64(m.InputOhms))
	leaky := divided(z, beside(float64(m.InputOhms), float64(leastInsulation)))
	b := s.band.with(s.band.low * leaky).with(s.band.high * leaky)
	e := m.reading(Volts, s.nominal*loaded, band{b.low - stray, b.high + stray})
	if loaded < 1-negligible {
		e.Why = fmt.Sprintf("; the meter itself pulls this down by %.1f %%", 100*(1-loaded))
	}
	return e
}

// negligible is the share of a reading below which the meter's own load is not worth a word.
const negligible = 0.001

// divided is what is left of a voltage behind z when r draws on it.
func divided(z, r float64) float64 {
	if math.IsInf(r, 1) {
		return 1
	}
	return r / (r + z)
}

// charge sets the batteries to the end of "full" that goes with the limit case.
func charge(is *situation.Island, b *situation.Bench) {
	each, _ := situation.CellVolts()
	switch {
	case b.Case.Supply < 0:
		each = cellLoaded
	case b.Case.Supply > 0:
		each = cellCharged
	}
	for _, s := range is.Supplies {
		if s.Battery != nil {
			b.SetCells(is.Unit(s.Battery.ID), each)
		}
	}
}

// liveSheets are the conditions of an island: nothing happens, mains lost, fire, then door by door.
func liveSheets(is *situation.Island, doors []*sheetPlace, landed map[string]bool) []sheet {
	idle := sheet{say: "nothing happens, doors locked"}
	lost, fire := sheet{}, sheet{moved: true}
	lost.say, lost.steps = cause(is, nil, "mains")
	lost.say += ", battery full"
	fire.say, fire.steps = cause(is, nil, "fire")
	for _, u := range is.Units {
		idle.points = append(idle.points, alwaysRead(u, true)...)
		lost.points = append(lost.points, alwaysRead(u, false)...)
	}
	for _, p := range doors {
		idle.points = append(idle.points, p.locks("the door is locked")...)
		idle.points = append(idle.points, p.inputs("", "pull-up against the line with its contact at rest")...)
		lost.points = append(lost.points, p.locks("the door is locked, on battery")...)
		fire.points = append(fire.points, p.locks("the fire signal takes the power from the lock")...)
	}
	for _, u := range is.Units {
		if u.Device.Role == job.RoleBoard {
			idle.points = append(idle.points, boardInputs(u, landed)...)
			fire.points = append(fire.points, boardInputs(u, landed)...)
		}
	}
	sheets := []sheet{idle, lost}
	if fire.steps != nil {
		sheets = append(sheets, fire)
	}
	for _, p := range doors {
		sheets = append(sheets, p.doorSheets()...)
	}
	return sheets
}

// doorSheets are the conditions of one door.
func (p *sheetPlace) doorSheets() []sheet {
	var all []sheet
	add := func(id string, points []point) {
		if say, steps := cause(p.island, p.door, id); steps != nil {
			all = append(all, sheet{say: say, steps: steps, points: points})
		}
	}
	granted := p.locks("the lock relay has changed over")
	if p.door.Interpose != nil {
		relay := p.island.Unit(p.door.Interpose.ID)
		granted = append(granted, pairs(relay, p.door.ID, device.Coil, "its coil is in the lock relay's circuit")...)
	}
	add("granted", granted)
	add("release", p.locks("the release has taken the power from the lock"))
	for _, use := range []string{"exit", "contact", "aux"} {
		for _, o := range p.operations(use) {
			points := p.inputs(use, "pull-up against the line with its contact moved")
			all = append(all, sheet{say: o.say, steps: o.steps, moved: true, points: points})
		}
	}
	return all
}

func boardInputs(u *situation.Unit, landed map[string]bool) []point {
	var all []point
	for _, in := range inputsOf(u, landed, 0) {
		all = append(all, point{u, "", in.in, in.against, "pull-up against the fire contact"})
	}
	return all
}

// alwaysRead are the terminals of a unit that are read with nothing happening, data lines only with mains: supplies,
// batteries under load, whatever has a supply input or a relay coil, and data lines at the reader.
func alwaysRead(u *situation.Unit, idle bool) []point {
	d := u.Device
	switch d.Role {
	case job.RoleSupply:
		return pairs(u, "", device.Source, "the supply's output under its load")
	case job.RoleBattery:
		if idle {
			return nil // what stands there is the charging voltage, which is not calculated
		}
		return pairs(u, "", device.Battery, "the battery under its load")
	case job.RoleSounder:
		return nil
	}
	all := pairs(u, d.Door, device.Load, "the supply of this unit at its own terminals")
	all = append(all, pairs(u, d.Door, device.Coil, "the coil of this relay")...)
	if idle {
		all = append(all, dataLines(u)...)
	}
	return all
}

// dataLines are the idle data lines of a reader.
func dataLines(u *situation.Unit) []point {
	var all []point
	add := func(name, pin, against, why string) {
		m := u.Device.Model
		a, b := m.Reach(device.PinOf(name, pin)), m.Reach(device.PinOf(name, against))
		if a != nil && b != nil {
			all = append(all, point{u, u.Device.Door, a.Pin, b.Pin, why})
		}
	}
	if u.Device.Role != job.RoleEntry && u.Device.Role != job.RoleExitReader {
		return nil
	}
	for _, e := range u.Device.Model.Ports {
		switch e.Value.Is {
		case device.PulseOut:
			add(e.Key, "d0", "common", "idle: the controller's pull-up holds the line high")
			add(e.Key, "d1", "common", "idle: the controller's pull-up holds the line high")
		case device.SerialPort:
			add(e.Key, "tx", "common", "idle: this unit marks, negative")
			add(e.Key, "rx", "common", "idle: the controller marks, negative")
		case device.Bus:
			add(e.Key, "a", "b", "idle: the bias holds b above a; while units talk the reading jumps")
		}
	}
	return all
}
