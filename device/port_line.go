package device

// inputParts is the pull-up of an input: a reference behind a resistance, which is there while the unit runs.
func inputParts(a *assembly, name string, p Port) { a.pullUp(name, "in", p) }

// pullUp is a reference voltage behind the pull-up resistance, between a pin and the port's common.
func (a *assembly) pullUp(name, pin string, p Port) {
	a.add(Part{
		Name: PinOf(name, pin+"-pull-up"), Is: PartSource, A: PinOf(name, pin), B: PinOf(name, "common"),
		Volts: p.Reference, Ohms: p.PullUp, Tolerance: p.Tolerance, When: a.running(),
	})
}

func pulseInParts(a *assembly, name string, p Port) {
	a.pullUp(name, "d0", p)
	a.pullUp(name, "d1", p)
}

// pulseOutParts are the two open-collector outputs of a pulse reader.
func pulseOutParts(a *assembly, name string, p Port) {
	for _, line := range []struct{ pin, send string }{{"d0", sendZero}, {"d1", sendOne}} {
		pin, common := PinOf(name, line.pin), PinOf(name, "common")
		a.add(Part{
			Name: PinOf(name, line.pin+"-switch"), Is: PartContact, A: pin, B: common,
			Ohms: orDefault(p.Ohms, openCollectorOhms),
			When: append(a.running(), Condition{LineSignal(name, line.send), true}),
		})
		a.add(Part{Name: PinOf(name, line.pin+"-leak"), Is: PartResistor, A: pin, B: common, Ohms: dataLeakOhms})
	}
}

// serialParts is a TIA-232 driver, which marks (negative) until told to send a space, and a receiver.
func serialParts(a *assembly, name string, _ Port) {
	tx, rx, common := PinOf(name, "tx"), PinOf(name, "rx"), PinOf(name, "common")
	space := LineSignal(name, sendSpace)
	a.add(Part{
		Name: PinOf(name, "mark"), Is: PartSource, A: common, B: tx, Volts: serialDriver, Ohms: serialDriverOhms,
		When: append(a.running(), Condition{space, false}),
	})
	a.add(Part{
		Name: PinOf(name, "space"), Is: PartSource, A: tx, B: common, Volts: serialDriver, Ohms: serialDriverOhms,
		When: append(a.running(), Condition{space, true}),
	})
	a.add(Part{Name: PinOf(name, "receiver"), Is: PartResistor, A: rx, B: common, Ohms: serialReceiverOhms})
}

// busParts is a TIA-485 transceiver with its terminator and bias. A mark makes b the more positive line.
func busParts(a *assembly, name string, p Port) {
	lineA, lineB, common := PinOf(name, "a"), PinOf(name, "b"), PinOf(name, "common")
	for _, d := range []struct{ send, plus, minus string }{{sendMark, lineB, lineA}, {sendSpace, lineA, lineB}} {
		a.add(Part{
			Name: PinOf(name, d.send), Is: PartSource, A: d.plus, B: d.minus, Volts: busDriver, Ohms: busDriverOhms,
			When: append(a.running(), Condition{LineSignal(name, d.send), true}),
		})
	}
	a.add(Part{Name: PinOf(name, "a-receiver"), Is: PartResistor, A: lineA, B: common, Ohms: busReceiverOhms})
	a.add(Part{Name: PinOf(name, "b-receiver"), Is: PartResistor, A: lineB, B: common, Ohms: busReceiverOhms})
	if p.Terminator && a.settings.Terminator {
		a.add(Part{Name: PinOf(name, "terminator"), Is: PartResistor, A: lineA, B: lineB, Ohms: busTerminatorOhms})
	}
	if p.Bias {
		a.add(Part{
			Name: PinOf(name, "b-bias"), Is: PartSource, A: lineB, B: common, Volts: busBias, Ohms: busBiasOhms,
			When: a.running(),
		})
		a.add(Part{Name: PinOf(name, "a-bias"), Is: PartResistor, A: lineA, B: common, Ohms: busBiasOhms})
	}
}
