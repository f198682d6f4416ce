package circuit

import "slices"

// State is where a System stands: switches, senses and the solution. It is plain values and fits any System of the same
// pattern.
type State struct {
	Switches, Senses []bool
	Branch           []float64 // V, the linearisation of each nonlinear element
	Volts            []float64 // V, by elimination step
	Begun            bool
}

// Snapshot is a copy of the present state.
func (s *System) Snapshot() State {
	var st State
	s.SnapshotTo(&st)
	return st
}

// SnapshotTo makes st a copy of the present state, in the memory that it has.
func (s *System) SnapshotTo(st *State) {
	st.Switches, st.Senses = append(st.Switches[:0], s.setting...), append(st.Senses[:0], s.sensed...)
	st.Volts, st.Begun = append(st.Volts[:0], s.x.volts...), s.begun
	st.Branch = slices.Grow(st.Branch[:0], len(s.branch))
	for k := range s.branch {
		st.Branch = append(st.Branch, s.branch[k].v)
	}
}

// Restore goes back to a state. The voltages are those of the state; a Solve from there starts warm.
func (s *System) Restore(st State) {
	for k, on := range st.Switches {
		s.Set(Switch(k), on)
	}
	for k, on := range st.Senses {
		s.setSense(Sense(k), on)
	}
	for k := range s.branch {
		s.branch[k].v, s.branch[k].fresh = st.Branch[k], false
	}
	copy(s.x.volts, st.Volts)
	copy(s.last, st.Volts[:s.a.n])
	s.begun = st.Begun
}

// Twin is a system of its own that is in everything as s is, what was altered included. It takes the memory of old, a
// system of the same analysis that nobody uses any more, or makes its own when that is nil.
func (s *System) Twin(old *System) *System {
	t := old
	if t == nil {
		t = &System{
			a: s.a, x: newMesh(s.a), where: s.where, all: s.all, events: newEvents(len(s.sensed)),
			branch: make([]branch, len(s.branch)), on: make([]bool, len(s.on)), forced: make([]force, len(s.forced)),
			ohms: make([]float64, len(s.ohms)), given: make([]float64, len(s.given)), emf: make([]float64, len(s.emf)),
			setting: make([]bool, len(s.setting)), sensed: make([]bool, len(s.sensed)),
			last: make([]float64, len(s.last)), trial: make([]float64, len(s.trial)), dropped: make([]float64, len(s.dropped)),
		}
	}
	t.n, t.nominal, t.begun, t.eased = s.n, s.nominal, s.begun, s.eased
	copy(t.x.all, s.x.all)
	copy(t.x.stale, s.x.stale)
	t.x.staleFixed = s.x.staleFixed
	copy(t.branch, s.branch)
	copy(t.on, s.on)
	copy(t.forced, s.forced)
	for _, values := range [][2][]float64{{t.ohms, s.ohms}, {t.given, s.given}, {t.emf, s.emf}, {t.last, s.last}} {
		copy(values[0], values[1])
	}
	copy(t.setting, s.setting)
	copy(t.sensed, s.sensed)
	return t
}

// Follow goes on from where another system stands: its switches, its senses and its voltages. The network of the other
// is that of s but for elements that s has more, or has altered.
func (s *System) Follow(o *System) {
	for k, on := range o.setting {
		s.Set(Switch(k), on)
	}
	for k, on := range o.sensed {
		s.setSense(Sense(k), on)
	}
	for v := range o.a.n {
		s.x.volts[s.a.step(Node(v))] = o.x.volts[o.a.step(Node(v))]
	}
	copy(s.last, s.x.volts)
	for k := range s.branch {
		b := &s.branch[k]
		b.v, b.fresh = s.x.volts[b.a]-s.x.volts[b.b], false
		if w := s.where[b.element]; int(b.element) < len(o.where) && o.where[b.element] >= 0 && w >= 0 {
			b.v = o.branch[o.where[b.element]].v
		}
	}
	s.begun = true
}
