package circuit

import "math"

// Rung says which method found an answer.
type Rung uint8

const (
	// Plain is Newton's method and nothing else.
	Plain Rung = iota
	// Clipped is Newton's method that for some steps took negative slopes as zero, and then went on without.
	Clipped
	// Descent is a descent of the network's content, and then Newton's method from where it led.
	Descent
)

func (r Rung) String() string {
	return [...]string{"plain Newton steps", "Newton steps with negative slopes clipped", "descent"}[r]
}

// How many steps each rung may take.
const (
	plainSteps   = 40
	clippedSteps = 30
	descentSteps = 2000
)

// descents is how often the last rung is tried, each time down to a move a thousand times smaller. More than once is
// needed where the plain steps after it creep up to a point at which the content is flat but no minimum, as at the very
// limit of what a line carries, or leave a minimum that lies next to a kink.
const descents = 4

// climb finds the operating point for the present states: the rungs in turn, each starting where the one before gave
// up. An answer counts only when a plain Newton step from it stays put and all sums of conductances were positive
// there, which makes the root stable: small disturbances die out (Sylvester's law of inertia).
func (s *System) climb(r *Report) bool {
	s.x.removeFixed()
	if !s.begun {
		s.guess()
		r.Steps++
	}
	found := s.plain(r)
	if !found {
		r.Rung = max(r.Rung, Clipped)
		found = s.clipped(r)
	}
	rest := descentRest
	for try := 0; try < descents && !found; try++ {
		r.Rung = Descent
		found = s.descend(r, rest) && s.plain(r)
		rest /= 1000
	}
	s.x.solveFixed()
	return found
}

// plain takes Newton steps until one stays put. It gives up at the first sum that is not positive: past an unstable
// point Newton steps lead uphill.
func (s *System) plain(r *Report) bool {
	for range plainSteps {
		s.linearise(false)
		r.Steps++
		if !s.x.removeMoving() {
			return false
		}
		m := s.advance()
		r.note(s, m)
		if m.small() && !s.eased {
			return true
		}
		if math.IsNaN(m.node) {
			return false
		}
	}
	return false
}

// clipped takes Newton steps as plain does, but where a sum is not positive, the next steps are clipped: three at
// first, twice as many each time it happens again. Where clipped steps come to rest and a sum is not positive there, more
// of them lead nowhere.
func (s *System) clipped(r *Report) bool {
	left, window, rests := 0, 3, false
	for range clippedSteps {
		s.linearise(left > 0)
		r.Steps++
		stable := s.x.removeMoving()
		if !stable {
			if left > 0 || rests {
				return false
			}
			left, window = window, 2*window
			continue
		}
		m := s.advance()
		r.note(s, m)
		if math.IsNaN(m.node) {
			return false
		}
		if m.small() && left == 0 && !s.eased {
			return true
		}
		rests = left > 0 && m.small()
		left = max(left-1, 0)
		if rests {
			left = 0 // at rest: go on without the crutch at once
		}
	}
	return false
}
