package circuit_test

import (
	"fmt"
	"testing"

	"doorwright/circuit"
)

func TestPlantScratch(t *testing.T) {
	for _, doors := range []int{1, 9, 38} {
		p := newPlant(1, doors, 64)
		a := circuit.Analyse(p.n)
		s := a.System(p.n)
		p.setQuiet(s)
		r := s.Solve()
		fmt.Printf("%+v %+v\n", r, s.Balance())
		r = s.Solve()
		fmt.Printf("%+v %+v\n", r, s.Balance())
	}
}
func BenchmarkCold(b *testing.B) {
	for _, doors := range []int{1, 9, 38, 153} {
		p := newPlant(1, doors, 64)
		a := circuit.Analyse(p.n)
		s := a.System(p.n)
		p.setQuiet(s)
		b.Run(fmt.Sprint(p.n.Nodes()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				s.Cold()
				s.Solve()
			}
		})
	}
}
