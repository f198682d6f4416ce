package device

// Small parts without behaviour, world or settings.

func fuseKind() Kind {
	return Kind{Name: "fuse", Title: "a fuse", Needs: []PortNeed{{Is: Fuse, Why: "a link"}}}
}

func resistorKind() Kind {
	return Kind{Name: "resistor", Title: "a resistor", Needs: []PortNeed{{Is: Resistor, Why: "a resistance"}}}
}

func diodeKind() Kind {
	return Kind{Name: "diode", Title: "a diode", Needs: []PortNeed{{Is: Diode, Why: "a junction"}}}
}

func clampKind() Kind {
	return Kind{Name: "clamp", Title: "a voltage clamp", Needs: []PortNeed{{Is: Clamp, Why: "a clamp"}}}
}

func junctionKind() Kind {
	return Kind{Name: "junction", Title: "junction terminals", Needs: []PortNeed{{Is: Bar, Why: "joined ways"}}}
}

func doorLoopKind() Kind {
	return Kind{Name: "door-loop", Title: "a door loop", Needs: []PortNeed{{Is: Through, Why: "ways through"}}}
}
