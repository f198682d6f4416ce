package device

// A magnet holds the leaf by its pull alone, while it has current.
func magnetKind() Kind {
	return Kind{
		Name: "magnet", Title: "a magnet",
		Needs: []PortNeed{{Is: LockCoil, Why: "a winding"}},
	}
}

// A strike is a keeper that lets the latch of a mechanical lock pass.
func strikeKind() Kind {
	return Kind{
		Name: "strike", Title: "a strike",
		Needs: []PortNeed{{Is: LockCoil, Why: "a winding"}},
	}
}

// A bolt is thrown or drawn by a solenoid.
func boltKind() Kind {
	return Kind{
		Name: "bolt", Title: "a bolt",
		Needs: []PortNeed{{Is: LockCoil, Why: "a winding"}},
	}
}

// An electrified lock switches its outside handle; the inside handle always opens and has a contact that says it was
// turned ("handle").
func handleLockKind() Kind {
	return Kind{
		Name: "handle-lock", Title: "an electrified lock",
		World: []string{"handle"},
		Needs: []PortNeed{{Is: LockCoil, Why: "a winding"}},
	}
}
