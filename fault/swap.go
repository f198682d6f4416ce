package fault

import (
	"fmt"

	"doorwright/job"
	"doorwright/wiring"
)

// swaps lists two conductors landed each on the other's terminal: any two cores of one run, and the conductors of two
// neighbours on a strip. Cores swapped at one end of a run and at the other end are the same circuit, so that both are
// one fault. Where the two terminals are one piece of metal, nothing changes and there is no fault.
func (c *lister) swaps() {
	for _, run := range c.runs {
		c.runSwaps(run)
	}
	for _, d := range c.devices {
		c.stripSwaps(d)
	}
}

func (c *lister) runSwaps(run *job.Run) {
	cores := c.cores[run]
	for i, v := range cores {
		for _, w := range cores[i+1:] {
			v1, v2 := endAt(v, run.From), endAt(v, run.To)
			w1, w2 := endAt(w, run.From), endAt(w, run.To)
			if !c.mine(v, w) || c.metal.same(v1.String(), w1.String()) || c.metal.same(v2.String(), w2.String()) {
				continue
			}
			c.put(Fault{
				ID: fmt.Sprintf("swap:%s/%d+%d", run.ID, v.Core.Index, w.Core.Index), Class: Swap,
				Name:  fmt.Sprintf("%s and %s are swapped at one end", NameOf(v), coreName(w)),
				Where: fmt.Sprintf("%s, at %s or at %s", run.ID, run.From.ID, run.To.ID),
				Repair: fmt.Sprintf("Land core %d on %s and core %d on %s at %s; at %s on %s and %s.", v.Core.Index, spot(v1),
					w.Core.Index, spot(w1), run.From.ID, run.To.ID, spot(v2), spot(w2)),
				Edits: exchanged(landing{v, v2, w2}, landing{w, w2, v2}),
				At:    []*wiring.Conductor{v, w}, Of: endsOf(v, w),
			})
		}
	}
}

// stripSwaps exchanges what is landed on neighbours of a strip. Cores of one run are exchanged with their run, and the
// terminals of a component have no neighbours.
func (c *lister) stripSwaps(d *wiring.Device) {
	if d.Added != nil {
		return
	}
	for i := 1; i < len(d.Model.Strip); i++ {
		a, b := wiring.End{Device: d, Pin: d.Model.Strip[i-1].Pin}, wiring.End{Device: d, Pin: d.Model.Strip[i].Pin}
		if c.metal.same(a.String(), b.String()) {
			continue
		}
		for _, v := range c.landed[a] {
			for _, w := range c.landed[b] {
				if v != w && c.mine(v, w) && (v.Run == nil || v.Run != w.Run) {
					c.put(stripSwap(landing{v, a, b}, landing{w, b, a}))
				}
			}
		}
	}
}

func stripSwap(v, w landing) Fault {
	d := v.from.Device
	return Fault{
		ID: fmt.Sprintf("swap:%s+%s@%s", v.w.ID, w.w.ID, v.from), Class: Swap,
		Name:   fmt.Sprintf("%s and %s are swapped on %s", NameOf(v.w), NameOf(w.w), d.ID),
		Where:  fmt.Sprintf("%s, terminals %s and %s", d.ID, v.from.Label(), w.from.Label()),
		Repair: fmt.Sprintf("Land each on its own terminal: the first on %s, the second on %s.", spot(v.from), spot(w.from)),
		Edits:  exchanged(v, w), At: []*wiring.Conductor{v.w, w.w}, Of: []*wiring.Device{d},
	}
}

// landing is a conductor taken from one terminal to another.
type landing struct {
	w        *wiring.Conductor
	from, to wiring.End
}

// exchanged are the edits that take conductors to other terminals: each is cut, and its own resistance put from its
// other end to the new terminal.
func exchanged(moves ...landing) []Edit {
	ends := map[*wiring.Conductor][2]wiring.End{}
	var order []*wiring.Conductor
	for _, m := range moves {
		at, ok := ends[m.w]
		if !ok {
			order = append(order, m.w)
			at = [2]wiring.End{m.w.A, m.w.B}
		}
		switch m.from {
		case at[0]:
			at[0] = m.to
		case at[1]:
			at[1] = m.to
		}
		ends[m.w] = at
	}
	var edits []Edit
	for _, w := range order {
		edits = append(edits, cut(w))
	}
	for _, w := range order {
		if at := ends[w]; at[0] != at[1] {
			edits = append(edits, Edit{Op: Join, A: at[0].String(), B: at[1].String(), Ohms: w.Ohms(usual).Nominal})
		}
	}
	return edits
}
