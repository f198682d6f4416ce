package device

// An exit button asks the controller to open ("pressed").
func exitButtonKind() Kind {
	return Kind{
		Name: "exit-button", Title: "an exit button",
		World: []string{"pressed"},
		Needs: []PortNeed{{Use: "exit", Why: "a contact for the exit request"}},
	}
}

// An exit motion sensor holds its relay in while it works and sees nobody, so that its failure asks to open as a person
// does ("sees").
func exitSensorKind() Kind {
	return Kind{
		Name: "exit-sensor", Title: "an exit motion sensor",
		World:   []string{"sees"},
		Needs:   []PortNeed{{Is: Load, Why: "a feed to run on"}, {Use: "exit", Why: "a contact for the exit request"}},
		Act:     func(u Unit) { u.Set("clear", u.Signal(u.Model().Running()) && !u.Signal("sees")) },
		Signals: []string{"clear"},
		Quiet:   []string{"clear"},
	}
}

// A manual release takes the power from the lock by hand, whatever the electronics do ("operated").
func releaseKind() Kind {
	return Kind{
		Name: "release", Title: "a manual release",
		World: []string{"operated"},
		Needs: []PortNeed{{Is: Contact, Use: "release", Why: "a contact that breaks the feed of the lock"}},
	}
}

// A key switch lets an authorised person reset what has latched ("turned"). It springs back.
func keySwitchKind() Kind {
	return Kind{
		Name: "key-switch", Title: "a key switch",
		World: []string{"turned"},
		Needs: []PortNeed{{Is: Contact, Use: "reset", Why: "a contact to reset with"}},
	}
}
