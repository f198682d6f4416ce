package device

import "doorwright/unit"

// loadParts is what takes power: a converter (watts), a regulator (amps) or a plain resistor. It is off below its
// cut-off and takes nothing in reverse.
func loadParts(a *assembly, name string, p Port) {
	part := Part{
		Name: PinOf(name, "draw"), A: PinOf(name, "plus"), B: PinOf(name, "minus"),
		Tolerance: p.Tolerance, When: []Condition{{name, true}},
	}
	part.Knee, _ = windowed(p)
	switch {
	case p.Watts > 0:
		part.Is, part.Watts = PartPower, p.Watts
	case p.Amps > 0:
		part.Is, part.Amps = PartCurrent, p.Amps
	default:
		part.Is, part.Ohms, part.Knee = PartResistor, p.Ohms, 0
	}
	a.add(part)
	if more := p.Peak - p.drawn(); more > 0 {
		a.add(Part{
			Name: PinOf(name, "surge"), Is: PartCurrent, A: part.A, B: part.B, Amps: more, Knee: part.Knee,
			When: []Condition{{name, true}, {LineSignal(name, Peaks), true}},
		})
	}
}

// Peaks is the world signal, see LineSignal, by which a load draws its highest short current: a reader that lights and
// sounds while it talks.
const Peaks = "peaks"

// drawn is what a load draws at its rated voltage.
func (p Port) drawn() unit.Ampere {
	switch {
	case p.Watts > 0 && p.Nominal > 0:
		return unit.Ampere(float64(p.Watts) / float64(p.Nominal))
	case p.Ohms > 0:
		return unit.Ampere(float64(p.Nominal) / float64(p.Ohms))
	}
	return p.Amps
}

func loadSense(name string, p Port) (Sense, bool) {
	off, on := windowed(p)
	return Sense{Signal: name, A: PinOf(name, "plus"), B: PinOf(name, "minus"), On: on, Off: off}, true
}

// outputParts hands power on from another port of the unit, through a current limit or a fuse, and a switch when it has
// one.
func outputParts(a *assembly, name string, p Port) {
	part := Part{
		Name: PinOf(name, "pass"), Is: PartLimiter, A: PinOf(p.From, "plus"), B: PinOf(name, "plus"),
		Ohms: orDefault(p.Ohms, outputOhms), Limit: p.Limit, Short: p.Limit,
	}
	if p.Driven != "" {
		part.When = []Condition{{p.Driven, p.Rest != RestClosed}}
	}
	if p.Fused() > 0 {
		part.Is, part.Ohms, part.When = PartResistor, fuseOhms(&p), append(part.When, whole(name))
	}
	a.add(part)
}

// sourceParts is a mains-fed supply: its voltage behind its regulation, limited, folding back when Short says so.
func sourceParts(a *assembly, name string, p Port) {
	a.add(Part{
		Name: PinOf(name, "supply"), Is: PartLimited, A: PinOf(name, "plus"), B: PinOf(name, "minus"),
		Volts: p.Float, Spread: p.Spread, Ohms: orDefault(p.Ohms, sourceOhms),
		Limit: p.Limit, Short: orDefault(p.Short, p.Limit), When: []Condition{{"mains", true}},
	})
}

// batteryParts is either the battery itself, or the terminals of a supply for it. A supply puts its battery on the
// output when mains is lost, until the battery is flat: with mains the battery neither feeds nor draws. That leaves out
// the help of a battery on an overloaded output, which would be for the better, and the charging current, which is not: a
// supply near its limit may fold back while it charges.
func batteryParts(a *assembly, name string, p Port) {
	if p.From != "" {
		a.add(Part{
			Name: PinOf(name, "transfer"), Is: PartContact, A: PinOf(name, "plus"), B: PinOf(p.From, "plus"),
			Ohms: orDefault(p.Ohms, transferOhms), When: []Condition{{"mains", false}, {signalBatteryPath, true}},
		})
		return
	}
	a.add(Part{
		Name: PinOf(name, "cells"), Is: PartBattery, A: PinOf(name, "plus"), B: PinOf(name, "minus"),
		Cells: p.Cells, Ohms: p.Ohms, When: []Condition{{"connected", true}},
	})
}

// batterySense says that a supply sees a battery that is not flat.
func batterySense(name string, p Port) (Sense, bool) {
	return Sense{
		Signal: name, A: PinOf(name, "plus"), B: PinOf(name, "minus"), On: p.Dropped * reconnectShare, Off: p.Dropped,
	}, p.From != ""
}
