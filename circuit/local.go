package circuit

import (
	"math"
	"slices"

	"doorwright/unit"
)

// Local solves one region of a System while the rest keeps the linearisation of its last Solve. Patches may be added to
// the region that are in no pattern. It answers as a Solve of the whole would while the rest has no cause to move, which
// Drift tells, or Bend has taken it along. Before another region of the system is solved, take this one back to the state it was found in and solve
// it once more.
type Local struct {
	s       *System
	r       *Region
	outside []float64 // of each straddled step: what straddling elements drive into it
	given   []float64 // of each of Region.run.given: what columns outside give to it
	fed     []float64 // of each of Region.run.fed: the flow that columns outside give to it
	rim     []float64 // voltages of the rim as the whole was solved
	patches []patch
	small   []float64
	flows   []float64 // what flows into the fixed steps of the paths of the patches without these
	spreads bool      // the patches know their voltages for the present factors
	whole   bool      // the region is all there is
	saddle  bool      // the last descent ended on one
	started []float64 // voltages of the moving steps to begin a descent from
	fell    []fell    // of each patch, in a descent
	bend    bend      // of the rest
}

// Local makes a local solver of a system that was just solved.
func (s *System) Local(r *Region) *Local {
	l := &Local{s: s, r: r}
	values := make([]float64, len(r.straddled)+len(r.rim)+len(r.run.given)+len(r.run.fed))
	cut := func(n int) []float64 {
		part := values[:n:n]
		values = values[n:]
		return part
	}
	l.outside, l.rim = cut(len(r.straddled)), cut(len(r.rim))
	l.given, l.fed = cut(len(r.run.given)), cut(len(r.run.fed))
	sumGifts(l.given, r.run.given, r.run.gifts, s.x.weight, s.x.sum)
	l.feed()
	z := s.dropped
	for _, i := range r.straddling {
		b := &s.branch[i]
		c, g := b.v*openSiemens, openSiemens
		if b.on {
			c, g = b.law.at(b.v)
		}
		inject := g*b.v - c
		z[b.a] += inject
		z[b.b] -= inject
	}
	for i, k := range r.straddled {
		l.outside[i] = z[k]
	}
	for _, i := range r.straddling {
		z[s.branch[i].a], z[s.branch[i].b] = 0, 0
	}
	for i, k := range r.rim {
		l.rim[i] = s.x.volts[k]
	}
	return l
}

// feed adds up the flow that columns outside give to the region.
func (l *Local) feed() {
	sumGifts(l.fed, l.r.run.fed, l.r.run.feeds, l.s.x.weight, l.s.x.flow)
}

// Patched is a local solver of the whole of a system, for patches that are in no pattern. It takes the rungs that Solve
// takes.
func (s *System) Patched() *Local {
	nodes := make([]Node, s.a.n)
	for v := range nodes {
		nodes[v] = Node(v)
	}
	l := s.Local(s.Region(nodes))
	l.whole = true
	return l
}

// Region is the part that it solves.
func (l *Local) Region() *Region { return l.r }

// System is the system it solves in.
func (l *Local) System() *System { return l.s }

// Drift is how far the furthest node of the rim has moved since the whole was solved.
func (l *Local) Drift() unit.Volt {
	far := 0.0
	for i, k := range l.r.rim {
		far = max(far, math.Abs(l.s.x.volts[k]-l.rim[i]))
	}
	return unit.Volt(far)
}

// Solve finds the operating point of the region from the present state and lets its senses settle, as System.Solve does
// for the whole. What its rungs cannot solve is NotConverged and left to a Solve of the whole.
func (l *Local) Solve() Report {
	return l.s.settle(&l.r.scope, l)
}

func (l *Local) climb(r *Report) bool {
	l.removeFixed()
	for i := range l.patches {
		p := &l.patches[i]
		p.v = p.law.begin(l.s.x.volts[p.a]-l.s.x.volts[p.b], l.s.nominal)
	}
	if l.plain(r) {
		return l.finish()
	}
	r.Rung = max(r.Rung, Clipped)
	if l.clipped(r) {
		return l.finish()
	}
	l.started = l.started[:0]
	for _, k := range l.r.moving {
		l.started = append(l.started, l.s.x.volts[k])
	}
	// What fed a load is gone, most likely: loads are looked for running once more, then collapsed.
	for _, running := range []bool{true, false} {
		if l.whole {
			break
		}
		l.guess(running)
		if l.plain(r) || l.clipped(r) {
			return l.finish()
		}
	}
	return l.fall(r)
}

// fall is the last rung, from where the one before the guesses gave up. It is tried once where it ends on a saddle, which
// is left to the whole, and in a part of the network, which may have no answer while the rest keeps to its straight lines.
func (l *Local) fall(r *Report) bool {
	for i, k := range l.r.moving {
		l.s.x.volts[k] = l.started[i]
	}
	rest := descentRest
	for range descents {
		r.Rung = Descent
		if l.descend(r, rest) && l.plain(r) {
			return l.finish()
		}
		if !l.whole || l.saddle {
			return false
		}
		rest /= 1000
	}
	return false
}

// guess sets the branches of the region from one solve with the rough stand-ins, as a cold start does, with loads of
// constant power running or at nothing.
func (l *Local) guess(running bool) {
	x := &l.s.x
	l.start()
	for _, i := range l.r.branches {
		b := &l.s.branch[i]
		g, inject := openSiemens, 0.0
		if b.on {
			g, inject = b.law.rough(l.s.nominal)
		}
		x.sum[b.conductance] += g
		x.flow[b.a] += inject
		x.flow[b.b] -= inject
	}
	l.r.run.run(&l.s.x)
	l.node()
	copy(l.s.last, x.volts[:x.a.n])
	for _, i := range l.r.branches {
		b := &l.s.branch[i]
		b.v = x.volts[b.a] - x.volts[b.b]
		if b.on {
			b.v = b.law.begin(b.v, l.s.nominal)
		}
		if _, power := b.law.(powerLoad); power && !running {
			b.v = 0
		}
	}
}

// finish brings the fixed steps up to date.
func (l *Local) finish() bool {
	flow, border := l.s.x.flow, int32(l.s.a.fixed)
	l.flows = l.flows[:0]
	for i := range l.patches {
		for _, k := range l.patches[i].path {
			if k < border {
				l.flows = append(l.flows, flow[k])
			}
		}
	}
	l.add(true)
	l.r.before.solve(&l.s.x)
	n := 0
	for i := range l.patches {
		for _, k := range l.patches[i].path {
			if k < border {
				flow[k] = l.flows[n]
				n++
			}
		}
	}
	return true
}

// plain is System.plain within the region.
func (l *Local) plain(r *Report) bool {
	for range plainSteps {
		l.linearise(false)
		r.Steps++
		if !l.stable(l.r.run.run(&l.s.x)) {
			return false
		}
		m := l.advance()
		r.note(l.s, m)
		if m.small() && !l.s.eased {
			return true
		}
		if math.IsNaN(m.node) {
			return false
		}
	}
	return false
}

// clippedLocally is how many clipped steps are taken within a region: most take five, and what takes more does not get
// there.
const clippedLocally = 20

// clipped is System.clipped within the region.
func (l *Local) clipped(r *Report) bool {
	left, window, rests := 0, 3, false
	most := clippedLocally
	if l.whole {
		most = clippedSteps
	}
	for range most {
		l.linearise(left > 0)
		r.Steps++
		if !l.stable(l.r.run.run(&l.s.x)) {
			if left > 0 || rests {
				return false
			}
			left, window = window, 2*window
			continue
		}
		m := l.advance()
		r.note(l.s, m)
		if math.IsNaN(m.node) {
			return false
		}
		if m.small() && left == 0 && !l.s.eased {
			return true
		}
		rests = left > 0 && m.small()
		left = max(left-1, 0)
		if rests {
			left = 0
		}
	}
	return false
}

// removeFixed brings the fixed columns of the region up to date. Nothing outside is stale: what is altered is inside.
func (l *Local) removeFixed() {
	x := &l.s.x
	if !x.staleFixed {
		return
	}
	x.staleFixed = false
	for _, k := range l.r.fixed {
		if x.stale[k] {
			x.removeOneFixed(int(k))
		}
	}
	for _, k := range l.r.moving {
		if x.stale[k] {
			x.stale[k] = false
			x.rebase(int(k))
		}
	}
}

// start puts the base, and what comes from outside, into the moving columns of the region.
func (l *Local) start() {
	x := &l.s.x
	n := x.a.n
	edges, base := x.sum[n:], x.base[n:]
	for i := range l.r.run.columns {
		c := &l.r.run.columns[i]
		x.sum[c.step], x.flow[c.step] = x.base[c.step], x.baseFlow[c.step]
		copy(edges[c.from:c.to], base[c.from:c.to])
	}
	for i, g := range l.r.run.given {
		x.sum[g.to] += l.given[i]
	}
	for i, g := range l.r.run.fed {
		x.flow[g.to] += l.fed[i]
	}
	for i, k := range l.r.straddled {
		x.flow[k] += l.outside[i]
	}
}

// linearise puts the nonlinear elements into the moving columns of the region, with all else that is in them.
func (l *Local) linearise(clip bool) {
	l.s.eased = false
	l.start()
	for _, i := range l.r.branches {
		l.s.addBranch(&l.s.branch[i], clip)
	}
}

// node solves for the moving voltages, patches and all, and says how far the furthest patch moved.
func (l *Local) node() (moved float64) {
	l.spreads = false
	if len(l.patches) > 0 {
		moved = l.compensate()
		l.add(false)
	}
	l.r.run.columns.solve(&l.s.x)
	return moved
}

// advance solves for the moving voltages and takes the branches there, each as far as its law allows.
func (l *Local) advance() move {
	s := l.s
	v := s.x.volts
	m := move{branch: l.node()}
	for _, k := range l.r.moving {
		if d := math.Abs(v[k] - s.last[k]); !(d <= m.node) {
			m.node, m.step = d, int(k)
		}
		s.last[k] = v[k]
	}
	for _, i := range l.r.branches {
		m.branch = s.branch[i].advance(v, m.branch)
	}
	return m
}

// LocalState is where a region stands: its senses and its solution. It fits every system of the same pattern.
type LocalState struct {
	senses        []bool
	branch, volts []float64
}

// Save keeps where the region stands.
func (l *Local) Save(st *LocalState) {
	st.senses, st.branch, st.volts = st.senses[:0], st.branch[:0], st.volts[:0]
	for _, k := range l.r.senses {
		st.senses = append(st.senses, l.s.sensed[k])
	}
	for _, i := range l.r.branches {
		st.branch = append(st.branch, l.s.branch[i].v)
	}
	for _, list := range [2][]int32{l.r.fixed, l.r.moving} {
		for _, k := range list {
			st.volts = append(st.volts, l.s.x.volts[k])
		}
	}
}

// Load goes back to where the region stood, perhaps in another system.
func (l *Local) Load(st *LocalState) {
	l.unbend()
	for i, k := range l.r.senses {
		l.s.setSense(k, st.senses[i])
	}
	for i, k := range l.r.branches {
		b := &l.s.branch[k]
		b.v, b.fresh = st.branch[i], false
	}
	i := 0
	for _, list := range [2][]int32{l.r.fixed, l.r.moving} {
		for _, k := range list {
			l.s.x.volts[k], l.s.last[k] = st.volts[i], st.volts[i]
			i++
		}
	}
}

// Slack is how far the sense outside the region that is nearest to turning is from its threshold. Of those that alternate
// for ever, which are held off though they are due, it is how far they are past it.
func (l *Local) Slack(alternating []Sense) unit.Volt {
	slack := math.Inf(1)
	for _, k := range l.r.beyond {
		spec := &l.s.n.senses[k]
		v := l.s.x.volts[l.s.a.step(spec.A)] - l.s.x.volts[l.s.a.step(spec.B)]
		if spec.EitherWay {
			v = math.Abs(v)
		}
		switch {
		case slices.Contains(alternating, k):
			slack = min(slack, v-float64(spec.On))
		case l.s.sensed[k]:
			slack = min(slack, v-float64(spec.Off))
		default:
			slack = min(slack, float64(spec.On)-v)
		}
	}
	return unit.Volt(slack)
}
