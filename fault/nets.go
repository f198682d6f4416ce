package fault

import (
	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

// union joins nodes: each leads to another of its net, or is the root of it.
type union map[string]string

func (u union) find(node string) string {
	for {
		up, ok := u[node]
		if !ok {
			return node
		}
		if next, ok := u[up]; ok {
			u[node] = next
		}
		node = up
	}
}

func (u union) join(a, b string) {
	if a, b = u.find(a), u.find(b); a != b {
		u[a] = b
	}
}

// nets are the nets of a finished union.
func (u union) nets() nets {
	n := make(nets, len(u))
	for node := range u {
		n[node] = u.find(node)
	}
	return n
}

// nets says which nodes are one and the same conductor: the root of each node that is not its own.
type nets map[string]string

func (n nets) root(node string) string {
	if root, ok := n[node]; ok {
		return root
	}
	return node
}

func (n nets) same(a, b string) bool { return n.root(a) == n.root(b) }

// unitNets joins what is one piece of metal inside a unit: its 0 V area, the ways of a junction, each way of a door
// loop, its bond to earth.
func unitNets(plan *wiring.Plan) union {
	u := union{}
	for _, d := range plan.Devices {
		for _, p := range d.Model.Parts(&d.Settings) {
			if isMetal(d.Model, p) {
				u.join(nodeOf(d, p.A), nodeOf(d, p.B))
			}
		}
	}
	return u
}

// planNets joins what unitNets does and, on top, what the conductors of the plan join. An earth connection that nobody
// has confirmed joins nothing: a second one is a fault where the first is not there.
func planNets(plan *wiring.Plan) union {
	u := unitNets(plan)
	for _, w := range plan.Conductors {
		if wired(w) && !w.Unsure {
			u.join(w.A.String(), w.B.String())
		}
	}
	return u
}

// mostMetal is the resistance up to which a part is a piece of metal: the bond of a unit to earth is the highest of
// them.
const mostMetal unit.Ohm = 0.1

// isMetal says that a part is a piece of metal without a duty of its own. A fuse is none, low as it is.
func isMetal(m *device.Model, p device.Part) bool {
	if p.Is != device.PartResistor || p.Winding || len(p.When) > 0 || p.Ohms > mostMetal {
		return false
	}
	port := portOf(m, p)
	return port == nil || port.Is != device.Fuse && port.Is != device.Resistor && port.Is != device.Load
}

// portOf is the port a part belongs to.
func portOf(m *device.Model, p device.Part) *device.Port {
	name, _ := device.SplitPin(p.Name)
	return m.Port(name)
}

// nodeOf is the node of a pin, or of a node inside a unit.
func nodeOf(d *wiring.Device, pin string) string {
	if pin == device.Ground {
		return device.Ground
	}
	return wiring.End{Device: d, Pin: pin}.String()
}

// wired says that both ends of a conductor are landed. A screen that ends insulated carries nothing and is in no fault.
func wired(w *wiring.Conductor) bool { return w.A.Device != nil && w.B.Device != nil }
