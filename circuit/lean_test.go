package circuit_test

import (
	"bytes"
	"testing"

	"doorwright/circuit"
)

// What a door leans on is the same from one solve to the next, and another when a load elsewhere on its supply changes;
// a change within the door itself leaves it as it is.
func TestLeaningTellsWhatIsElsewhere(t *testing.T) {
	p := newPlant(11, 6, 6)
	s := circuit.Analyse(p.n).System(p.n)
	p.setQuiet(s)
	s.Cold()
	s.Solve()
	r := s.Region(p.doors[0].nodes)
	own := map[circuit.Node]bool{}
	for _, v := range p.doors[0].nodes {
		own[v] = true
	}
	first := s.Lean(r, nil)
	s.Solve()
	if again := s.Lean(r, nil); len(first) == 0 || !bytes.Equal(first, again) {
		t.Fatalf("another lean after another solve: %d bytes, then %d", len(first), len(again))
	}
	elsewhere := 0
	for e := range circuit.Element(p.n.Elements()) {
		a, b := p.n.Ends(e)
		if p.n.ElementName(e) == "" || r.Has(a) && r.Has(b) {
			continue
		}
		s.Force(e, false)
		s.Solve()
		if !bytes.Equal(first, s.Lean(r, nil)) {
			elsewhere++
		}
		s.Repair(e)
	}
	s.Solve()
	if elsewhere < 20 {
		t.Errorf("only %d cuts elsewhere change what the door leans on", elsewhere)
	}
}
