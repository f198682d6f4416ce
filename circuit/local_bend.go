package circuit

import "math"

// bend is how the rest of a system follows what its region does, beyond the straight lines it was left with: the slopes
// stay, and what each nonlinear element carries more or less than its line is driven in beside it (the chord method).
type bend struct {
	on      bool
	flow    []float64 // of each moving step outside, as the whole was solved
	volts   []float64 // of each step outside, fixed ones first, as the whole was solved
	outside []float64 // of each straddled step, as the whole was solved
	lines   []line    // of each nonlinear element outside
}

// line is the straight line of an element through its last solution, and where the region has drawn it since.
type line struct{ from, amperes, siemens, to float64 }

const (
	// bentTolerance is how far an element of the rest may still move when it counts as having followed, in V: what arrives
	// in the region is less. A figure of our own choice, held against whole solves in a test.
	bentTolerance = 1e-6
	// bendRounds bounds the rounds: most take three, and what takes more does not get there.
	bendRounds = 8
	// bendShrinks is the part of the last move that the next may be: lines that are further off than that are no use.
	bendShrinks = 0.5
)

// Bend takes the rest along to where the region has drawn its rim, and lets resolve solve the region again, in turns until
// nothing moves any more. It gives false where resolve does, where it leads nowhere, and where a sense of the rest would
// turn. Load undoes it.
func (l *Local) Bend(resolve func() bool) bool {
	if !l.bend.on {
		l.straighten()
	}
	last := math.Inf(1)
	for range bendRounds {
		moved := l.follow()
		switch {
		case moved < bentTolerance:
			l.r.outBefore.solve(&l.s.x)
			return !l.turns()
		case !(moved <= bendShrinks*last):
			return false
		}
		last = moved
		if !resolve() {
			return false
		}
	}
	return false
}

// straighten remembers how the whole was solved.
func (l *Local) straighten() {
	d, x := &l.bend, &l.s.x
	d.on = true
	d.flow, d.volts, d.outside, d.lines = d.flow[:0], d.volts[:0], d.outside[:0], d.lines[:0]
	for _, k := range l.r.outFixed {
		d.volts = append(d.volts, x.volts[k])
	}
	for _, k := range l.r.outMoving {
		d.flow, d.volts = append(d.flow, x.flow[k]), append(d.volts, x.volts[k])
	}
	d.outside = append(d.outside, l.outside...)
	for _, k := range l.r.outer {
		b := &l.s.branch[k]
		i, g := b.lawAt(b.v)
		d.lines = append(d.lines, line{b.v, i, g, b.v})
	}
}

// unbend takes the rest back to how the whole was solved.
func (l *Local) unbend() {
	d, x := &l.bend, &l.s.x
	if !d.on {
		return
	}
	d.on = false
	for i, k := range l.r.outFixed {
		x.volts[k] = d.volts[i]
	}
	for i, k := range l.r.outMoving {
		x.flow[k], x.volts[k] = d.flow[i], d.volts[len(l.r.outFixed)+i]
	}
	copy(l.outside, d.outside)
	l.feed()
}

// follow draws the rest to where the rim is, drives in what its elements then carry beside their lines, and says how far
// the furthest of them has moved.
func (l *Local) follow() (moved float64) {
	d, x, a := &l.bend, &l.s.x, l.s.a
	l.r.outAfter.solve(x)
	for i, k := range l.r.outMoving {
		x.flow[k] = d.flow[i]
	}
	z := l.s.dropped
	for i, k := range l.r.outer {
		b, n := &l.s.branch[k], &d.lines[i]
		v := x.volts[b.a] - x.volts[b.b]
		if far := math.Abs(v - n.to); !(far <= moved) {
			moved = far
		}
		n.to = v
		is, _ := b.lawAt(v)
		beside := is - n.amperes - n.siemens*(v-n.from)
		z[b.a] -= beside
		z[b.b] += beside
	}
	for _, k := range l.r.outMoving {
		c := z[k]
		if z[k] = 0; c == 0 {
			continue
		}
		x.flow[k] += c
		for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
			if to := a.end[e]; !l.r.inside[to] { // what flows inside is gathered there
				z[to] += x.weight[e] * c
			}
		}
	}
	for i, k := range l.r.straddled {
		l.outside[i] = d.outside[i] + z[k]
		z[k] = 0
	}
	z[a.n] = 0
	l.feed()
	return moved
}

// turns says that a sense of the rest has to turn.
func (l *Local) turns() bool {
	for _, k := range l.r.beyond {
		if l.s.overdue(k) > 0 {
			return true
		}
	}
	return false
}
