package circuit

import "math"

// events is the work space of the loop that lets senses settle.
type events struct {
	held        []bool   // senses that alternate and are held off
	key         []uint64 // of each sense: its part of the state's hash
	visited     []uint64 // hashes of the states gone through
	flipped     []Sense  // in single file: what was flipped after each visited state
	alternating []Sense
	collapsed   []Element
	report      Report
}

func newEvents(senses int) events {
	e := events{held: make([]bool, senses), key: make([]uint64, senses)}
	for k := range e.key {
		e.key[k] = scatter(uint64(k) + 1)
	}
	e.visited = make([]uint64, 0, mostVisited(senses))
	e.flipped = make([]Sense, 0, mostVisited(senses))
	e.alternating = make([]Sense, 0, senses)
	return e
}

// mostVisited bounds the states gone through before a sequence counts as endless: enough for every sense to turn twice
// in single file.
func mostVisited(senses int) int { return 16 + 4*senses }

// scatter is the finaliser of SplitMix64 (Steele, Lea, Flood 2014), a fixed mixing of bits.
func scatter(z uint64) uint64 {
	z *= 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Solve finds the operating point from the present state, or after Cold from first guesses, and lets the senses settle.
//
// All senses that are due turn together, as they would in the same instant, and the network is solved again. When a
// state comes back, they race: from there on they turn in single file, the one furthest past its threshold first. When
// a state comes back even so, the senses that turned since then alternate for ever; they are held off, and the rest
// settles. Every hold is for good, so it ends.
func (s *System) Solve() Report { return s.settle(&s.all, s) }

// scope is what a Solve looks at: the senses that may turn and the nonlinear elements that may collapse.
type scope struct {
	senses   []Sense
	branches []int32
}

// climber finds the operating point for the present states.
type climber interface{ climb(r *Report) bool }

// settle lets the senses of a scope settle.
func (s *System) settle(in *scope, c climber) Report {
	e := &s.events
	r := &e.report // kept there so that no Solve allocates
	*r = Report{WorstNode: Earth}
	clear(e.held)
	e.visited, e.flipped, e.alternating = e.visited[:0], e.flipped[:0], e.alternating[:0]
	singly := false
	for {
		r.Rounds++
		if !c.climb(r) {
			r.Outcome = NotConverged
			return *r
		}
		due, furthest := s.due(in.senses)
		if due == 0 {
			break
		}
		state := s.stateHash(in.senses)
		again := e.find(state)
		switch {
		case again < 0:
			e.visited = append(e.visited, state)
			if singly {
				e.flipped = append(e.flipped, furthest)
				s.setSense(furthest, !s.sensed[furthest])
			} else {
				s.flipDue(in.senses)
			}
		case !singly:
			singly = true
			e.visited = e.visited[:0]
			e.visited = append(e.visited, state)
			e.flipped = append(e.flipped[:0], furthest)
			s.setSense(furthest, !s.sensed[furthest])
		default:
			s.hold(e.flipped[again:])
			e.visited, e.flipped = e.visited[:0], e.flipped[:0]
		}
	}
	s.conclude(r, in.branches)
	return *r
}

// find is where a state was visited, 0 when there is no room for more, and -1 for a new one.
func (e *events) find(state uint64) int {
	for i, v := range e.visited {
		if v == state {
			return i
		}
	}
	if len(e.visited) == cap(e.visited) {
		return 0
	}
	return -1
}

// overdue is how far a sense is past the threshold at which it turns, as a part of that threshold; not positive means
// that it stays.
func (s *System) overdue(k Sense) float64 {
	spec := &s.n.senses[k]
	v := s.x.volts[s.a.step(spec.A)] - s.x.volts[s.a.step(spec.B)]
	if spec.EitherWay {
		v = math.Abs(v)
	}
	past, at := v-float64(spec.On), float64(spec.On)
	if s.sensed[k] {
		past, at = float64(spec.Off)-v, float64(spec.Off)
	} else if past == 0 {
		return math.SmallestNonzeroFloat64 // on at the threshold, off only below it
	}
	return past / max(math.Abs(at), 1e-3)
}

// alikeShare is how much further than another a sense has to be past its threshold to go first (a figure of our own choice): two
// like loads on one line are apart by roundings only, and which goes first must not depend on how they were solved.
const alikeShare = 1e-6

// due counts the senses that have to turn and names the one furthest past its threshold, of those alike the first.
func (s *System) due(senses []Sense) (count int, furthest Sense) {
	most := 0.0
	for _, k := range senses {
		if s.events.held[k] {
			continue
		}
		if o := s.overdue(k); o > 0 {
			count++
			if o > most*(1+alikeShare) {
				most, furthest = o, k
			}
		}
	}
	return count, furthest
}

// flipDue turns all senses that are due.
func (s *System) flipDue(senses []Sense) {
	for _, k := range senses {
		if !s.events.held[k] && s.overdue(k) > 0 {
			s.setSense(k, !s.sensed[k])
		}
	}
}

// hold puts the given senses off for the rest of this Solve.
func (s *System) hold(list []Sense) {
	e := &s.events
	for _, k := range list {
		if !e.held[k] {
			e.held[k] = true
			e.alternating = append(e.alternating, k)
			s.setSense(k, false)
		}
	}
}

func (s *System) stateHash(senses []Sense) uint64 {
	h := uint64(0)
	for _, k := range senses {
		if s.sensed[k] {
			h ^= s.events.key[k]
		}
	}
	return h
}

// conclude names the outcome.
func (s *System) conclude(r *Report, branches []int32) {
	e := &s.events
	e.collapsed = e.collapsed[:0]
	for _, k := range branches {
		b := &s.branch[k]
		if l, ok := b.law.(powerLoad); ok && b.on && b.v < l.knee && b.v > collapseFloor*l.knee && l.watts > 0 {
			e.collapsed = append(e.collapsed, b.element)
		}
	}
	r.Collapsed = e.collapsed
	r.Alternating = e.alternating
	switch {
	case len(r.Alternating) > 0:
		r.Outcome = Hiccup
	case len(r.Collapsed) > 0:
		r.Outcome = LoadCollapse
	}
}

// collapseFloor tells a load that its feed cannot carry from one that has no feed: below a tenth of the knee it takes
// less than a hundredth of its power. A figure of our own choice.
const collapseFloor = 0.1
