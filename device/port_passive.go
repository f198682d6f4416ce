package device

import "strconv"

func resistorParts(a *assembly, name string, p Port) {
	a.add(Part{
		Name: PinOf(name, "resistor"), Is: PartResistor, A: PinOf(name, "a"), B: PinOf(name, "b"),
		Ohms: p.Ohms, Tolerance: p.Tolerance,
	})
}

func diodeParts(a *assembly, name string, _ Port) {
	a.add(Part{Name: PinOf(name, "diode"), Is: PartDiode, A: PinOf(name, "anode"), B: PinOf(name, "cathode")})
}

func clampParts(a *assembly, name string, p Port) {
	a.add(Part{Name: PinOf(name, "clamp"), Is: PartClamp, A: PinOf(name, "a"), B: PinOf(name, "b"), Volts: p.ClampVolts})
}

func barParts(a *assembly, name string, p Port) {
	pins := barPins(p)
	for i := 1; i < len(pins); i++ {
		a.add(Part{
			Name: PinOf(name, "bar-"+strconv.Itoa(i)), Is: PartResistor,
			A: PinOf(name, pins[i-1]), B: PinOf(name, pins[i]), Ohms: barOhms,
		})
	}
}

func throughParts(a *assembly, name string, p Port) {
	for i := 1; i <= p.Ways; i++ {
		way := strconv.Itoa(i)
		a.add(Part{
			Name: PinOf(name, "way-"+way), Is: PartResistor, A: PinOf(name, way+"a"), B: PinOf(name, way+"b"),
			Ohms: orDefault(p.Ohms, loopOhms),
		})
	}
}

// earthParts bonds the earth terminal of a unit to earth, through its enclosure.
func earthParts(a *assembly, name string, _ Port) {
	a.add(Part{Name: PinOf(name, "bond"), Is: PartResistor, A: PinOf(name, "earth"), B: Ground, Ohms: earthOhms})
}
