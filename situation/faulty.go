package situation

import (
	"fmt"
	"slices"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
)

// altered is what a fault makes of the settings of a unit.
type altered struct {
	settings *device.Settings
	inputs   []input
}

// settings are those of a unit, as a fault has altered them.
func (b *Bench) settings(u *Unit) *device.Settings {
	if a, ok := b.inputs[u]; ok {
		return a.settings
	}
	return &u.Device.Settings
}

func (b *Bench) isNear(u *Unit) bool { return b.near == nil || b.near[u.index] }

// Has says that every conductor, part and node that a fault is about is of this island.
func (is *Island) Has(f *fault.Fault) bool {
	is.bind()
	for i := range f.Edits {
		e := &f.Edits[i]
		if e.Conductor != nil && is.wireOf(e.Conductor.ID) == nil || e.Device != nil && is.byID[e.Device.ID] == nil {
			return false
		}
		for _, name := range []string{e.A, e.B} {
			if name != "" && name != device.Ground && !is.hasNode(name) {
				return false
			}
		}
	}
	return true
}

// FaultyBench makes a bench of the island with a fault in it, which came while everything was at rest. The fault is a
// part of the network: this is slow, and what every quicker way is held against.
func (is *Island) FaultyBench(c Case, f *fault.Fault) *Bench {
	return is.Bench(c).With(f)
}

// With is a bench of its own that stands where b stands, with a fault in its network that came just now. A bench takes
// one fault; fault.Both makes one of several.
func (b *Bench) With(f *fault.Fault) *Bench { return b.spoil(f, nil) }

// spoil is a bench of its own that stands where b stands, with a fault in its network; nil for none. It may take over a
// system that nobody uses any more; nil for none.
func (b *Bench) spoil(f *fault.Fault, old *circuit.System) *Bench {
	if f == nil {
		return b.twin(old)
	}
	if joins(f) {
		return b.joined(f)
	}
	t := b.twin(old)
	t.fault, t.stale = f, true
	t.impose(f)
	t.settle()
	return t
}

// joined is such a bench where the fault brings elements along: its network is analysed anew.
func (b *Bench) joined(f *fault.Fault) *Bench {
	t := b.copied()
	t.fault = f
	t.net = t.net.Clone()
	t.insert(f)
	t.sys = circuit.Analyse(t.net).System(t.net)
	t.solver, t.stale = t.sys, true
	t.sys.Follow(b.sys)
	t.impose(f)
	t.setBatteries(b.batteryEnd)
	t.settle()
	return t
}

// joins says that a fault brings elements along.
func joins(f *fault.Fault) bool {
	return slices.ContainsFunc(f.Edits, func(e fault.Edit) bool { return e.Op == fault.Join || e.Op == fault.Inject })
}

// insert adds what a fault joins to the network.
func (b *Bench) insert(f *fault.Fault) {
	for i := range f.Edits {
		e := &f.Edits[i]
		name := fmt.Sprintf("fault-%d", i+1)
		switch e.Op {
		case fault.Join:
			b.net.Resistor(name, b.nodeNamed(e.A), b.nodeNamed(e.B), e.Ohms)
		case fault.Inject:
			b.net.LimitedSource(name, b.nodeNamed(e.A), b.nodeNamed(e.B), foreign(e), circuit.Gate{})
		}
	}
}

func foreign(e *fault.Edit) circuit.LimitedSource {
	return circuit.LimitedSource{Volts: e.Volts, Ohms: e.Ohms, Limit: e.Limit, Short: e.Limit}
}

func (is *Island) hasNode(name string) bool {
	_, ok := is.base.Find(name)
	return ok
}

func (b *Bench) nodeNamed(name string) circuit.Node {
	if name == device.Ground {
		return circuit.Earth
	}
	return b.net.Node(name)
}

// impose puts everything of a fault into the bench that needs no new element.
func (b *Bench) impose(f *fault.Fault) {
	for i := range f.Edits {
		e := &f.Edits[i]
		switch e.Op {
		case fault.Resist:
			if w := b.island.wireOf(e.Conductor.ID); w != nil {
				b.sys.AlterOhms(w.element, e.Ohms)
			}
		case fault.Gate:
			if el, ok := b.island.partOf(e.Device.ID, e.Part); ok {
				b.sys.Force(el, e.On)
			}
		case fault.Scale:
			if el, ok := b.island.partOf(e.Device.ID, e.Part); ok {
				b.sys.Scale(el, e.Factor)
			}
		case fault.Force:
			b.hold(e)
		case fault.Configure:
			b.configure(e)
		}
	}
}

// rescale puts what a fault makes of batteries into them again after they were set.
func (b *Bench) rescale(f *fault.Fault) {
	for i := range f.Edits {
		e := &f.Edits[i]
		if e.Op != fault.Scale {
			continue
		}
		if p, ok := b.island.partAt(e.Device.ID, e.Part); ok && p.part.Is == device.PartBattery {
			b.sys.Scale(p.element, e.Factor)
		}
	}
}

// lift takes a fault out again; what was held stays where it is.
func (b *Bench) lift(f *fault.Fault) {
	for i := range f.Edits {
		e := &f.Edits[i]
		switch e.Op {
		case fault.Resist:
			if w := b.island.wireOf(e.Conductor.ID); w != nil {
				b.sys.Repair(w.element)
			}
		case fault.Gate, fault.Scale:
			if el, ok := b.island.partOf(e.Device.ID, e.Part); ok {
				b.sys.Repair(el)
			}
		}
	}
}

// hold keeps a signal where a fault holds it.
func (b *Bench) hold(e *fault.Edit) {
	u := b.island.byID[e.Device.ID]
	if u == nil {
		return
	}
	for _, i := range u.slots {
		if s := &b.island.slots[i]; s.name == e.Signal && !s.senses {
			if b.forced == nil {
				b.forced = make([]bool, len(b.island.slots))
			}
			b.put(i, e.On)
			b.forced[i] = true
		}
	}
}

// configure gives a unit other settings: its inputs then tell levels apart by these.
func (b *Bench) configure(e *fault.Edit) {
	u := b.island.byID[e.Device.ID]
	if u == nil {
		return
	}
	a := &altered{settings: e.Settings}
	for _, in := range u.inputs {
		port := u.Device.Model.Port(in.port)
		in.expects = e.Settings.Input(port)
		in.levels = device.Levels(*port, in.expects)
		a.inputs = append(a.inputs, in)
	}
	if b.inputs == nil {
		b.inputs = map[*Unit]*altered{}
	}
	b.inputs[u] = a
}

// wireOf is the conductor of an id at the bench, nil when it is not of this island.
func (is *Island) wireOf(id string) *Wire {
	i, ok := is.wireAt[id]
	if !ok {
		return nil
	}
	return &is.wires[i]
}

// partOf is the element of a part of a unit.
func (is *Island) partOf(id, part string) (circuit.Element, bool) {
	p, ok := is.partAt(id, part)
	return p.element, ok
}

// partAt is a part of a unit with its element; false when this island does not have it.
func (is *Island) partAt(id, part string) (partAt, bool) {
	u := is.byID[id]
	if u == nil {
		return partAt{}, false
	}
	for _, p := range u.parts {
		if p.part.Name == part {
			return p, true
		}
	}
	return partAt{}, false
}
