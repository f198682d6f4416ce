package journal

import (
	"fmt"

	"doorwright/wiring"
)

// Core is one conductor of a plan, by value: what was given to site stays readable when the plan is another.
type Core struct {
	ID     string // permanent
	A, ATo string // device, pin
	B, BTo string
	Colour string
	For    string // what it is
}

// CoresOf lists the conductors of a plan that have two ends.
func CoresOf(p *wiring.Plan) []Core {
	var all []Core
	for _, c := range p.Conductors {
		if c.B.Device != nil {
			all = append(all, Core{c.ID, c.A.Device.ID, c.A.Pin, c.B.Device.ID, c.B.Pin, c.Core.Colour, c.Reason.Purpose})
		}
	}
	return all
}

// same says that two are the same core on the same two terminals.
func (c Core) same(o Core) bool {
	return c.ID == o.ID && c.Colour == o.Colour && c.A == o.A && c.ATo == o.ATo && c.B == o.B && c.BTo == o.BTo
}

// end is device and pin of one of the two ends, by its node name.
func (c Core) end(node string) (device, pin string) {
	if node == c.A+"."+c.ATo {
		return c.A, c.ATo
	}
	return c.B, c.BTo
}

func (c Core) String() string {
	return fmt.Sprintf("%s %s from %s.%s to %s.%s", c.ID, c.Colour, c.A, c.ATo, c.B, c.BTo)
}

// Difference is what a new plan changes of one that was issued.
type Difference struct {
	Added, Removed []Core
	Moved          [][2]Core // as issued, and as it would be
}

// Compare tells what a new plan changes.
func Compare(issued, present []Core) Difference {
	var d Difference
	was := map[string]Core{}
	for _, c := range issued {
		was[c.ID] = c
	}
	is := map[string]bool{}
	for _, c := range present {
		is[c.ID] = true
		old, ok := was[c.ID]
		switch {
		case !ok:
			d.Added = append(d.Added, c)
		case !old.same(c):
			d.Moved = append(d.Moved, [2]Core{old, c})
		}
	}
	for _, c := range issued {
		if !is[c.ID] {
			d.Removed = append(d.Removed, c)
		}
	}
	return d
}

// None says that nothing changes.
func (d Difference) None() bool { return len(d.Added)+len(d.Removed)+len(d.Moved) == 0 }
