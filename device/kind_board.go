package device

// A distribution board hands power on through outputs of its own and takes some of them away on the fire signal. A
// board whose outputs are switched by electronics can hang ("hung"); relay contacts in the fire line's own circuit
// cannot. While it has power and all its fuses are whole, it tells so ("healthy").
func boardKind() Kind {
	return Kind{
		Name: "board", Title: "a distribution board",
		World: []string{"hung"},
		Needs: []PortNeed{
			{Is: Load, Why: "a feed to hand on"},
			{Is: Output, Why: "outputs"},
		},
		Act:     boardAct,
		Signals: []string{"healthy"},
		Quiet:   []string{"healthy"},
		Drives:  []PortType{Output},
	}
}

// boardAct releases outputs while the fire input is anything but closed, and keeps those that latch released until the
// reset input is closed with the fire input healthy. In the step in which it comes up it reads no input yet, so that a
// fire interface that comes up with it latches nothing.
func boardAct(u Unit) {
	m, mem := u.Model(), u.Memory()
	outputs := m.PortsOf(Output)
	up := u.Signal(m.Running())
	switch {
	case !up:
		*mem = Memory{}
	case !mem.Started:
		mem.Started, up = true, false
	}
	fire, reset := up && boardFire(u), up && boardReset(u)
	for i, name := range outputs {
		p := m.Port(name)
		if i >= MaxOutputs || p.Driven == "" || up && p.By == ByElectronics && u.Signal("hung") {
			continue
		}
		u.Set(p.Driven, up && !released(&mem.Latched[i], outputSettings(u, i), fire, reset))
	}
	u.Set("healthy", u.Signal(m.Running()) && !anyBlown(u))
}

// anyBlown says that a fuse of the unit has opened.
func anyBlown(u Unit) bool {
	m := u.Model()
	for i := range m.Ports {
		if m.Ports[i].Value.Fused() > 0 && u.Signal(LineSignal(m.Ports[i].Key, FuseBlown)) {
			return true
		}
	}
	return false
}

// What switches an output, as in Port.By.
const (
	ByContact     = "contact"
	ByElectronics = "electronics"
)

// released follows the latch of one output.
func released(latched *bool, s OutputSettings, fire, reset bool) bool {
	switch {
	case !s.Releases:
		*latched = false
	case fire:
		*latched = s.Latches
	case reset:
		*latched = false
	}
	return *latched || s.Releases && fire
}

func outputSettings(u Unit, i int) OutputSettings {
	if s := u.Settings(); s != nil && i < len(s.Outputs) {
		return s.Outputs[i]
	}
	return OutputSettings{}
}

// boardFire says whether any fire input of the board is not closed.
func boardFire(u Unit) bool {
	return anyInput(u, "fire", func(l Level) bool { return l != Closed })
}

func boardReset(u Unit) bool {
	return anyInput(u, "reset", func(l Level) bool { return l == Closed })
}

// anyInput says whether any input of that use reads so.
func anyInput(u Unit, use string, so func(Level) bool) bool {
	m := u.Model()
	for i := range m.Ports {
		p := &m.Ports[i].Value
		if p.Is == Input && p.Use == use && so(u.Reading(m.Ports[i].Key).Level) {
			return true
		}
	}
	return false
}
