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
		s.branch[k].v = st.Branch[k]
	}
	copy(s.x.volts, st.Volts)
	copy(s.last, st.Volts[:s.a.n])
	s.begun = st.Begun
}
