package journal

import (
	"strings"

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

// CoreOf is a conductor of a plan by value.
func CoreOf(c *wiring.Conductor) Core {
	core := Core{ID: c.ID, A: c.A.Device.ID, ATo: c.A.Pin, Colour: c.Core.Colour, For: c.Reason.Purpose}
	if c.B.Device != nil {
		core.B, core.BTo = c.B.Device.ID, c.B.Pin
	}
	return core
}

// CoresOf lists the conductors of a plan that have two ends.
func CoresOf(p *wiring.Plan) []Core {
	var all []Core
	for _, c := range p.Conductors {
		if c.B.Device != nil {
			all = append(all, CoreOf(c))
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

// Name is how the core is found on site: by its run, number and colour; a lead or link by what it is.
func (c Core) Name() string {
	if kind, _, ok := strings.Cut(c.ID, ":"); ok {
		return kind
	}
	return strings.TrimSpace(c.ID + " " + c.Colour)
}

// Way names the core and its two ends as they are labelled in a plan.
func (c Core) Way(p *wiring.Plan) string { return c.Name() + " " + c.Ends(p) }

// Ends names the two ends of the core as they are labelled in a plan.
func (c Core) Ends(p *wiring.Plan) string {
	return "from " + endName(p, c.A, c.ATo) + " to " + endName(p, c.B, c.BTo)
}

// endName is a terminal as it is labelled; without a plan, or where the plan has no such device, it stays what it is called.
func endName(p *wiring.Plan, id, pin string) string {
	if p != nil {
		if d := p.Device(id); d != nil {
			return wiring.End{Device: d, Pin: pin}.Name()
		}
	}
	return id + " " + pin
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
