package situation

import (
	"slices"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
)

// near says which units of an island act when one door is looked at alone: those of the door, its controller and the
// other doors of that, and what supplies and releases several doors. The others stand
// still: they move neither it nor, but for their load, its supply.
func (is *Island) near(d *job.Door) []bool {
	all := make([]bool, len(is.Units))
	siblings := map[string]bool{"": true}
	for _, e := range is.Doors {
		siblings[e.ID] = e.Controller == d.Controller
	}
	for i, u := range is.Units {
		if u.Device.Model.Kind != "controller" {
			all[i] = siblings[u.Device.Door]
			continue
		}
		all[i] = u.Device.ID == d.Controller.ID
	}
	return all
}

// nodesNear are the nodes of what acts near a door, of its conductors and of those that end there.
func (is *Island) nodesNear(near []bool, door string) []circuit.Node {
	var nodes []circuit.Node
	for i, u := range is.Units {
		if !near[i] || u.passive() {
			continue
		}
		for _, p := range u.parts {
			a, b := is.base.Ends(p.element)
			nodes = append(nodes, a, b)
		}
		for _, in := range u.inputs {
			nodes = append(nodes, in.in, in.common)
		}
	}
	touched := map[circuit.Node]bool{}
	for _, v := range nodes {
		touched[v] = true
	}
	for i := range is.wires {
		w := is.wires[i].Conductor
		feeds := w.Feeds != nil && near[is.byID[w.Feeds.ID].index] // what feeds a controller can be taken away
		if a, b := is.base.Ends(is.wires[i].element); touched[a] || touched[b] || feeds || w.Door == door {
			nodes = append(nodes, a, b)
		}
	}
	return nodes
}

// passive says that nothing in a unit moves or bends: junction terminals. Those that several doors share grow with the
// number of doors, and are looked at only where something near the door ends at them.
func (u *Unit) passive() bool {
	return len(u.slots) == 0 && (u.kind == nil || u.kind.Act == nil) && u.Device.Door == ""
}

// nodesOf are the nodes a fault is about.
func (is *Island) nodesOf(f *fault.Fault) []circuit.Node {
	var nodes []circuit.Node
	ends := func(e circuit.Element) {
		a, b := is.base.Ends(e)
		nodes = append(nodes, a, b)
	}
	for i := range f.Edits {
		e := &f.Edits[i]
		switch e.Op {
		case fault.Resist:
			if w := is.wireOf(e.Conductor.ID); w != nil {
				ends(w.element)
			}
		case fault.Gate, fault.Scale:
			if el, ok := is.partOf(e.Device.ID, e.Part); ok {
				ends(el)
			}
		case fault.Join, fault.Inject:
			for _, name := range []string{e.A, e.B} {
				if v, ok := is.base.Find(name); ok {
					nodes = append(nodes, v)
				}
			}
		case fault.Force, fault.Configure:
			if u := is.byID[e.Device.ID]; u != nil {
				for _, p := range u.parts {
					ends(p.element)
				}
			}
		}
	}
	slices.Sort(nodes)
	return slices.Compact(nodes)
}

// nodeOf is the node of a name.
func (is *Island) nodeOf(name string) circuit.Node {
	if name == device.Ground {
		return circuit.Earth
	}
	v, _ := is.base.Find(name)
	return v
}
