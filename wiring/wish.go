package wiring

import "fmt"

// wish is a join that an arrangement wants.
type wish struct {
	a, b   End
	use    Use
	colour string // of the core it would rather have; empty when any will do
	door   string
	reason Reason
	group  int     // wishes of one group are laid in one sheath, side by side
	reader *Device // it belongs to the line of this reader and is laid in the same sheath; nil for all else
	unsure bool
	feeds  *Device
}

// laid says that both ends exist, so that the wish can be laid.
func (w *wish) laid() bool { return w.a.Device != nil && w.b.Device != nil }

// pair is the plus and minus terminal of something.
type pair struct{ plus, minus End }

// join wants a and b joined. What is in a leaf is reached over the door loop: the wish then goes to the loop, and
// another one from there on.
//
// A 0 V pin that is not brought out is reached over the nearest terminal of the same 0 V. A pin that is on no terminal
// is a problem, and the wish comes to nothing.
func (p *planner) join(a, b End, use Use, why Reason) *wish {
	w := &wish{a: p.reach(a), b: p.reach(b), use: use, door: p.doorID(), reason: why, group: len(p.wishes)}
	if !w.laid() {
		return w
	}
	if over := crossing(w.a.Device, w.b.Device); over != nil {
		frame, leaf, ok := p.nextWay(over)
		if !ok {
			return w
		}
		if w.a.Device.over != nil {
			frame, leaf = leaf, frame
		}
		p.join(leaf, w.b, use, why)
		w.b = frame
		w.group = len(p.wishes)
	}
	p.wishes = append(p.wishes, w)
	return w
}

// joinPair wants both poles joined, side by side.
func (p *planner) joinPair(a, b pair, why Reason) (plus, minus *wish) {
	whyPlus, whyMinus := why, why
	whyPlus.Purpose += " +"
	whyMinus.Purpose += " -"
	plus = p.join(a.plus, b.plus, Power, whyPlus)
	minus = p.join(a.minus, b.minus, Power, whyMinus)
	plus.colour, minus.colour = plusColour, minusColour
	sideBySide(plus, minus)
	return plus, minus
}

// sideBySide makes one group of wishes.
func sideBySide(wishes ...*wish) {
	for _, w := range wishes {
		w.group = wishes[0].group
	}
}

// reach is the terminal for a pin; it has no device when there is none.
func (p *planner) reach(e End) End {
	if t := e.Device.Model.Reach(e.Pin); t != nil {
		return End{e.Device, t.Pin}
	}
	p.problem(e.Device.ID, fmt.Sprintf("%s brings %s out on no terminal", named(e.Device), e.Pin), "fit a model that does")
	return End{}
}
