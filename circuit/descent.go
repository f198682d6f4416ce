package circuit

import "math"

// descend is the last rung; it ends when a move is below rest, in V. All elements are two-terminal and their current
// depends on their own voltage alone, so the currents into the nodes are the gradient of one function of the node
// voltages, the content (Millar 1951, Phil. Mag. 42:1150, from memory). It is bounded below, because the leaks outweigh
// every source far out, and its minima are the stable operating points. A Newton step with negative slopes clipped
// points downhill; a step short enough goes downhill; so this ends at a stable point from anywhere.
//
// Flat parts, such as supplies in their limit, promise moves of gigavolts. A brake, a conductance from every moving
// node to where it stands, shortens those moves and leaves the others alone (Levenberg 1944, Q. Appl. Math. 2:164,
// from memory); it is stepped up when a move is too far and down when one went well.
func (s *System) descend(r *Report, rest float64) bool {
	n := s.a.n
	at, dir := s.trial[:n+1], s.trial[n+1:]
	s.startDescent(at)
	brake, furthest := 0.0, s.nominal/3
	for range descentSteps {
		clip := s.direction(at, dir, brake)
		r.Steps++
		far := 0.0
		for _, d := range dir[:n] {
			far = max(far, math.Abs(d))
		}
		switch {
		case far > furthest && brake < mostBrake:
			brake = max(leastBrake, brakeStep*brake)
			continue
		case far < rest && brake > 0:
			brake = eased(brake)
		case far < rest && clip:
			s.leaveSaddle(at, dir)
			continue
		case far < rest:
			s.branchesAt(at, dir, 0)
			return true
		}
		t := s.downhill(at, dir, min(1, furthest/far))
		for k := range n {
			at[k] += t * dir[k]
		}
		if t == 1 {
			brake = eased(brake)
		}
	}
	return false
}

const (
	descentRest = 1e-3 // V, a move that hands over to plain Newton steps, the first time

	leastBrake = 1e-9 // S, the leak; less brakes nothing
	mostBrake  = 1e6  // S
	brakeStep  = 10
)

func eased(brake float64) float64 {
	if brake <= leastBrake {
		return 0
	}
	return brake / brakeStep
}

// direction is the Newton step from the voltages at, under the brake, and whether negative slopes had to be clipped.
func (s *System) direction(at, dir []float64, brake float64) (clip bool) {
	s.branchesAt(at, dir, 0)
	s.linearise(false)
	s.brake(at, brake)
	if !s.x.removeMoving() {
		clip = true
		s.linearise(true)
		s.brake(at, brake)
		s.x.removeMoving()
	}
	s.x.solveMoving()
	s.x.solveFixed()
	for k := range s.a.n {
		dir[k] = s.x.volts[k] - at[k]
	}
	dir[s.a.n] = 0
	return clip
}

// brake joins every moving node to where it stands.
func (s *System) brake(at []float64, siemens float64) {
	for k := s.a.fixed; k < s.a.n; k++ {
		s.x.sum[k] += siemens
		s.x.flow[k] += siemens * at[k]
	}
}

// startDescent begins at the voltages last seen, if they make sense.
func (s *System) startDescent(at []float64) {
	s.x.solveFixed()
	copy(at, s.x.volts)
	for k := range s.a.n {
		if !(math.Abs(at[k]) <= 10*s.nominal) {
			at[k] = 0
		}
	}
	at[s.a.n] = 0
}

// branchesAt linearises every branch at the node voltages at + t dir.
func (s *System) branchesAt(at, dir []float64, t float64) {
	for k := range s.branch {
		b := &s.branch[k]
		b.v = at[b.a] - at[b.b] + t*(dir[b.a]-dir[b.b])
	}
}

// downhill halves the step t until the content still falls, or is at rest, at its end.
func (s *System) downhill(at, dir []float64, t float64) float64 {
	for range 60 {
		if s.slopeAlong(at, dir, t) <= 0 {
			return t
		}
		t /= 2
	}
	return t
}

// slopeAlong is the slope of the content along dir at the voltages at + t dir: the power the node currents would give
// to the move.
func (s *System) slopeAlong(at, dir []float64, t float64) float64 {
	slope := 0.0
	for k := range s.a.n {
		slope += LeakSiemens * (at[k] + t*dir[k]) * dir[k]
	}
	for i := range s.n.elements {
		p := s.a.place[i]
		d := dir[p.a] - dir[p.b]
		slope += s.currentAt(Element(i), at[p.a]-at[p.b]+t*d) * d
	}
	return slope
}

// leaveSaddle moves a tenth of a volt along the direction that belongs to the first sum that is not positive, to the
// side on which the content falls, or falls more.
func (s *System) leaveSaddle(at, dir []float64) {
	s.linearise(false)
	s.x.removeMoving()
	clear(dir)
	for k := s.a.n - 1; k >= 0; k-- {
		if !(s.x.inv[k] > 0) {
			dir[k] = 1
			s.spreadDown(dir, k)
			break
		}
	}
	far := 0.0
	for k := range s.a.n {
		far = max(far, math.Abs(dir[k]))
	}
	for k := range s.a.n {
		dir[k] *= saddleMove / far
	}
	away := 1.0
	if s.slopeAlong(at, dir, 1) > -s.slopeAlong(at, dir, -1) {
		away = -1
	}
	for k := range s.a.n {
		at[k] += away * dir[k]
	}
}

const saddleMove = 0.1 // V

// spreadDown carries a unit voltage at step k to all steps removed before it.
func (s *System) spreadDown(dir []float64, k int) {
	for j := k - 1; j >= 0; j-- {
		for e := s.a.colAt[j]; e < s.a.colAt[j+1]; e++ {
			if int(s.a.end[e]) <= k {
				dir[j] += s.x.weight[e] * dir[s.a.end[e]]
			}
		}
	}
}
