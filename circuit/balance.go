package circuit

import (
	"math"

	"doorwright/unit"
)

// Balance is a check of a solution by the laws of Kirchhoff and of energy, computed from the elements alone.
type Balance struct {
	Residual unit.Ampere // the largest sum of currents at any node
	Node     Node        // that node
	In, Out  unit.Watt   // given by the elements that give, taken by those that take and by the leaks
}

// Balance checks the last solution.
func (s *System) Balance() Balance { return s.balance(s.x.volts) }

// LeftOver is the current that the voltages of somebody else's solution leave over at a node: nothing, were they exact.
func (s *System) LeftOver(at Node, volts func(Node) unit.Volt) unit.Ampere {
	v := make([]float64, s.a.n+1)
	for k := range s.a.n {
		v[k] = float64(volts(Node(s.a.nodeAt[k])))
	}
	s.balance(v)
	return unit.Ampere(s.trial[s.a.step(at)])
}

// balance sums the currents at each step into the work space.
func (s *System) balance(volts []float64) Balance {
	rest := s.trial[:s.a.n+1]
	b := Balance{Node: Earth}
	for k := range rest {
		i := LeakSiemens * volts[k]
		rest[k] = i
		b.Out += unit.Watt(i * volts[k])
	}
	for e := range s.n.elements {
		p := s.a.place[e]
		v := volts[p.a] - volts[p.b]
		i := s.currentAt(Element(e), v)
		rest[p.a] += i
		rest[p.b] -= i
		s.addPower(&b, Element(e), v, i)
	}
	for k := range s.a.n {
		if r := math.Abs(rest[k]); r > float64(b.Residual) {
			b.Residual, b.Node = unit.Ampere(r), Node(s.a.nodeAt[k])
		}
	}
	return b
}

// addPower books the power of an element; a source behind its resistance gives as the one and takes as the other.
func (s *System) addPower(b *Balance, e Element, v, i float64) {
	p := v * i
	if s.n.elements[e].law == nil && s.on[e] && s.emf[e] != 0 {
		given := -s.emf[e] * i
		p += given
		b.add(-given)
	}
	b.add(p)
}

func (b *Balance) add(p float64) {
	if p < 0 {
		b.In -= unit.Watt(p)
	} else {
		b.Out += unit.Watt(p)
	}
}
