package device

// contactParts is one contact. With a From it is an output with one terminal, which switches to the unit's 0 V.
func contactParts(a *assembly, name string, p Port) {
	a.add(Part{
		Name: PinOf(name, "contact"), Is: PartContact, A: PinOf(name, "a"), B: PinOf(name, "b"),
		Ohms: orDefault(p.Ohms, contactOhms),
		When: []Condition{{a.model.SignalOf(name), p.Rest != RestClosed}},
	})
	if p.From != "" {
		a.add(Part{
			Name: PinOf(name, "b"), Is: PartResistor, A: PinOf(name, "b"), B: PinOf(p.From, "minus"), Ohms: planeOhms,
		})
	}
}

// changeoverParts are the two halves of a changeover contact, which breaks before it makes.
func changeoverParts(a *assembly, name string, p Port) {
	for _, half := range []struct {
		pin string
		on  bool
	}{{"nc", false}, {"no", true}} {
		a.add(Part{
			Name: PinOf(name, half.pin+"-contact"), Is: PartContact, A: PinOf(name, "common"), B: PinOf(name, half.pin),
			Ohms: orDefault(p.Ohms, contactOhms), When: []Condition{{a.model.SignalOf(name), half.on}},
		})
	}
}
