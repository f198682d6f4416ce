package device

// A door contact follows the leaf ("door-closed").
func doorContactKind() Kind {
	return Kind{
		Name: "door-contact", Title: "a door contact",
		World: []string{"door-closed"},
		Needs: []PortNeed{{Is: Contact, Use: "contact", Why: "a contact"}},
		Wakes: []string{"door-closed"},
	}
}

// A sounder makes noise while it has power.
func sounderKind() Kind {
	return Kind{
		Name: "sounder", Title: "a sounder",
		Needs: []PortNeed{{Is: Load, Why: "a feed to sound on"}},
	}
}

// A relay moves its contacts by its coil.
func relayKind() Kind {
	return Kind{
		Name: "relay", Title: "a relay",
		Needs: []PortNeed{{Is: Coil, Why: "a coil"}},
	}
}

// A fire interface is the fire alarm's contact, closed while there is no alarm and its line is whole ("fire",
// "line-lost").
func fireInterfaceKind() Kind {
	return Kind{
		Name: "fire-interface", Title: "a fire interface",
		World:   []string{"fire", "line-lost"},
		Needs:   []PortNeed{{Use: "fire", Why: "a contact that opens on fire"}},
		Act:     func(u Unit) { u.Set("healthy", !u.Signal("fire") && !u.Signal("line-lost")) },
		Signals: []string{"healthy"},
		Quiet:   []string{"healthy"},
	}
}
