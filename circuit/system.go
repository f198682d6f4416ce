package circuit

import (
	"doorwright/unit"
)

// System solves one network after another of the same pattern. It is not safe for use by several goroutines at once.
// After it was made, Solve and all else but Snapshot, Netlist and an unlucky Report allocate nothing.
type System struct {
	a       *Analysis
	n       *Network
	x       mesh
	branch  []branch  // the nonlinear elements, equal laws together
	where   []int32   // of each element: its branch, or -1
	on      []bool    // of each element
	forced  []force   // of each element: on or off whatever its gate says
	ohms    []float64 // of each linear element, as altered
	given   []float64 // of each linear element: its voltage before it is altered
	emf     []float64 // of each linear element, as altered
	setting []bool    // of each switch
	sensed  []bool    // of each sense
	all     scope     // everything
	nominal float64   // highest source voltage
	begun   bool      // the branches have voltages to start from
	eased   bool      // some slope was taken as zero in the last linearisation, which is no place to rest then
	last    []float64
	events  events
	trial   []float64 // work space of the last rung
	dropped []float64 // work space by step, at nothing between uses
}

// branch is a nonlinear element at its present linearisation.
type branch struct {
	place
	on      bool
	fresh   bool // just turned on: what feeds it does not know its current yet
	element Element
	v       float64 // the voltage it is linearised at
	law     law
}

// System makes a numeric system for n, cold and with all switches off. It panics when n has another pattern than the
// network analysed.
func (a *Analysis) System(n *Network) *System {
	s := &System{
		a: a, x: newMesh(a),
		where:   make([]int32, len(n.elements)),
		on:      make([]bool, len(n.elements)),
		forced:  make([]force, len(n.elements)),
		ohms:    make([]float64, len(n.elements)),
		given:   make([]float64, len(n.elements)),
		emf:     make([]float64, len(n.elements)),
		setting: make([]bool, len(n.switches)),
		sensed:  make([]bool, len(n.senses)),
		last:    make([]float64, a.n),
		trial:   make([]float64, 2*(a.n+1)),
		dropped: make([]float64, a.n+1),
		events:  newEvents(len(n.senses)),
	}
	s.arrange(n)
	for k := range n.senses {
		s.all.senses = append(s.all.senses, Sense(k))
	}
	for k := range s.branch {
		s.all.branches = append(s.all.branches, int32(k))
	}
	s.Load(n)
	return s
}

// Analysis is the one it was made by.
func (s *System) Analysis() *Analysis { return s.a }

// arrange makes the branches, those of one kind of law together, for which the processor is grateful.
func (s *System) arrange(n *Network) {
	for i := range s.where {
		s.where[i] = -1
	}
	for kind := range lawKinds {
		for i := range n.elements {
			e := &n.elements[i]
			p := s.a.place[i]
			if e.law == nil || p.conductance < 0 || kindOf(e.law) != kind {
				continue
			}
			s.where[i] = int32(len(s.branch))
			s.branch = append(s.branch, branch{place: p, element: Element(i)})
		}
	}
}

const lawKinds = 6

func kindOf(l law) int {
	switch l.(type) {
	case *supply:
		return 0
	case diode:
		return 1
	case clamp:
		return 2
	case currentLoad:
		return 3
	case limiter:
		return 4
	}
	return 5
}

// Load takes the values of n, which must have the pattern analysed, and forgets what was altered; switches, senses and
// what is forced stay as they are, and so does the solution as a place to start from.
func (s *System) Load(n *Network) {
	if !s.a.pattern.matches(n) {
		panic("circuit: a network of another pattern than the one analysed")
	}
	s.n = n
	s.nominal = nominal(n)
	for i := range s.branch {
		s.branch[i].law = n.elements[s.branch[i].element].law
	}
	for i := range n.elements {
		s.ohms[i], s.emf[i], s.given[i] = n.elements[i].ohms, n.elements[i].emf, n.elements[i].emf
		s.on[i] = s.turnedOn(int32(i))
		if b := s.where[i]; b >= 0 {
			s.branch[b].on = s.on[i]
		}
	}
	for c := range s.x.linear {
		s.sumConductance(int32(c))
	}
	for k := range s.a.n {
		s.sumSources(int32(k))
	}
}

// nominal is the highest source voltage of n, the scale of first guesses.
func nominal(n *Network) float64 {
	v := 1.0
	for i := range n.elements {
		e := &n.elements[i]
		v = max(v, e.emf, -e.emf)
		if s, ok := e.law.(*supply); ok {
			v = max(v, s.volts)
		}
	}
	return v
}

// linearOf is the conductance of a linear element and the current it drives into its first terminal.
func (s *System) linearOf(i int32) (g, inject float64) {
	if !s.on[i] {
		return openSiemens, 0
	}
	g = 1 / max(s.ohms[i], LeastOhms)
	return g, g * s.emf[i]
}

// sumConductance adds up the linear elements of a conductance. It always adds all of them in the same order, so that a
// sum does not remember what was switched before.
func (s *System) sumConductance(c int32) {
	g := 0.0
	step := c
	if int(c) < s.a.n {
		g = LeakSiemens
	} else {
		step = s.a.owner[int(c)-s.a.n]
	}
	for _, i := range s.a.summands.of(c) {
		gi, _ := s.linearOf(i)
		g += gi
	}
	s.x.linear[c] = g
	s.x.touch(step)
}

// sumSources adds up the currents of the linear sources at a step.
func (s *System) sumSources(k int32) {
	b := 0.0
	for _, i := range s.a.drives.of(k) {
		if s.emf[i] == 0 {
			continue
		}
		_, inject := s.linearOf(i)
		if s.a.place[i].b == k {
			inject = -inject
		}
		b += inject
	}
	s.x.source[k] = b
	s.x.touch(k)
}

// refresh brings element i up to date after its gate or value may have changed.
func (s *System) refresh(i int32) {
	on := s.turnedOn(i)
	if on == s.on[i] {
		return
	}
	s.on[i] = on
	if b := s.where[i]; b >= 0 {
		s.branch[b].on, s.branch[b].fresh = on, on
		if on && s.begun {
			// What stood across it while it was off says little of where it will work.
			s.branch[b].v = s.branch[b].law.begin(s.branch[b].v, s.nominal)
		}
		return
	}
	s.resum(i)
}

// turnedOn says whether an element is to be on: as it is forced, else as its gate says.
func (s *System) turnedOn(i int32) bool {
	if f := s.forced[i]; f != asGated {
		return f == forcedOn
	}
	return s.n.elements[i].gate.holds(s.setting, s.sensed)
}

// resum adds up anew what linear element i is part of.
func (s *System) resum(i int32) {
	p := s.a.place[i]
	if p.conductance < 0 || s.n.elements[i].law != nil {
		return
	}
	s.sumConductance(p.conductance)
	if s.n.elements[i].emf != 0 {
		s.sumSources(p.a)
		s.sumSources(p.b)
	}
}

// Set puts a switch on or off. The solution stays until Solve.
func (s *System) Set(sw Switch, on bool) {
	if s.setting[sw] == on {
		return
	}
	s.setting[sw] = on
	for _, i := range s.a.gatedBy[0].of(int32(sw)) {
		s.refresh(i)
	}
}

// SwitchOn says how a switch is set.
func (s *System) SwitchOn(sw Switch) bool { return s.setting[sw] }

// setSense puts a sense on or off.
func (s *System) setSense(k Sense, on bool) {
	if s.sensed[k] == on {
		return
	}
	s.sensed[k] = on
	for _, i := range s.a.gatedBy[1].of(int32(k)) {
		s.refresh(i)
	}
}

// Cold forgets the solution: all senses off, and the next Solve starts from first guesses.
func (s *System) Cold() {
	for k := range s.sensed {
		s.setSense(Sense(k), false)
	}
	s.begun = false
}

// Volts is the voltage of a node to Earth in the last solution.
func (s *System) Volts(v Node) unit.Volt { return unit.Volt(s.x.volts[s.a.step(v)]) }

// On says whether an element is on.
func (s *System) On(e Element) bool { return s.on[e] }

// SenseOn says whether a sense is on.
func (s *System) SenseOn(k Sense) bool { return s.sensed[k] }

// Current is what flows through an element from its first terminal to its second, by its own law at the last solution.
// A source that delivers has a negative one.
func (s *System) Current(e Element) unit.Ampere {
	p := s.a.place[e]
	return unit.Ampere(s.currentAt(e, s.x.volts[p.a]-s.x.volts[p.b]))
}

// currentAt is the current of an element at the voltage v across it.
func (s *System) currentAt(e Element, v float64) float64 {
	if !s.on[e] {
		return v * openSiemens
	}
	if b := s.where[e]; b >= 0 {
		i, _ := s.branch[b].law.at(v)
		return i
	}
	if l := s.n.elements[e].law; l != nil { // both ends on one node
		i, _ := l.at(v)
		return i
	}
	g, _ := s.linearOf(int32(e))
	return (v - s.emf[e]) * g
}

// Impedance is the small-signal resistance between two nodes at the last solution.
func (s *System) Impedance(a, b Node) unit.Ohm {
	// With the unit current spread by the weights, x^T D^-1 x: only the paths to the root carry any.
	x, i, k := s.dropped, s.a.step(a), s.a.step(b)
	x[i]++
	x[k]--
	z := 0.0
	for next := range s.a.way(i, k) {
		c := x[next]
		x[next] = 0
		z += c * c * s.x.inv[next]
		for e := s.a.colAt[next]; e < s.a.colAt[next+1]; e++ {
			x[s.a.end[e]] += s.x.weight[e] * c
		}
	}
	x[s.a.n] = 0
	return unit.Ohm(z)
}
