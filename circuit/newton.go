package circuit

import "math"

// Newton's method on the branch voltages. A step is accepted on the voltage it moved at every branch: that move is the
// inverse of the conductance matrix times the residual current, so it is the voltage error that the residual can mean,
// on a milliohm joint as on a gigaohm lead. What remains after the step is smaller by its square. Nodes may move
// further than branches only where a whole part hangs on leaks, and there by the rounding of the currents that
// circulate in it: a supply of 13.8 V and 50 mohm counts as 276 A into a short, and shakes a part on a gigaohm by tens
// of microvolts.
const (
	branchTolerance = 1e-9 // V, across any nonlinear element
	nodeTolerance   = 0.1  // V, of any moving node: supplies of no resistance shake a floating part by some 10 mV
)

// linearise adds the nonlinear elements to the moving columns. With clip, negative slopes count as zero: a load of
// constant power is then one of constant current for this step.
func (s *System) linearise(clip bool) {
	s.eased = false
	s.x.start()
	for k := range s.branch {
		s.addBranch(&s.branch[k], clip)
	}
}

// addBranch adds a nonlinear element at the voltage it is linearised at.
func (s *System) addBranch(b *branch, clip bool) {
	i, g := b.v*openSiemens, openSiemens
	if b.on {
		i, g = b.law.at(b.v)
	}
	if g < 0 && (clip || b.fresh) {
		g = 0
		s.eased = true
	}
	b.fresh = false
	s.x.sum[b.conductance] += g
	inject := g*b.v - i
	s.x.flow[b.a] += inject
	s.x.flow[b.b] -= inject
}

// guess solves once with the rough stand-ins and sets the branch voltages from the result.
func (s *System) guess() {
	s.x.removeFixed()
	s.x.start()
	for k := range s.branch {
		b := &s.branch[k]
		g, inject := openSiemens, 0.0
		if b.on {
			g, inject = b.law.rough(s.nominal)
		}
		s.x.sum[b.conductance] += g
		s.x.flow[b.a] += inject
		s.x.flow[b.b] -= inject
	}
	s.x.removeMoving()
	s.x.solveMoving()
	for k := range s.branch {
		b := &s.branch[k]
		b.v = s.x.volts[b.a] - s.x.volts[b.b]
		if b.on {
			b.v = b.law.begin(b.v, s.nominal)
		}
	}
	copy(s.last, s.x.volts[:s.a.n])
	s.begun = true
}

// move is how far a Newton step went.
type move struct {
	branch float64 // V, the furthest of any branch, before its step was limited
	node   float64 // V, the furthest of any moving node
	step   int     // which
}

func (m move) small() bool { return m.branch < branchTolerance && m.node < nodeTolerance }

// advance solves for the moving voltages and takes the branches there, each as far as its law allows.
func (s *System) advance() move {
	s.x.solveMoving()
	var m move
	v := s.x.volts
	for k := s.a.fixed; k < s.a.n; k++ {
		if d := math.Abs(v[k] - s.last[k]); !(d <= m.node) {
			m.node, m.step = d, k
		}
		s.last[k] = v[k]
	}
	for k := range s.branch {
		m.branch = s.branch[k].advance(v, m.branch)
	}
	return m
}

// advance takes the branch to the voltages v, as far as its law allows, and gives the larger of how far it went and
// furthest.
func (b *branch) advance(v []float64, furthest float64) float64 {
	to := v[b.a] - v[b.b]
	if d := math.Abs(to - b.v); !(d <= furthest) && (d < branchTolerance || !b.straight(to, d)) {
		furthest = d
	}
	if b.on {
		to = b.law.step(b.v, to)
	}
	b.v = to
	return furthest
}

// straight says that a move of a branch means nothing, because its law is a straight line there, so that the step has
// left no current over: a branch that is off, a diode in reverse, a supply deep in its limit. A part that hangs on its
// leak alone moves by the rounding of large currents elsewhere for ever, and such branches are all that joins it to the
// rest.
func (b *branch) straight(to, far float64) bool { return !b.on || straight(b.law, b.v, to, far) }

func straight(l law, from, to, far float64) bool {
	if _, plain := l.(bridgeLaw); plain {
		return true
	}
	if far > nodeTolerance {
		return false
	}
	i, g := l.at(from)
	there, _ := l.at(to)
	return math.Abs(there-i-g*(to-from)) < straightCurrent+straightPart*math.Abs(i)
}

const (
	straightCurrent = 1e-15 // A, what the line may miss the law by: 1 uV on a leak of a gigaohm
	straightPart    = 1e-15 // and as a part of the current itself, a few roundings of it: two limits in series
)
