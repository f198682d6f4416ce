package situation

import (
	"doorwright/circuit"
	"doorwright/unit"
)

// NodeVolts is one node and its voltage against earth.
type NodeVolts struct {
	Name  string
	Volts unit.Volt
	// Behind is the resistance the node stands behind, as a meter between it and earth would see it: of a node behind
	// more than some megohms a meter shows ghosts.
	Behind unit.Ohm
	// Floats says that nothing but leaks joins the node to earth: an unused contact, or a supply whose 0 V is not earthed
	// and all that hangs on it.
	Floats bool
}

// Nodes lists every node of the island with its voltage, in the order of the devices.
func (b *Bench) Nodes() []NodeVolts {
	b.present()
	floats := map[circuit.Node]bool{}
	for _, part := range b.island.analysis.Floating() {
		for _, n := range part {
			floats[n] = true
		}
	}
	all := make([]NodeVolts, 0, b.net.Nodes())
	for i := range b.net.Nodes() {
		n := circuit.Node(i)
		all = append(all, NodeVolts{b.net.Name(n), b.sys.Volts(n), b.sys.Impedance(n, circuit.Earth), floats[n]})
	}
	return all
}

// Netlist is the island's network at this instant as a SPICE deck: same node names, states frozen, starting voltages
// given.
func (b *Bench) Netlist(title string) string { return b.sys.Netlist(title) }

// Balance checks the present solution by the laws of Kirchhoff and of energy.
func (b *Bench) Balance() circuit.Balance { return b.sys.Balance() }
