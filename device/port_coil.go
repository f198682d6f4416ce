package device

// windingParts is a winding with its built-in suppressor, of a relay or of a lock.
func windingParts(a *assembly, name string, p Port) {
	plus, minus := PinOf(name, "plus"), PinOf(name, "minus")
	a.add(Part{
		Name: PinOf(name, "winding"), Is: PartResistor, A: plus, B: minus,
		Ohms: p.Ohms, Tolerance: p.Tolerance, Winding: true, Heats: p.Heats,
	})
	switch p.Suppressor {
	case "diode":
		a.add(Part{Name: PinOf(name, "diode"), Is: PartDiode, A: minus, B: plus})
	case "clamp":
		a.add(Part{Name: PinOf(name, "clamp"), Is: PartClamp, A: plus, B: minus, Volts: p.ClampVolts})
	}
}

// coilSense is the armature of a relay. A lock has none: what holds it is judged by its current.
func coilSense(name string, p Port) (Sense, bool) {
	return Sense{
		Signal: name, A: PinOf(name, "plus"), B: PinOf(name, "minus"), On: p.PickUp, Off: p.DropOut,
		EitherWay: p.Suppressor != "diode", Winding: true, Heats: p.Heats,
	}, true
}
