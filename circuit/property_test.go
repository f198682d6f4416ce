package circuit_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"doorwright/circuit"
	"doorwright/unit"
)

// The laws of direct current networks that any textbook proves, tried on random networks: superposition, reciprocity
// (Desoer and Kuh, Basic Circuit Theory, 1969, chapter 16, from memory), and what follows from all conductances being
// positive (an M-matrix has an inverse without negative entries; Berman and Plemmons 1979, from memory).

// part is one element of a random network, apart from any Network, so that the same one can be built in another order.
type part struct {
	kind   string
	a, b   int // nodes, 0 is Earth
	figure float64
}

// sketch is a random network. All its parts pass no less current at a higher voltage, so its solution is unique.
type sketch struct {
	nodes int
	parts []part
}

// built is a sketch as a network.
type built struct {
	n       *circuit.Network
	nodes   []circuit.Node
	element []circuit.Element // of each part
}

func drawSketch(t *rapid.T, kinds ...string) sketch {
	k := sketch{nodes: rapid.IntRange(2, 12).Draw(t, "nodes")}
	ohms := rapid.Float64Range(0.05, 500)
	for v := 1; v <= k.nodes; v++ { // every node hangs on an earlier one or on Earth
		k.parts = append(k.parts, part{"resistor", rapid.IntRange(0, v-1).Draw(t, "from"), v, ohms.Draw(t, "ohms")})
	}
	node := rapid.IntRange(0, k.nodes)
	for range rapid.IntRange(1, 2*k.nodes).Draw(t, "more") {
		p := part{kind: rapid.SampledFrom(kinds).Draw(t, "kind"), a: node.Draw(t, "a"), b: node.Draw(t, "b")}
		switch p.kind {
		case "resistor":
			p.figure = ohms.Draw(t, "ohms")
		case "source":
			p.b, p.figure = 0, rapid.Float64Range(0, 24).Draw(t, "volts")
		case "supply":
			p.b, p.figure = 0, rapid.Float64Range(1, 24).Draw(t, "volts")
		case "current", "limiter":
			p.figure = rapid.Float64Range(0.01, 1).Draw(t, "amperes")
		}
		if p.kind == "current" {
			p.b = 0
		}
		k.parts = append(k.parts, p)
	}
	return k
}

var (
	linear   = []string{"resistor", "source"}
	monotone = []string{"resistor", "source", "supply", "current", "limiter", "diode", "clamp"}
)

// build adds the nodes and the parts in the given orders, nil for the order of the sketch.
func (k sketch) build(t *rapid.T, nodeOrder, partOrder []int) built {
	c := built{circuit.New(), make([]circuit.Node, k.nodes+1), make([]circuit.Element, len(k.parts))}
	c.nodes[0] = circuit.Earth
	for i := range k.nodes {
		v := i
		if nodeOrder != nil {
			v = nodeOrder[i]
		}
		c.nodes[v+1] = c.n.Node(fmt.Sprint("n", v+1))
	}
	for i := range k.parts {
		j := i
		if partOrder != nil {
			j = partOrder[i]
		}
		c.element[j] = c.add(fmt.Sprint("p", j), k.parts[j])
	}
	if err := c.n.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

const sourceOhms = 0.5

func (c built) add(name string, p part) circuit.Element {
	a, b := c.nodes[p.a], c.nodes[p.b]
	switch p.kind {
	case "resistor":
		return c.n.Resistor(name, a, b, unit.Ohm(p.figure))
	case "source":
		return c.n.Source(name, a, b, unit.Volt(p.figure), sourceOhms, circuit.Gate{})
	case "supply":
		s := circuit.LimitedSource{Volts: unit.Volt(p.figure), Ohms: 0.1, Limit: 2, Short: 2}
		return c.n.LimitedSource(name, a, b, s, circuit.Gate{})
	case "current":
		return c.n.ConstantCurrent(name, a, b, unit.Ampere(p.figure), 2, circuit.Gate{})
	case "limiter":
		return c.n.Limiter(name, a, b, 0.2, unit.Ampere(p.figure), circuit.Gate{})
	case "diode":
		return c.n.Diode(name, a, b, circuit.DiodeModel{Saturation: 7e-9, Slope: 0.0466})
	case "clamp":
		return c.n.Clamp(name, a, b, circuit.ClampModel{Volts: 8, Exponent: 25})
	case "power":
		return c.n.ConstantPower(name, a, b, unit.Watt(p.figure), 3, circuit.Gate{})
	}
	panic("no such kind of part: " + p.kind)
}

// volts are the node voltages of a cold solution.
func (c built) volts(t *rapid.T) []float64 { return c.voltsOf(t, circuit.Analyse(c.n).System(c.n)) }

func (c built) voltsOf(t *rapid.T, s *circuit.System) []float64 {
	if r := s.Solve(); r.Outcome == circuit.NotConverged {
		t.Fatal(r.Outcome)
	}
	v := make([]float64, len(c.nodes))
	for i := 1; i < len(v); i++ {
		v[i] = float64(s.Volts(c.nodes[i]))
	}
	return v
}

// same fails when two solutions differ by more than a microvolt, ten million times less than what stands in them.
func same(t *rapid.T, what string, got, want []float64) {
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= 1e-6) {
			t.Fatalf("%s: node %d has %.9g V, want %.9g V", what, i, got[i], want[i])
		}
	}
}

// noHigher fails when a voltage has risen by more than rounding.
func noHigher(t *rapid.T, what string, got, than []float64) {
	for i := range than {
		if !(got[i] <= than[i]+1e-7) {
			t.Fatalf("%s: node %d rises from %.9g V to %.9g V", what, i, than[i], got[i])
		}
	}
}

func TestSourcesTogetherGiveTheSumOfEachAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, linear...)
		together := k.build(t, nil, nil)
		want := together.volts(t)
		sum := make([]float64, len(want))
		for i, p := range k.parts {
			if p.kind != "source" {
				continue
			}
			alone := k.build(t, nil, nil)
			for j, q := range k.parts {
				if q.kind == "source" && j != i {
					alone.n.SetVolts(alone.element[j], 0)
				}
			}
			for v, volts := range alone.volts(t) {
				sum[v] += volts
			}
		}
		same(t, "sum of each source alone", sum, want)
	})
}

func TestCurrentAndVoltsChangePlaces(t *testing.T) {
	const ohms = 1000 // a kilovolt behind a kilohm is an ampere beside a kilohm
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, "resistor")
		node := rapid.IntRange(1, k.nodes)
		at := [2]int{node.Draw(t, "one"), node.Draw(t, "other")}
		c := k.build(t, nil, nil)
		var inject [2]circuit.Element
		for i, v := range at {
			inject[i] = c.n.Source(fmt.Sprint("inject", i), c.nodes[v], circuit.Earth, 0, ohms, circuit.Gate{})
		}
		s := circuit.Analyse(c.n).System(c.n)
		var seen [2]float64
		for i := range at {
			c.n.SetVolts(inject[i], ohms)
			c.n.SetVolts(inject[1-i], 0)
			s.Load(c.n)
			seen[i] = c.voltsOf(t, s)[at[1-i]]
		}
		if math.Abs(seen[0]-seen[1]) > 1e-9*math.Abs(seen[0]) {
			t.Fatalf("an ampere at %d gives %.12g V at %d, the other way %.12g V", at[0], seen[0], at[1], seen[1])
		}
		z := float64(s.Impedance(c.nodes[at[0]], circuit.Earth)) + float64(s.Impedance(c.nodes[at[1]], circuit.Earth)) -
			float64(s.Impedance(c.nodes[at[0]], c.nodes[at[1]]))
		if math.Abs(z/2-seen[0]) > 1e-6*(1+seen[0]) {
			t.Fatalf("an ampere gives %.12g V, the impedances say %.12g V", seen[0], z/2)
		}
	})
}

func TestOrderOfNodesAndElementsMeansNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, monotone...)
		numbers := func(n int) []int {
			list := make([]int, n)
			for i := range list {
				list[i] = i
			}
			return list
		}
		nodes := rapid.Permutation(numbers(k.nodes)).Draw(t, "node order")
		parts := rapid.Permutation(numbers(len(k.parts))).Draw(t, "part order")
		same(t, "in another order", k.build(t, nodes, parts).volts(t), k.build(t, nil, nil).volts(t))
	})
}

func TestChangedValuesSolveAsAFreshNetworkDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, append([]string{"power"}, monotone...)...)
		for i := range k.parts {
			if p := &k.parts[i]; p.kind == "power" {
				p.b, p.figure = 0, rapid.Float64Range(0.1, 5).Draw(t, "watts")
			}
		}
		c := k.build(t, nil, nil)
		analysis := circuit.Analyse(c.n)
		s := analysis.System(c.n)
		c.voltsOf(t, s)
		changed := sketch{k.nodes, append([]part(nil), k.parts...)}
		manyRoots := false
		for i, p := range k.parts {
			manyRoots = manyRoots || p.kind == "power"
			if p.kind == "limiter" {
				continue // its figures cannot be set
			}
			changed.parts[i].figure = p.figure * rapid.Float64Range(0.5, 2).Draw(t, "factor")
			c.change(c.element[i], changed.parts[i])
		}
		if err := c.n.Err(); err != nil {
			t.Fatal(err)
		}
		s.Load(c.n)
		warm := c.voltsOf(t, s)
		s.Cold()
		cold := c.voltsOf(t, s)
		fresh := changed.build(t, nil, nil).volts(t)
		for i := range fresh {
			if cold[i] != fresh[i] { // the very same arithmetic
				t.Fatalf("cold again: node %d has %v V, fresh %v V", i, cold[i], fresh[i])
			}
		}
		if !manyRoots {
			same(t, "warm", warm, fresh)
		}
	})
}

// change gives an element the figure of a part; diodes and clamps keep theirs.
func (c built) change(e circuit.Element, p part) {
	switch p.kind {
	case "resistor":
		c.n.SetOhms(e, unit.Ohm(p.figure))
	case "source", "supply":
		c.n.SetVolts(e, unit.Volt(p.figure))
	case "current":
		c.n.SetCurrent(e, unit.Ampere(p.figure))
	case "power":
		c.n.SetPower(e, unit.Watt(p.figure))
	}
}

// Whatever the rest of the network is, seen from a load it gives less the more is taken; so a longer feed lowers the
// load, of whichever kind it is.
func TestMoreOhmsInItsFeedNeverRaiseALoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, monotone...)
		from, load := rapid.IntRange(1, k.nodes).Draw(t, "fed from"), k.nodes+1
		k.nodes++
		ohms := rapid.Float64Range(0.01, 20).Draw(t, "feed")
		feed := len(k.parts)
		k.parts = append(k.parts, part{"resistor", from, load, ohms}, drawLoad(t, load))
		short := k.build(t, nil, nil).volts(t)[load]
		k.parts[feed].figure = ohms * rapid.Float64Range(1, 10).Draw(t, "longer")
		long := k.build(t, nil, nil).volts(t)[load]
		noHigher(t, "longer feed", []float64{long}, []float64{short})
	})
}

func drawLoad(t *rapid.T, at int) part {
	return part{
		rapid.SampledFrom([]string{"resistor", "current", "power"}).Draw(t, "load"), at, 0,
		rapid.Float64Range(0.05, 5).Draw(t, "size"),
	}
}

func TestAnAddedLoadRaisesNoNode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, monotone...)
		before := k.build(t, nil, nil).volts(t)
		k.parts = append(k.parts, drawLoad(t, rapid.IntRange(1, k.nodes).Draw(t, "at")))
		noHigher(t, "added load", k.build(t, nil, nil).volts(t), before)
	})
}

// One source, conductors in any mesh, loads to Earth: with the conductors all thicker in the same proportion no load
// falls. The drop u obeys s G u = I, so it falls with s wherever the root is stable. (One thicker conductor among
// others can lower a load elsewhere: what it feeds takes more.)
func TestThickerConductorsNeverLowerALoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, "resistor")
		for i := range k.parts {
			p := &k.parts[i]
			p.a, p.b, p.figure = max(p.a, 1), max(p.b, 1), p.figure/500 // node 1 is the source's
		}
		conductors := len(k.parts)
		for range rapid.IntRange(1, 4).Draw(t, "loads") {
			k.parts = append(k.parts, drawLoad(t, rapid.IntRange(1, k.nodes).Draw(t, "at")))
		}
		source := len(k.parts)
		k.parts = append(k.parts, part{"source", 1, 0, rapid.Float64Range(8, 28).Draw(t, "volts")})
		c := k.build(t, nil, nil)
		thin := c.volts(t)
		thicker := rapid.Float64Range(1, 6).Draw(t, "thicker")
		for i := range conductors {
			c.n.SetOhms(c.element[i], unit.Ohm(k.parts[i].figure/thicker))
		}
		c.n.SetOhms(c.element[source], unit.Ohm(sourceOhms/thicker)) // its leads count as conductors
		noHigher(t, "thinner conductors", thin, c.volts(t))
	})
}

// On a tree every conductor by itself may be thickened, when no load takes more at a higher voltage: the currents are
// given, and each drop is theirs times the ohms on the way.
func TestAnyThickerConductorOfATreeLowersNoLoadOfGivenCurrentOrPower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := sketch{nodes: rapid.IntRange(2, 12).Draw(t, "nodes")}
		for v := 2; v <= k.nodes; v++ {
			ohms := rapid.Float64Range(0.01, 1).Draw(t, "ohms")
			k.parts = append(k.parts, part{"resistor", rapid.IntRange(1, v-1).Draw(t, "from"), v, ohms})
		}
		conductors := len(k.parts)
		for v := 2; v <= k.nodes; v++ {
			kind := rapid.SampledFrom([]string{"current", "power"}).Draw(t, "load")
			k.parts = append(k.parts, part{kind, v, 0, rapid.Float64Range(0.01, 0.1).Draw(t, "size")})
		}
		k.parts = append(k.parts, part{"source", 1, 0, rapid.Float64Range(18, 28).Draw(t, "volts")})
		c := k.build(t, nil, nil)
		thin := c.volts(t)
		i := rapid.IntRange(0, conductors-1).Draw(t, "thickened")
		c.n.SetOhms(c.element[i], unit.Ohm(k.parts[i].figure/rapid.Float64Range(1, 10).Draw(t, "thicker")))
		noHigher(t, "thinner conductor", thin, c.volts(t))
	})
}
