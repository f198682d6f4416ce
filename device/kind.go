package device

// Kind is a family of units that behave alike. All kinds stand in Kinds; each has a file of its own.
type Kind struct {
	Name    string
	Title   string   // with article: "a magnet"
	World   []string // signals that the world sets: "pressed", "operated", "mains"
	Needs   []PortNeed
	Wakes   []string     // world signals that are on in the undisturbed state: "mains", "door-closed"
	Act     func(u Unit) // behaviour; nil when contacts follow the world's and the senses' signals directly
	Signals []string     // signals that Act sets, apart from those named after ports that it drives
	Quiet   []string     // of Signals, those that are on in the undisturbed state
	Drives  []PortType   // types of the ports whose own signal Act sets
}

// PortNeed is a port that every unit of a kind must have.
type PortNeed struct {
	Is  PortType // empty means any
	Use string   // as in Port.Use; empty means any
	Why string   // completes "a magnet needs ..."
}
