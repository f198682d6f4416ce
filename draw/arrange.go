package draw

import (
	"cmp"
	"slices"
)

// sides decides on which side of its box each wire leaves.
func (g *diagram) sides() {
	load := make([]int, len(g.columns)+1) // wires in each channel
	var inside []*wire
	for _, w := range g.wires {
		if w.b == nil {
			continue
		}
		a, b := w.a.row.box.group.column.index, w.b.row.box.group.column.index
		switch {
		case a < b:
			w.a.side, w.b.side = right, left
		case a > b:
			w.a.side, w.b.side = left, right
		default:
			inside = append(inside, w)
			continue
		}
		load[w.a.channel()]++
		load[w.b.channel()]++
	}
	for _, w := range inside {
		c := w.a.row.box.group.column
		w.a.side = g.inner(c, load)
		w.b.side = w.a.side
		load[w.a.channel()]++
	}
	for _, w := range g.wires {
		if w.b == nil {
			w.a.side = g.inner(w.a.row.box.group.column, load)
		}
	}
	for _, w := range g.wires {
		for _, p := range w.pins() {
			p.row.pins[p.side] = append(p.row.pins[p.side], p)
		}
	}
}

// inner is the side on which a wire between two devices of one column goes: towards the middle, and in the middle where
// less goes already.
func (g *diagram) inner(c *column, load []int) int {
	middle := slices.IndexFunc(g.columns, func(c *column) bool { return c.middle })
	switch {
	case c.index < middle:
		return right
	case c.index > middle:
		return left
	case load[c.index] < load[c.index+1]:
		return left
	}
	return right
}

func (w *wire) pins() []*pin {
	if w.b == nil {
		return []*pin{w.a}
	}
	return []*pin{w.a, w.b}
}

// pack gives rows, boxes and groups their places, one below the other in their order.
func (g *diagram) pack() {
	for _, c := range g.columns {
		at := 0
		for _, gr := range c.groups {
			gr.pack()
			gr.steps = at
			at += gr.high + 2
		}
	}
}

// pack gives the boxes of a group their places in it.
func (gr *group) pack() {
	at := gr.head
	for i, b := range gr.boxes {
		if i > 0 {
			at++
			if gr.boxes[i-1].torn {
				at++
			}
		}
		b.steps = at
		at = b.head
		for _, r := range b.rows {
			r.steps = at
			at += r.high()
		}
		at += b.steps
	}
	gr.high = at + 1
}

// order puts boxes and groups in the order in which wires cross least. It starts from the order of the plan and only
// changes neighbours where that clearly helps, so that a detail that changes leaves the rest as it was.
func (g *diagram) order() {
	best := g.tried()
	for range 8 {
		before := best
		for _, c := range g.columns {
			best = improve(c.groups, best, g.tried)
			for _, gr := range c.groups {
				best = improve(gr.boxes, best, g.tried)
			}
		}
		best = g.flip(best)
		if best >= before {
			return
		}
	}
}

// flip takes wires between two devices of the middle to the other side where that helps.
func (g *diagram) flip(best int) int {
	for _, w := range g.wires {
		if w.b == nil || w.a.row.box.group.column != w.b.row.box.group.column || !w.a.row.box.group.column.middle {
			continue
		}
		w.turn()
		if c := g.tried(); c < best {
			best = c
			continue
		}
		w.turn()
		g.tried()
	}
	return best
}

// turn takes a wire to the other side of its column.
func (w *wire) turn() {
	for _, p := range w.pins() {
		r := p.row
		r.pins[p.side] = slices.DeleteFunc(r.pins[p.side], func(q *pin) bool { return q == p })
		p.side = 1 - p.side
		r.pins[p.side] = append(r.pins[p.side], p)
	}
}

// tried is the cost after something was moved.
func (g *diagram) tried() int {
	g.pack()
	g.align()
	g.slots()
	return g.cost()
}

// improve moves each item of a list to the place where the cost is least.
func improve[T any](list []T, best int, cost func() int) int {
	for i := range list {
		item, at := i, i
		for to := range list {
			move(list, item, to)
			item = to
			if c := cost(); c < best {
				best, at = c, to
			}
		}
		move(list, item, at)
		cost()
	}
	return best
}

// move takes one item of a list to another place.
func move[T any](list []T, from, to int) {
	item := list[from]
	copy(list[from:], list[from+1:])
	copy(list[to+1:], list[to:len(list)-1])
	list[to] = item
}

// align moves the groups of the outer columns towards what they are wired to, keeping their order, but no lower than the
// highest column reaches.
func (g *diagram) align() {
	middle := slices.IndexFunc(g.columns, func(c *column) bool { return c.middle })
	lowest := 0
	for _, c := range g.columns {
		if n := len(c.groups); n > 0 {
			lowest = max(lowest, c.groups[n-1].steps+c.groups[n-1].high)
		}
	}
	for out := 1; out < len(g.columns); out++ {
		for _, i := range []int{middle - out, middle + out} {
			if i >= 0 && i < len(g.columns) {
				g.alignColumn(g.columns[i], lowest)
			}
		}
	}
}

// alignColumn gives each group the place where its wires pull it least, pools of groups that touch moving as one, and the
// last ends no lower than lowest.
func (g *diagram) alignColumn(c *column, lowest int) {
	type pool struct {
		first, count int
		pull, weight int // pull is the sum of wanted beginnings of the first group
		high         int
	}
	var pools []pool
	for i, gr := range c.groups {
		pull, weight := gr.pull()
		if weight == 0 {
			weight, pull = 1, gr.steps
		}
		p := pool{i, 1, pull, weight, gr.high + 2}
		for len(pools) > 0 {
			last := pools[len(pools)-1]
			if max(0, last.pull/last.weight)+last.high <= max(0, p.pull/p.weight) {
				break
			}
			p = pool{last.first, last.count + p.count, last.pull + p.pull - p.weight*last.high, last.weight + p.weight, last.high + p.high}
			pools = pools[:len(pools)-1]
		}
		pools = append(pools, p)
	}
	at := 0
	for _, p := range pools {
		at = max(at, p.pull/p.weight)
		for _, gr := range c.groups[p.first : p.first+p.count] {
			gr.steps = at
			at += gr.high + 2
		}
	}
	for _, gr := range slices.Backward(c.groups) {
		gr.steps = min(gr.steps, lowest-gr.high)
		lowest = gr.steps - 2
	}
}

// pull is the sum of the places that the wires want the group at, and how many there are.
func (gr *group) pull() (sum, count int) {
	for _, b := range gr.boxes {
		for _, r := range b.rows {
			for _, pins := range r.pins {
				for _, p := range pins {
					if o := p.other(); o != nil && o.row.box.group.column != gr.column {
						sum += o.step() - (p.step() - gr.steps)
						count++
					}
				}
			}
		}
	}
	return sum, count
}

// other is the pin at the other end of the wire; nil for none.
func (p *pin) other() *pin {
	if p == p.wire.a {
		return p.wire.b
	}
	return p.wire.a
}

// slots orders the pins that share a terminal by where they go.
func (g *diagram) slots() {
	for _, c := range g.columns {
		for _, gr := range c.groups {
			for _, b := range gr.boxes {
				for _, r := range b.rows {
					for _, pins := range r.pins {
						slices.SortStableFunc(pins, func(p, q *pin) int { return cmp.Compare(p.goal(), q.goal()) })
						for i, p := range pins {
							p.slot = i
						}
					}
				}
			}
		}
	}
}

// goal is where a wire goes from a pin, for the order of pins on one terminal.
func (p *pin) goal() int {
	o := p.other()
	switch {
	case o == nil:
		return 1 << 20
	case o.row.box.group.column == p.row.box.group.column: // back to the same column: outermost of those that go that way
		if o.step() < p.step() {
			return -1<<10 - o.step()
		}
		return 1<<10 - o.step()
	}
	return o.step()
}

// cost is what an order is judged by: crossings that no choice of tracks can avoid, and the length of the wires.
func (g *diagram) cost() int {
	const crossing = 12 // steps of length that one crossing is worth
	ends := make([][4]int, len(g.wires))
	total := 0
	for i, w := range g.wires {
		if w.b == nil {
			ends[i] = [4]int{w.a.channel(), -1}
			continue
		}
		a, b := w.a, w.b
		if a.side == left && b.side == right {
			a, b = b, a
		}
		ends[i] = [4]int{a.channel(), b.channel(), a.step(), b.step()}
		total += max(ends[i][2]-ends[i][3], ends[i][3]-ends[i][2])
	}
	for i, w := range g.wires {
		if w.b == nil {
			continue
		}
		for j := range i {
			v := g.wires[j]
			if v.b == nil || ends[i][0] != ends[j][0] || ends[i][1] != ends[j][1] {
				continue
			}
			total += crossing * meet(ends[i], ends[j], w.a.side == w.b.side, w.a.side, v.a.side == v.b.side, v.a.side)
		}
	}
	return total
}

// meet is 1 where two wires of one channel must cross: two that go across in opposite order, one that goes back and one
// that starts between its ends, or two that go back and interleave.
func meet(v, w [4]int, vBack bool, vSide int, wBack bool, wSide int) int {
	switch {
	case !vBack && !wBack:
		if (v[2] < w[2]) != (v[3] < w[3]) {
			return 1
		}
	case vBack && wBack:
		if vSide == wSide && between(v, w[2]) != between(v, w[3]) {
			return 1
		}
	case vBack:
		if between(v, w[2+vSideEnd(vSide)]) {
			return 1
		}
	default:
		if between(w, v[2+vSideEnd(wSide)]) {
			return 1
		}
	}
	return 0
}

// vSideEnd is which end of a wire that goes across shares the edge with one that goes back: the first end is on the left
// edge of the channel, where pins are on the right side of their boxes.
func vSideEnd(side int) int {
	if side == right {
		return 0
	}
	return 1
}

func between(w [4]int, step int) bool { return step > min(w[2], w[3]) && step < max(w[2], w[3]) }
