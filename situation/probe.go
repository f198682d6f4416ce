package situation

import (
	"math"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

// Probe is one port of a unit that has a rating or a window: where its current flows and its voltage stands.
type Probe struct {
	Unit     *Unit
	PortName string
	Port     *device.Port
	element  circuit.Element
}

// Amps is the size of the current through a probe now.
func (b *Bench) Amps(p *Probe) unit.Ampere {
	return unit.Ampere(math.Abs(float64(b.sys.Current(p.element))))
}

// Across is the voltage over a probe now: plus against minus, or a against b.
func (b *Bench) Across(p *Probe) unit.Volt {
	plus, minus := b.net.Ends(p.element)
	return b.sys.Volts(plus) - b.sys.Volts(minus)
}

// Probes lists the ports of some types, one probe for each circuit part in which their current flows, in the order of
// the units.
func (is *Island) Probes(types ...device.PortType) []Probe {
	is.bind()
	return is.probes(types...)
}

func (is *Island) probes(types ...device.PortType) []Probe {
	var all []Probe
	for _, u := range is.Units {
		for _, at := range u.parts {
			name, what := device.SplitPin(at.part.Name)
			p := u.Device.Model.Port(name)
			if p == nil || !hasType(types, p.Is) || !carries(p.Is, what) {
				continue
			}
			all = append(all, Probe{u, name, p, at.element})
		}
	}
	return all
}

func hasType(types []device.PortType, is device.PortType) bool {
	for _, t := range types {
		if t == is {
			return true
		}
	}
	return false
}

// carries says whether the part what of a port is the one its current flows in, and not a suppressor or a receiver.
func carries(is device.PortType, what string) bool {
	switch is {
	case device.Contact:
		return what == "contact"
	case device.Changeover:
		return what == "nc-contact" || what == "no-contact"
	case device.Coil, device.LockCoil:
		return what == "winding"
	case device.Load:
		return what == "draw"
	case device.Output:
		return what == "pass"
	case device.Source:
		return what == "supply"
	case device.Battery:
		return what == "transfer" || what == "cells"
	}
	return true
}

// Wire is a conductor at the bench.
type Wire struct {
	Conductor *wiring.Conductor
	element   circuit.Element
}

// Wires lists the conductors of the island.
func (is *Island) Wires() []Wire {
	is.bind()
	return is.wires
}

// WireAmps is the size of the current in a conductor now.
func (b *Bench) WireAmps(w *Wire) unit.Ampere {
	return unit.Ampere(math.Abs(float64(b.sys.Current(w.element))))
}

// Cut opens a conductor and settles. Uncut joins it again.
func (b *Bench) Cut(w *Wire) {
	b.alter(w, circuit.OpenOhms)
	b.settle()
}

// Uncut joins a conductor that was cut. The state is what it came to; go back to a saved one to start afresh.
func (b *Bench) Uncut(w *Wire) {
	b.alter(w, conductorOhms(w.Conductor, b.Case))
}

func (b *Bench) alter(w *Wire, r unit.Ohm) {
	b.sys.AlterOhms(w.element, r)
	b.stale = true
}

// Runs says that a unit has the power it needs.
func (b *Bench) Runs(u *Unit) bool {
	running := u.Device.Model.Running()
	return running == "" || b.Signal(u, running)
}

// Culprits names the parts that kept the network from a good operating point: loads that collapsed, senses that
// alternate.
func (b *Bench) Culprits() []string {
	var names []string
	for _, e := range b.outcome.Circuit.Collapsed {
		names = append(names, b.net.ElementName(e))
	}
	for _, s := range b.outcome.Circuit.Alternating {
		names = append(names, b.net.SenseName(s))
	}
	return names
}
