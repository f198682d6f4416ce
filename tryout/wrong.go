package tryout

import (
	"fmt"
	"strings"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/wiring"
)

// alteration makes a fault of the text of one alteration. It errs when the plan has no such thing.
func (t *Try) alteration(text string) (*fault.Fault, error) {
	verb, rest, _ := strings.Cut(text, " ")
	switch verb {
	case "cut":
		for _, c := range t.site.Plan.Conductors {
			if c.ID == rest {
				return cutOf(c), nil
			}
		}
		return nil, fmt.Errorf("%q: the plan has no conductor %q", text, rest)
	case "join":
		return t.join(text, strings.Fields(rest))
	}
	for _, door := range []string{t.door.ID, ""} {
		all := t.faults.Of(door)
		for i := range all {
			if all[i].ID == text {
				return &all[i], nil
			}
		}
	}
	return nil, fmt.Errorf("%q: write an id of show faults, cut and a conductor, or join and two terminals", text)
}

func cutOf(c *wiring.Conductor) *fault.Fault {
	return &fault.Fault{
		ID: "cut " + c.ID, Class: fault.Open, Door: c.Door, Name: c.ID + " is cut", Where: fmt.Sprintf("%v to %v", c.A, c.B),
		Edits: []fault.Edit{{Op: fault.Resist, Conductor: c, Ohms: circuit.OpenOhms}}, At: []*wiring.Conductor{c},
	}
}

func (t *Try) join(text string, nodes []string) (*fault.Fault, error) {
	if len(nodes) != 2 || nodes[0] == nodes[1] {
		return nil, fmt.Errorf("%q: name two different terminals, such as join C1.lock1.nc C1.feed.plus", text)
	}
	for _, n := range nodes {
		if !t.hasTerminal(n) {
			return nil, fmt.Errorf("%q: the plan has no terminal %q", text, n)
		}
	}
	return &fault.Fault{
		ID: text, Class: fault.Bridge, Name: nodes[0] + " and " + nodes[1] + " are bridged", Where: nodes[0] + " to " + nodes[1],
		Edits: []fault.Edit{{Op: fault.Join, A: nodes[0], B: nodes[1], Ohms: fault.BridgeOhms}},
	}, nil
}

// hasTerminal says that a node is a terminal of a device of the plan, or earth.
func (t *Try) hasTerminal(node string) bool {
	if node == device.Ground {
		return true
	}
	for _, d := range t.site.Plan.Devices {
		if pin, ok := strings.CutPrefix(node, d.ID+"."); ok && d.Model.Reach(pin) != nil {
			return true
		}
	}
	return false
}

// all makes one fault of all alterations; nil for none.
func (t *Try) all(wrong []string) (*fault.Fault, error) {
	var whole *fault.Fault
	for _, text := range wrong {
		f, err := t.alteration(text)
		switch {
		case err != nil:
			return nil, err
		case whole == nil:
			whole = f
		default:
			whole = fault.Both(whole, f)
		}
	}
	return whole, nil
}
