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
	st := State{
		Switches: slices.Clone(s.setting), Senses: slices.Clone(s.sensed),
		Branch: make([]float64, len(s.branch)), Volts: slices.Clone(s.x.volts), Begun: s.begun,
	}
	for k := range s.branch {
		st.Branch[k] = s.branch[k].v
	}
	return st
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
