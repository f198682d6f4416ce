package circuit

import (
	"math"
	"slices"

	"doorwright/unit"
)

// patch is an element added to a System between any two nodes, in its pattern or not: a bridge, a core that lands
// elsewhere, a supply brought along. What it changes is solved with the factors of the rest: with M the impedances
// between the pairs of nodes the patches join, their currents j follow from their laws at the voltages u - M j, where u
// stands across the pairs without them (compensation, Tinney 1972, from memory).
type patch struct {
	a, b int32
	law  law
	v    float64   // the voltage it is linearised at
	to   float64   // the voltage that the last linear solve came to
	path []int32   // the steps that its ends lead to, themselves included, ascending
	x    []float64 // what a unit current drawn from a and given to b is at each of them when it is removed
	z    []float64 // by step: the voltages such a current makes, once a response asked for them
}

// bridgeLaw is a plain resistance.
type bridgeLaw struct{ siemens float64 }

func (l bridgeLaw) at(v float64) (i, g float64)       { return l.siemens * v, l.siemens }
func (l bridgeLaw) rough(float64) (g, inject float64) { return l.siemens, 0 }
func (l bridgeLaw) begin(v, _ float64) float64        { return v }
func (l bridgeLaw) step(_, to float64) float64        { return to }
func (l bridgeLaw) spice(number int, a, b string) string {
	return behavioural(number, a, b, across(a, b))
}

// Join adds a resistance between two nodes of the region, until Unpatch.
func (l *Local) Join(a, b Node, r unit.Ohm) {
	l.patch(a, b, bridgeLaw{1 / max(float64(r), LeastOhms)})
}

// Inject adds a supply between two nodes of the region, until Unpatch.
func (l *Local) Inject(plus, minus Node, spec LimitedSource) { l.patch(plus, minus, newSupply(spec)) }

func (l *Local) patch(a, b Node, w law) {
	p := patch{a: l.s.a.step(a), b: l.s.a.step(b), law: w}
	if p.a == p.b {
		return
	}
	if n := len(l.patches); n < cap(l.patches) { // take over the work space of an earlier one
		l.patches = l.patches[:n+1]
		q := &l.patches[n]
		p.path, p.x, p.z = q.path[:0], q.x, q.z
		*q = p
	} else {
		l.patches = append(l.patches, p)
	}
	l.patches[len(l.patches)-1].lead(l.s.a)
	l.spreads = false
	l.grow()
}

// lead finds the path: each step leads to the next one that its column ends in, and so to all others that it ends in.
func (p *patch) lead(a *Analysis) {
	for k := range a.way(p.a, p.b) {
		p.path = append(p.path, k)
	}
	p.x = slices.Grow(p.x[:0], len(p.path))[:len(p.path)]
}

// Unpatch takes all patches away.
func (l *Local) Unpatch() { l.patches = l.patches[:0] }

// grow gives the small system of the patches room.
func (l *Local) grow() {
	m := len(l.patches)
	if len(l.small) < m*(m+1) {
		l.small = make([]float64, m*(m+1))
	}
}

// drop carries a unit current out of one node and into another down its path.
func (l *Local) drop(p *patch) {
	x, a, z := &l.s.x, l.s.a, l.s.dropped
	z[p.a]--
	z[p.b]++
	for i, k := range p.path {
		c := z[k]
		p.x[i], z[k] = c, 0
		for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
			z[a.end[e]] += x.weight[e] * c
		}
	}
	z[a.n] = 0
}

// across is the voltage across a patch, from b to a, that currents into the steps make, as they are when each step is
// removed.
func (l *Local) across(p *patch, flow []float64) float64 {
	v := 0.0
	for i, k := range p.path {
		v -= p.x[i] * l.s.x.inv[k] * flow[k]
	}
	return v
}

// mutual is the voltage across p that a unit current through q makes.
func (l *Local) mutual(p, q *patch) float64 {
	v, k := 0.0, 0
	for i, step := range p.path {
		for k < len(q.path) && q.path[k] < step {
			k++
		}
		if k == len(q.path) {
			break
		}
		if q.path[k] == step {
			v -= p.x[i] * l.s.x.inv[step] * q.x[k]
		}
	}
	return v
}

// spread finds, for responses, the voltages that a unit current through each patch makes at all steps of the region.
func (l *Local) spread() {
	if l.spreads {
		return
	}
	l.spreads = true
	for i := range l.patches {
		p := &l.patches[i]
		if p.z == nil {
			p.z = make([]float64, l.s.a.n+1)
		}
		for _, list := range [2][]int32{l.r.fixed, l.r.moving} {
			for _, k := range list {
				p.z[k] = 0
			}
		}
		p.z[p.a]--
		p.z[p.b]++
		l.carry(p.z)
	}
}

// carry turns currents into the steps of the region into the voltages they make there, in place. What goes into Earth,
// the last of z, is lost.
func (l *Local) carry(z []float64) {
	x, a := &l.s.x, l.s.a
	for _, list := range [2][]int32{l.r.fixed, l.r.moving} {
		for _, k := range list {
			c := z[k]
			if c == 0 {
				continue
			}
			for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
				z[a.end[e]] += x.weight[e] * c
			}
		}
	}
	z[a.n] = 0
	for _, list := range [2][]int32{l.r.moving, l.r.fixed} {
		for i := len(list) - 1; i >= 0; i-- {
			k := list[i]
			v := z[k] * x.inv[k]
			for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
				v += x.weight[e] * z[a.end[e]]
			}
			z[k] = v
		}
	}
}

// compensate finds the currents of the patches, leaves them in the last column of small, and says how far the furthest
// of them moved. What flows into the steps without them stands in the mesh.
func (l *Local) compensate() (moved float64) {
	m := len(l.patches)
	w := m + 1
	for i := range l.patches {
		l.drop(&l.patches[i])
	}
	for i := range l.patches {
		p := &l.patches[i]
		current, g := p.law.at(p.v)
		p.to = l.across(p, l.s.x.flow)
		// j = current + g (u + sum M j - v), with M negative: j - g sum M j = current + g (u - v)
		for k := range l.patches {
			l.small[i*w+k] = -g * l.mutual(p, &l.patches[k])
		}
		l.small[i*w+i]++
		l.small[i*w+m] = current + g*(p.to-p.v)
	}
	solveSmall(l.small, m)
	for i := range l.patches {
		p := &l.patches[i]
		to := p.to
		for k := range l.patches {
			to += l.small[k*w+m] * l.mutual(p, &l.patches[k])
		}
		if far := math.Abs(to - p.v); far > moved && !straight(p.law, p.v, to, far) {
			moved = far
		}
		p.v, p.to = p.law.step(p.v, to), to
	}
	return moved
}

// stable says that a network is stable in which so many sums were not positive without its patches. The only patch can make
// it so where there is one unstable direction, as a short does that keeps loads of constant power down: the determinant of the whole is that without the patch times 1 + g M, so that
// all is stable when both are below zero (the inertia of a change of rank one; Golub and Van Loan, Matrix Computations,
// section 8.5, from memory). In a region it says nothing: the straight lines of the rest hold only near where they were
// laid, and a short leads far from there.
func (l *Local) stable(unsteady int) bool {
	if unsteady != 1 || !l.whole || len(l.patches) != 1 {
		return unsteady == 0
	}
	p := &l.patches[0]
	l.drop(p)
	_, g := p.law.at(p.v)
	return 1-g*l.mutual(p, p) < 0
}

// add adds the currents of the patches to what flows into the moving steps, or into the fixed ones.
func (l *Local) add(fixed bool) {
	m, flow, border := len(l.patches), l.s.x.flow, int32(l.s.a.fixed)
	for i := range l.patches {
		p := &l.patches[i]
		j := l.small[i*(m+1)+m]
		for n, k := range p.path {
			if (k < border) == fixed {
				flow[k] += j * p.x[n]
			}
		}
	}
}

// solveSmall solves m equations in place by elimination with pivoting; row i holds its coefficients and, last, its right
// side, which becomes the answer. There are one to a few.
func solveSmall(x []float64, m int) {
	w := m + 1
	for c := range m {
		best := c
		for i := c + 1; i < m; i++ {
			if math.Abs(x[i*w+c]) > math.Abs(x[best*w+c]) {
				best = i
			}
		}
		for k := range w {
			x[c*w+k], x[best*w+k] = x[best*w+k], x[c*w+k]
		}
		for i := c + 1; i < m; i++ {
			f := x[i*w+c] / x[c*w+c]
			for k := c; k < w; k++ {
				x[i*w+k] -= f * x[c*w+k]
			}
		}
	}
	for c := m - 1; c >= 0; c-- {
		for k := c + 1; k < m; k++ {
			x[c*w+m] -= x[c*w+k] * x[k*w+m]
		}
		x[c*w+m] /= x[c*w+c]
	}
}
