package circuit

import (
	"math"

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
	z    []float64 // by step: the voltages for a unit current drawn from a and given to b, negated
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
		p.z = l.patches[n].z
		l.patches[n] = p
	} else {
		l.patches = append(l.patches, p)
	}
	if q := &l.patches[len(l.patches)-1]; q.z == nil {
		q.z = make([]float64, l.s.a.n+1)
	}
	l.grow()
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

// spread finds the voltages that a unit current out of one node and into another makes at all steps of the region.
func (l *Local) spread(p *patch) {
	z := p.z
	for _, list := range [2][]int32{l.r.fixed, l.r.moving} {
		for _, k := range list {
			z[k] = 0
		}
	}
	z[p.a]--
	z[p.b]++
	l.carry(z)
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
// of them moved. The voltages without them stand in the mesh.
func (l *Local) compensate() (moved float64) {
	m, v := len(l.patches), l.s.x.volts
	w := m + 1
	for i := range l.patches {
		p := &l.patches[i]
		current, g := p.law.at(p.v)
		// j = current + g (u + sum M j - v), with M negative: j - g sum M j = current + g (u - v)
		for k := range l.patches {
			q := &l.patches[k]
			l.small[i*w+k] = -g * (q.z[p.a] - q.z[p.b])
		}
		l.small[i*w+i]++
		l.small[i*w+m] = current + g*(v[p.a]-v[p.b]-p.v)
	}
	solveSmall(l.small, m)
	for i := range l.patches {
		p := &l.patches[i]
		to := v[p.a] - v[p.b]
		for k := range l.patches {
			q := &l.patches[k]
			to += l.small[k*w+m] * (q.z[p.a] - q.z[p.b])
		}
		if _, straight := p.law.(bridgeLaw); !straight {
			moved = max(moved, math.Abs(to-p.v))
		}
		p.v, p.to = p.law.step(p.v, to), to
	}
	return moved
}

// shift adds what the patches make of the voltages of some steps.
func (l *Local) shift(steps []int32) {
	m, v := len(l.patches), l.s.x.volts
	for i := range l.patches {
		j, z := l.small[i*(m+1)+m], l.patches[i].z
		for _, k := range steps {
			v[k] += j * z[k]
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
