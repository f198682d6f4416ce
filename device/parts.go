package device

import "doorwright/unit"

// assembly gathers the parts of one unit.
type assembly struct {
	model    *Model
	settings *Settings
	parts    []Part
}

func (a *assembly) add(p Part) { a.parts = append(a.parts, p) }

// running is the condition that the unit has power; none for a unit that needs none.
func (a *assembly) running() []Condition {
	if r := a.model.Running(); r != "" {
		return []Condition{{r, true}}
	}
	return nil
}

// Parts are the circuit parts of a unit of this model with these settings, in the order of its ports. Nil settings are
// zero settings.
func (m *Model) Parts(s *Settings) []Part {
	if s == nil {
		s = &Settings{}
	}
	a := &assembly{model: m, settings: s}
	for _, e := range m.Ports {
		shape, ok := shapeOf(e.Value.Is)
		if ok && shape.parts != nil {
			shape.parts(a, e.Key, e.Value)
		}
	}
	a.plane()
	return a.parts
}

// Senses are the signals of a unit of this model that follow a voltage, in the order of its ports. Each is named after
// its port, that of a fuse as LineSignal has it.
func (m *Model) Senses() []Sense {
	var senses []Sense
	for _, e := range m.Ports {
		shape, ok := shapeOf(e.Value.Is)
		if !ok || shape.sense == nil {
			continue
		}
		if s, ok := shape.sense(e.Key, e.Value); ok {
			senses = append(senses, s)
		}
	}
	return senses
}

// plane joins the 0 V pins of the unit to those of its feed: a real unit has one 0 V area.
func (a *assembly) plane() {
	base := a.model.planeBase()
	for _, e := range a.model.Ports {
		pin, ok := planePin(e.Key, e.Value)
		if ok && pin != base {
			a.add(Part{Name: pin, Is: PartResistor, A: pin, B: base, Ohms: planeOhms})
		}
	}
}

// planePin is the pin of a port that lies on the unit's 0 V area.
func planePin(name string, p Port) (string, bool) {
	shape, ok := shapeOf(p.Is)
	if !ok || shape.plane == "" || p.Is == Battery && p.From == "" {
		return "", false
	}
	return PinOf(name, shape.plane), true
}

// planeBase is the pin that all other 0 V pins join: that of the first load, else of the first source, else the first.
func (m *Model) planeBase() string {
	for _, is := range []PortType{Load, Source} {
		if names := m.PortsOf(is); len(names) > 0 {
			return PinOf(names[0], "minus")
		}
	}
	for _, e := range m.Ports {
		if pin, ok := planePin(e.Key, e.Value); ok {
			return pin
		}
	}
	return ""
}

func (m *Model) onPlane(full string) bool {
	port, _ := SplitPin(full)
	p := m.Port(port)
	if p == nil {
		return false
	}
	pin, ok := planePin(port, *p)
	return ok && pin == full
}

// orDefault is v, or the default where v is not given.
func orDefault[T ~float64](v, standIn T) T {
	if v == 0 {
		return standIn
	}
	return v
}

// windowed is the voltage at which a load with this window certainly stops, and starts.
func windowed(p Port) (off, on unit.Volt) {
	on = orDefault(p.Restart, p.Window.Low)
	off = orDefault(p.CutOff, p.Window.Low*cutOffShare)
	return min(off, on), on
}
