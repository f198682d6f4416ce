package circuit

import (
	"math"

	"doorwright/unit"
)

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (n *Network) add(e element) Element {
	n.claim("element", e.name)
	n.checkEnds("element", e.name, e.a, e.b)
	for _, c := range e.gate.all {
		if c.sense && int(c.index) >= len(n.senses) || !c.sense && int(c.index) >= len(n.switches) || c.index < 0 {
			n.problem("element %q is gated by a switch or sense that this network does not have", e.name)
		}
	}
	n.elements = append(n.elements, e)
	return Element(len(n.elements) - 1)
}

// positive checks a figure of an element that has to be above zero.
func (n *Network) positive(name, what string, v float64) {
	if !(v > 0) || !finite(v) {
		n.problem("element %q: its %s is %g; it has to be above zero", name, what, v)
	}
}

// notNegative checks a figure of an element that may be zero.
func (n *Network) notNegative(name, what string, v float64) {
	if !(v >= 0) || !finite(v) {
		n.problem("element %q: its %s is %g; it cannot be negative", name, what, v)
	}
}

func (n *Network) known(name, what string, v float64) {
	if !finite(v) {
		n.problem("element %q: its %s is %g; it has to be a number", name, what, v)
	}
}

// Resistor adds a resistance between a and b.
func (n *Network) Resistor(name string, a, b Node, r unit.Ohm) Element {
	return n.Contact(name, a, b, r, Gate{})
}

// Contact adds a resistance between a and b that is closed while g is on and has OpenOhms otherwise.
func (n *Network) Contact(name string, a, b Node, closed unit.Ohm, g Gate) Element {
	n.notNegative(name, "resistance in ohms", float64(closed))
	return n.add(element{name: name, a: a, b: b, gate: g, ohms: float64(closed)})
}

// Source adds a voltage v behind a resistance r. It is open while g is off.
func (n *Network) Source(name string, plus, minus Node, v unit.Volt, r unit.Ohm, g Gate) Element {
	n.known(name, "voltage in volts", float64(v))
	n.notNegative(name, "resistance in ohms", float64(r))
	return n.add(element{name: name, a: plus, b: minus, gate: g, ohms: float64(r), emf: float64(v)})
}

// LimitedSource describes a supply: Volts behind Ohms, at most Limit. With Short below Limit the limit folds back in a
// straight line to Short at 0 V. It never takes current: its rectifier blocks.
type LimitedSource struct {
	Volts        unit.Volt
	Ohms         unit.Ohm
	Limit, Short unit.Ampere
}

// LimitedSource adds a supply. It is open while g is off.
func (n *Network) LimitedSource(name string, plus, minus Node, s LimitedSource, g Gate) Element {
	n.positive(name, "voltage in volts", float64(s.Volts))
	n.notNegative(name, "resistance in ohms", float64(s.Ohms))
	n.positive(name, "current limit in amperes", float64(s.Limit))
	n.notNegative(name, "short-circuit current in amperes", float64(s.Short))
	if s.Short > s.Limit {
		n.problem("element %q: its short-circuit current %v is above its limit %v", name, s.Short, s.Limit)
	}
	return n.add(element{name: name, a: plus, b: minus, gate: g, law: newSupply(s)})
}

// DiodeModel describes a junction: i = Saturation (exp(v/Slope) - 1). Slope is the ideality factor times the thermal
// voltage.
type DiodeModel struct {
	Saturation unit.Ampere
	Slope      unit.Volt
}

// Diode adds a junction that conducts from anode to cathode.
func (n *Network) Diode(name string, anode, cathode Node, m DiodeModel) Element {
	n.positive(name, "saturation current in amperes", float64(m.Saturation))
	n.positive(name, "slope in volts", float64(m.Slope))
	return n.add(element{name: name, a: anode, b: cathode, law: newDiode(m)})
}

// ClampModel describes a voltage clamp (varistor): Volts at 1 mA, and the exponent of the current's rise.
type ClampModel struct {
	Volts    unit.Volt
	Exponent float64
}

// Clamp adds a clamp, which works both ways.
func (n *Network) Clamp(name string, a, b Node, m ClampModel) Element {
	n.positive(name, "voltage at 1 mA in volts", float64(m.Volts))
	if !(m.Exponent >= 1) || !finite(m.Exponent) {
		n.problem("element %q: its exponent is %g; it has to be 1 or more", name, m.Exponent)
	}
	return n.add(element{name: name, a: a, b: b, law: newClamp(m)})
}

// ConstantCurrent adds a load that takes i at and above the knee and gently less below it, nothing in reverse. It is
// open while g is off.
func (n *Network) ConstantCurrent(name string, plus, minus Node, i unit.Ampere, knee unit.Volt, g Gate) Element {
	n.notNegative(name, "current in amperes", float64(i))
	n.positive(name, "knee in volts", float64(knee))
	return n.add(element{name: name, a: plus, b: minus, gate: g, law: currentLoad{float64(i), float64(knee)}})
}

// ConstantPower adds a load that takes the power p at and above the knee, is a resistor below it and takes nothing in
// reverse. It is open while g is off; an under-voltage cut-off is a sense in g.
func (n *Network) ConstantPower(name string, plus, minus Node, p unit.Watt, knee unit.Volt, g Gate) Element {
	n.notNegative(name, "power in watts", float64(p))
	n.positive(name, "knee in volts", float64(knee))
	return n.add(element{name: name, a: plus, b: minus, gate: g, law: powerLoad{float64(p), float64(knee)}})
}
