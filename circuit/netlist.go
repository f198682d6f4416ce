package circuit

import (
	"fmt"
	"strings"
)

// deckOptions make ngspice solve closely: its default gmin and tolerances would differ in the fourth figure on
// supervised loops. Still finer ones make it search for ever on floating parts, whose voltages it knows to ten
// microvolts at best.
const deckOptions = ".options reltol=1e-7 abstol=1e-12 vntol=1e-5 gmin=1e-15 itl1=500 temp=27 tnom=27\n"

// Netlist is a SPICE deck of exactly this network: the same node names, switches and senses frozen as they are,
// what was altered or forced as it is, the leaks, the same equations, and the solution as the voltages to start from. It asks for an operating point.
func (s *System) Netlist(title string) string {
	var b strings.Builder
	b.WriteString("* " + strings.ReplaceAll(title, "\n", " ") + "\n" + deckFunctions)
	for i := range s.n.elements {
		s.writeElement(&b, i)
	}
	b.WriteString("* the leak of every node to earth\n")
	for i, name := range s.n.names {
		fmt.Fprintf(&b, "RL%d %s 0 %s\n", i, name, exact(1/LeakSiemens))
	}
	for i, name := range s.n.names {
		fmt.Fprintf(&b, ".nodeset v(%s)=%s\n", name, exact(float64(s.Volts(Node(i)))))
	}
	b.WriteString(deckOptions + ".op\n.end\n")
	return b.String()
}

func (s *System) writeElement(b *strings.Builder, i int) {
	e := &s.n.elements[i]
	plus, minus := s.n.Name(e.a), s.n.Name(e.b)
	fmt.Fprintf(b, "* %s\n", e.name)
	switch {
	case e.a == e.b:
		b.WriteString("* both ends on one node\n")
	case !s.on[i]:
		fmt.Fprintf(b, "R%d %s %s %s\n", i, plus, minus, exact(OpenOhms))
	case e.law != nil:
		b.WriteString(s.lawOf(i).spice(i, plus, minus) + "\n")
	case s.emf[i] != 0:
		inner := fmt.Sprintf("_emf%d", i) // no node name starts with an underscore
		fmt.Fprintf(b, "V%d %s %s DC %s\nR%d %s %s %s\n", i, inner, minus, exact(s.emf[i]),
			i, plus, inner, exact(max(s.ohms[i], LeastOhms)))
	default:
		fmt.Fprintf(b, "R%d %s %s %s\n", i, plus, minus, exact(max(s.ohms[i], LeastOhms)))
	}
}

// lawOf is the law of a nonlinear element, as altered.
func (s *System) lawOf(i int) law {
	if k := s.where[i]; k >= 0 {
		return s.branch[k].law
	}
	return s.n.elements[i].law
}
