package fault

import (
	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

// nets says which nodes are one and the same conductor, as a union of nodes.
type nets map[string]string

func (n nets) root(node string) string {
	for {
		up, ok := n[node]
		if !ok {
			return node
		}
		if next, ok := n[up]; ok {
			n[node] = next
		}
		node = up
	}
}

func (n nets) join(a, b string) {
	if a, b = n.root(a), n.root(b); a != b {
		n[a] = b
	}
}

func (n nets) same(a, b string) bool { return n.root(a) == n.root(b) }

// unitNets joins what is one piece of metal inside a unit: its 0 V area, the ways of a junction, each way of a door
// loop, its bond to earth.
func unitNets(plan *wiring.Plan) nets {
	n := nets{}
	for _, d := range plan.Devices {
		for _, p := range d.Model.Parts(&d.Settings) {
			if isMetal(d.Model, p) {
				n.join(nodeOf(d, p.A), nodeOf(d, p.B))
			}
		}
	}
	return n
}

// planNets joins what unitNets does and, on top, what the conductors of the plan join. An earth connection that nobody
// has confirmed joins nothing: a second one is a fault where the first is not there.
func planNets(plan *wiring.Plan) nets {
	n := unitNets(plan)
	for _, w := range plan.Conductors {
		if wired(w) && !w.Unsure {
			n.join(w.A.String(), w.B.String())
		}
	}
	return n
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
