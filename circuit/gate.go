package circuit

// Gate says when an element is on: when all its conditions hold. The zero Gate is always on.
//
//	circuit.When(mains)                          // while the switch mains is on
//	circuit.Unless(coil)                         // a normally closed contact of a relay
//	circuit.When(mains).And(circuit.When(fresh)) // both
//	circuit.When(power).And(circuit.When(output)).Not() // the normally closed contact of a driven relay
type Gate struct {
	all      []condition
	inverted bool
}

// condition is a switch or a sense that has to be on, or off when negated.
type condition struct {
	index   int32
	sense   bool
	negated bool
}

// Condition is what a gate can depend on.
type Condition interface{ Switch | Sense }

// When is on while c is on.
func When[C Condition](c C) Gate {
	_, sense := any(c).(Sense)
	return Gate{all: []condition{{index: int32(c), sense: sense}}}
}

// Unless is on while c is off.
func Unless[C Condition](c C) Gate {
	g := When(c)
	g.all[0].negated = true
	return g
}

// And is on while g and all of the others are on. The negation of several conditions (Not) cannot be combined further.
func (g Gate) And(others ...Gate) Gate {
	var all []condition
	for _, o := range append([]Gate{g}, others...) {
		if o.inverted {
			panic("circuit: Gate.And on the negation of several conditions; negate last")
		}
		all = append(all, o.all...)
	}
	return Gate{all: all}
}

// Not is on while g is off.
func (g Gate) Not() Gate {
	if len(g.all) == 1 && !g.inverted {
		c := g.all[0]
		c.negated = !c.negated
		return Gate{all: []condition{c}}
	}
	return Gate{all: g.all, inverted: !g.inverted}
}

// holds evaluates the gate for the given switches and senses.
func (g Gate) holds(switches, senses []bool) bool {
	for _, c := range g.all {
		state := false
		if c.sense {
			state = senses[c.index]
		} else {
			state = switches[c.index]
		}
		if state == c.negated {
			return g.inverted
		}
	}
	return !g.inverted
}
