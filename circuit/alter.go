package circuit

import "doorwright/unit"

// What is altered or forced here belongs to one System and leaves its Network as it is: many systems of one network can
// each have a fault of their own.

// force is whether an element is on or off whatever its gate says.
type force uint8

const (
	asGated force = iota
	forcedOn
	forcedOff
)

// AlterOhms gives a resistor, a contact or a linear source another resistance.
func (s *System) AlterOhms(e Element, r unit.Ohm) {
	if s.where[e] < 0 && s.ohms[e] != float64(r) {
		s.ohms[e] = float64(r)
		s.resum(int32(e))
	}
}

// SetVolts gives a linear source another voltage, until the next Load; what is altered besides is lost.
func (s *System) SetVolts(e Element, v unit.Volt) {
	s.given[e], s.emf[e] = float64(v), float64(v)
	s.resum(int32(e))
}

// Scale multiplies what an element is known by: the voltage of a source or supply, the power or current of a load, the
// limit of a limiter, else the resistance.
func (s *System) Scale(e Element, factor float64) {
	if b := s.where[e]; b >= 0 {
		s.branch[b].law = scaled(s.branch[b].law, factor)
		return
	}
	if s.emf[e] != 0 {
		s.emf[e] *= factor
	} else {
		s.ohms[e] *= factor
	}
	s.resum(int32(e))
}

func scaled(l law, factor float64) law {
	switch l := l.(type) {
	case *supply:
		spec := l.spec
		spec.Volts = unit.Volt(float64(spec.Volts) * factor)
		return newSupply(spec)
	case currentLoad:
		l.amperes *= factor
		return l
	case powerLoad:
		l.watts *= factor
		return l
	case limiter:
		return limiter{l.limit * factor, l.knee * factor}
	}
	return l
}

// Force puts an element on or off for good, whatever its gate says.
func (s *System) Force(e Element, on bool) {
	s.forced[e] = forcedOff
	if on {
		s.forced[e] = forcedOn
	}
	s.refresh(int32(e))
}

// Repair gives an element the value of the network, or the voltage that was set, again, and leaves it to its gate.
func (s *System) Repair(e Element) {
	s.forced[e] = asGated
	s.refresh(int32(e))
	if b := s.where[e]; b >= 0 {
		s.branch[b].law = s.n.elements[e].law
		return
	}
	if s.ohms[e] != s.n.elements[e].ohms || s.emf[e] != s.given[e] {
		s.ohms[e], s.emf[e] = s.n.elements[e].ohms, s.given[e]
		s.resum(int32(e))
	}
}
