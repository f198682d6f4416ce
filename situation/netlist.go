package situation

import (
	"doorwright/circuit"
	"doorwright/unit"
)

// NodeVolts is one node and its voltage against earth.
type NodeVolts struct {
	Name  string
	Volts unit.Volt
}

// Nodes lists every node of the island with its voltage, in the order of the devices.
func (b *Bench) Nodes() []NodeVolts {
	all := make([]NodeVolts, 0, b.net.Nodes())
	for i := range b.net.Nodes() {
		n := circuit.Node(i)
		all = append(all, NodeVolts{b.net.Name(n), b.sys.Volts(n)})
	}
	return all
}

// Netlist is the island's network at this instant as a SPICE deck: same node names, states frozen, starting voltages
// given.
func (b *Bench) Netlist(title string) string { return b.sys.Netlist(title) }
