package circuit

import "doorwright/unit"

// The setters change values and never the pattern: an Analysis made before serves after. A System takes new values with
// Load.

// SetOhms changes the resistance of a resistor, a closed contact, a source or a supply.
func (n *Network) SetOhms(e Element, r unit.Ohm) {
	el := &n.elements[e]
	n.notNegative(el.name, "resistance in ohms", float64(r))
	if s, ok := el.law.(*supply); ok {
		spec := s.spec
		spec.Ohms = r
		el.law = newSupply(spec)
		return
	}
	n.mustBeLinear(el, "resistance")
	el.ohms = float64(r)
}

// SetVolts changes the voltage of a source or a supply.
func (n *Network) SetVolts(e Element, v unit.Volt) {
	el := &n.elements[e]
	if s, ok := el.law.(*supply); ok {
		n.positive(el.name, "voltage in volts", float64(v))
		spec := s.spec
		spec.Volts = v
		el.law = newSupply(spec)
		return
	}
	n.known(el.name, "voltage in volts", float64(v))
	n.mustBeLinear(el, "voltage")
	el.emf = float64(v)
}

// SetLimit changes the current limit and the short-circuit current of a supply.
func (n *Network) SetLimit(e Element, limit, short unit.Ampere) {
	el := &n.elements[e]
	s, ok := el.law.(*supply)
	if !ok {
		n.problem("element %q has no current limit to set", el.name)
		return
	}
	spec := s.spec
	spec.Limit, spec.Short = limit, short
	n.positive(el.name, "current limit in amperes", float64(limit))
	if !(short >= 0 && short <= limit) {
		n.problem("element %q: its short-circuit current %v is not between zero and its limit %v", el.name, short, limit)
	}
	el.law = newSupply(spec)
}

// SetCurrent changes the current of a constant-current load.
func (n *Network) SetCurrent(e Element, i unit.Ampere) {
	el := &n.elements[e]
	l, ok := el.law.(currentLoad)
	if !ok {
		n.problem("element %q is not a constant-current load", el.name)
		return
	}
	n.notNegative(el.name, "current in amperes", float64(i))
	l.amperes = float64(i)
	el.law = l
}

// SetPower changes the power of a constant-power load.
func (n *Network) SetPower(e Element, p unit.Watt) {
	el := &n.elements[e]
	l, ok := el.law.(powerLoad)
	if !ok {
		n.problem("element %q is not a constant-power load", el.name)
		return
	}
	n.notNegative(el.name, "power in watts", float64(p))
	l.watts = float64(p)
	el.law = l
}

// SetThresholds changes where a sense turns on and off.
func (n *Network) SetThresholds(s Sense, on, off unit.Volt) {
	n.senses[s].On, n.senses[s].Off = on, off
	n.checkThresholds(n.senses[s])
}

func (n *Network) mustBeLinear(el *element, what string) {
	if el.law != nil {
		n.problem("element %q has no %s to set", el.name, what)
	}
}
