package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"doorwright/circuit"
	"doorwright/unit"
)

// flaw is something wrong in a plant, put once into a system as alterations and patches, and once into a network of its
// own as true elements.
type flaw struct {
	cut     []circuit.Element
	forced  map[circuit.Element]bool
	joins   [][2]circuit.Node
	ohms    unit.Ohm
	foreign unit.Volt
}

// flawIn picks a flaw in door d of a plant: cuts, bridges, swaps, a stuck contact, a supply brought along.
func flawIn(p *plant, d int, r *rand.Rand) flaw {
	own := map[circuit.Node]bool{}
	for _, v := range p.doors[d].nodes {
		own[v] = true
	}
	var wires []circuit.Element
	for e := range circuit.Element(p.n.Elements()) {
		a, b := p.n.Ends(e)
		if own[a] && own[b] && p.n.ElementName(e) != "" {
			wires = append(wires, e)
		}
	}
	pick := func() circuit.Node { return p.doors[d].nodes[r.IntN(len(p.doors[d].nodes))] }
	f := flaw{forced: map[circuit.Element]bool{}, ohms: []unit.Ohm{0.05, 10, 1e4}[r.IntN(3)]}
	switch r.IntN(5) {
	case 0:
		f.cut = append(f.cut, wires[r.IntN(len(wires))])
	case 1:
		f.joins = append(f.joins, [2]circuit.Node{pick(), pick()})
	case 2:
		f.joins = append(f.joins, [2]circuit.Node{pick(), pick()}, [2]circuit.Node{pick(), pick()})
		f.cut = append(f.cut, wires[r.IntN(len(wires))])
	case 3:
		f.forced[wires[r.IntN(len(wires))]] = r.IntN(2) == 0
	case 4:
		f.joins = append(f.joins, [2]circuit.Node{pick(), pick()})
		f.ohms, f.foreign = 1, []unit.Volt{5, 12, 24}[r.IntN(3)]
	}
	return f
}

// local puts the flaw into a local solver; what it returns takes it out again.
func (f flaw) local(p *plant, l *circuit.Local) func() {
	s := l.System()
	for _, e := range f.cut {
		s.Force(e, false)
	}
	for e, on := range f.forced {
		s.Force(e, on)
	}
	for _, j := range f.joins {
		if f.foreign > 0 {
			l.Inject(j[0], j[1], circuit.LimitedSource{Volts: f.foreign, Ohms: f.ohms, Limit: 2, Short: 2})
		} else {
			l.Join(j[0], j[1], f.ohms)
		}
	}
	return func() {
		l.Unpatch()
		for _, e := range f.cut {
			s.Repair(e)
		}
		for e := range f.forced {
			s.Repair(e)
		}
	}
}

// whole is a system of a network that has the flaw in it.
func (f flaw) whole(p *plant) *circuit.System {
	n := p.n.Clone()
	for i, j := range f.joins {
		name := fmt.Sprintf("flaw%d", i)
		if f.foreign > 0 {
			n.LimitedSource(name, j[0], j[1], circuit.LimitedSource{Volts: f.foreign, Ohms: f.ohms, Limit: 2, Short: 2}, circuit.Gate{})
		} else {
			n.Resistor(name, j[0], j[1], f.ohms)
		}
	}
	s := circuit.Analyse(n).System(n)
	for _, e := range f.cut {
		s.Force(e, false)
	}
	for e, on := range f.forced {
		s.Force(e, on)
	}
	return s
}

// calmPlant is a plant at rest in two systems, one to put flaws into and one to begin whole solves from; nil where it has
// no rest.
func calmPlant(seed uint64) (p *plant, s, calm *circuit.System) {
	p = newPlant(seed, 6, 6)
	s = circuit.Analyse(p.n).System(p.n)
	p.setQuiet(s)
	if s.Solve().Outcome != circuit.Converged {
		return p, s, nil
	}
	calm = circuit.Analyse(p.n).System(p.n)
	calm.Restore(s.Snapshot())
	return p, s, calm
}

// A local solve gives what a solve of the whole gives, wherever the rest has no cause to move. Both start from the same
// sound state, so that they come to the same of several stable answers.
func TestLocalSolveIsThatOfTheWhole(t *testing.T) {
	tried, close, fallen := 0, 0, 0
	for seed := range uint64(40) {
		p, s, calm := calmPlant(seed)
		if calm == nil {
			continue
		}
		sound := s.Snapshot()
		r := rand.New(rand.NewPCG(seed, 7))
		for d := range p.doors {
			l := s.Local(s.Region(p.doors[d].nodes))
			for range 20 {
				f := flawIn(p, d, r)
				mend := f.local(p, l)
				got := l.Solve()
				drift := l.Drift()
				if got.Outcome == circuit.NotConverged || drift > 0.02 {
					fallen++
				} else {
					tried++
					ref := f.whole(p)
					p.setQuiet(ref)
					ref.Follow(calm)
					ref.Solve()
					worst, at := 0.0, circuit.Earth
					for _, v := range p.doors[d].nodes {
						if off := math.Abs(float64(s.Volts(v) - ref.Volts(v))); off > worst {
							worst, at = off, v
						}
					}
					if worst > 1e-3 {
						t.Errorf("seed %d door %d %+v: %s is off by %.3g V (%v, drift %v)", seed, d, f, p.n.Name(at), worst, got.Outcome, drift)
					}
					if worst < 1e-5 {
						close++
					}
				}
				mend()
				s.Restore(sound)
			}
			l.Solve() // leaves the region as it was found, for the next door to lean on
		}
	}
	t.Logf("%d tried, %d within 10 uV, %d left to a solve of the whole", tried, close, fallen)
	if tried < 2000 {
		t.Error("too few were tried")
	}
}

// Where the rest has moved beyond its straight lines and bends, every node of it and of the region is where a solve of the
// whole has it, as long as no sense outside would turn; undone, the rest is where it was to a microvolt.
func TestTheRestBendsAsTheWholeDoes(t *testing.T) {
	bent, close, stiff := 0, 0, 0
	for seed := range uint64(60) {
		p, s, calm := calmPlant(seed)
		if calm == nil {
			continue
		}
		r := rand.New(rand.NewPCG(seed, 11))
		for d := range p.doors {
			l := s.Local(s.Region(p.doors[d].nodes))
			var rest circuit.LocalState
			l.Save(&rest)
			for range 20 {
				f := flawIn(p, d, r)
				mend := f.local(p, l)
				solved := func() bool { return l.Solve().Outcome == circuit.Converged }
				before := voltsOf(p, s)
				if solved() && l.Drift() > 0.02 {
					if l.Bend(solved) {
						bent++
						ref := f.whole(p)
						p.setQuiet(ref)
						ref.Follow(calm)
						ref.Solve()
						worst := furthest(voltsOf(p, s), voltsOf(p, ref))
						if worst > 1e-3 {
							t.Errorf("seed %d door %d %+v: off by %.3g V (drift %v)", seed, d, f, worst, l.Drift())
						}
						if worst < 1e-5 {
							close++
						}
					} else {
						stiff++
					}
				}
				mend()
				l.Load(&rest)
				l.Solve()
				if off := furthest(voltsOf(p, s), before); off > 1e-6 {
					t.Fatalf("seed %d door %d %+v: the rest was left %.3g V from where it was", seed, d, f, off)
				}
			}
		}
	}
	t.Logf("%d bent, %d within 10 uV, %d did not", bent, close, stiff)
	if bent < 200 || close < bent-bent/100 {
		t.Error("too few bent, or too few are within 10 uV")
	}
}

func voltsOf(p *plant, s *circuit.System) []float64 {
	var all []float64
	for v := range p.n.Nodes() {
		all = append(all, float64(s.Volts(circuit.Node(v))))
	}
	return all
}

func furthest(a, b []float64) float64 {
	far := 0.0
	for i := range a {
		far = max(far, math.Abs(a[i]-b[i]))
	}
	return far
}
