package circuit_test

import (
	"math"
	"testing"

	"doorwright/circuit"
	"doorwright/unit"
)

// near fails when got is not want within a tolerance.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

func solveCold(t *testing.T, n *circuit.Network) (*circuit.System, circuit.Report) {
	t.Helper()
	if err := n.Err(); err != nil {
		t.Fatal(err)
	}
	s := circuit.Analyse(n).System(n)
	r := s.Solve()
	b := s.Balance()
	if r.Outcome != circuit.NotConverged && !(b.Residual < 1e-7) {
		t.Errorf("%v left over at node %d", b.Residual, b.Node)
	}
	return s, r
}

// lossless is the resistance of a source that counts as ideal here: its drop is under a tenth of a millivolt.
const lossless unit.Ohm = circuit.LeastOhms

// A load of constant power behind a resistance, V = (Vs + sqrt(Vs^2 - 4 R P))/2: solution of Ohm's law and P = V I.
func TestConstantPowerBehindResistance(t *testing.T) {
	for _, c := range []struct {
		source unit.Volt
		power  unit.Watt
		want   float64
	}{{12, 6, 10.8990}, {10.5, 6, 9.1949}, {24, 6, 23.4891}} {
		n := circuit.New()
		supply, load := n.Node("supply"), n.Node("load")
		n.Source("source", supply, circuit.Earth, c.source, lossless, circuit.Gate{})
		n.Resistor("loop", supply, load, 2)
		n.ConstantPower("load", load, circuit.Earth, c.power, 1, circuit.Gate{})
		s, r := solveCold(t, n)
		if r.Outcome != circuit.Converged {
			t.Errorf("%v: %v", c.source, r.Outcome)
		}
		near(t, c.source.String(), float64(s.Volts(load)), c.want, 2e-3)
	}
}

// The same load just beyond P = Vs^2/(4 R) has no solution above its knee: the load collapses, and the report names it.
func TestConstantPowerBeyondWhatTheLineCarries(t *testing.T) {
	n := circuit.New()
	supply, node := n.Node("supply"), n.Node("load")
	n.Source("source", supply, circuit.Earth, 12, lossless, circuit.Gate{})
	n.Resistor("loop", supply, node, 2)
	load := n.ConstantPower("load", node, circuit.Earth, 18.1, 3, circuit.Gate{})
	_, r := solveCold(t, n)
	if r.Outcome != circuit.LoadCollapse || len(r.Collapsed) != 1 || r.Collapsed[0] != load {
		t.Errorf("%v, collapsed %v", r.Outcome, r.Collapsed)
	}
}

// Four loads of 0.25 A on one line of 18 AWG, 10 m from load to load, from 12 V: each section carries the loads behind
// it. Resistance by ASTM B258, 20.948 ohm/km at 20 C, both cores.
func TestLoadsAlongALine(t *testing.T) {
	const section = 2 * 10 * 20.948 / 1000
	n := circuit.New()
	from := n.Node("supply")
	n.Source("source", from, circuit.Earth, 12, lossless, circuit.Gate{})
	var loads []circuit.Node
	for _, name := range []string{"a", "b", "c", "d"} {
		node := n.Node(name)
		n.Resistor("line "+name, from, node, section)
		n.ConstantCurrent("load "+name, node, circuit.Earth, 0.25, 1, circuit.Gate{})
		loads, from = append(loads, node), node
	}
	s, _ := solveCold(t, n)
	for i, want := range []float64{11.5810, 11.2668, 11.0573, 10.9526} {
		near(t, n.Name(loads[i]), float64(s.Volts(loads[i])), want, 2e-4)
	}
}

// A dead short at the far end of a line, an open textbook's example on conductors (Lessons in Electric Circuits, DC
// volume): 230 V over 5.651 ohm for each wire gives 20.352 A.
func TestShortAtTheFarEnd(t *testing.T) {
	n := circuit.New()
	a, b := n.Node("a"), n.Node("b")
	n.Source("source", a, circuit.Earth, 230, lossless, circuit.Gate{})
	n.Resistor("out", a, b, 5.6506)
	back := n.Resistor("back", b, circuit.Earth, 5.6506)
	s, _ := solveCold(t, n)
	near(t, "current", float64(s.Current(back)), 20.352, 1e-3)
}

// A limiter passes what is asked up to its limit and no more, both ways, and drops its resistance at small currents.
func TestLimiter(t *testing.T) {
	for _, c := range []struct {
		load unit.Ohm
		want float64
	}{{1e6, 12e-6}, {1200, 0.01}, {2, 1}, {0.1, 1}} {
		n := circuit.New()
		in, out := n.Node("in"), n.Node("out")
		n.Source("source", in, circuit.Earth, 12, lossless, circuit.Gate{})
		pass := n.Limiter("pass", in, out, 0.1, 1, circuit.Gate{})
		n.Resistor("load", out, circuit.Earth, c.load)
		s, r := solveCold(t, n)
		if r.Outcome != circuit.Converged || r.Rung != circuit.Plain {
			t.Errorf("%v: %v by %v", c.load, r.Outcome, r.Rung)
		}
		near(t, c.load.String(), float64(s.Current(pass)), c.want, 2e-4*c.want+2e-7)
	}
}

// A supply that folds back into a short gives its short-circuit current there and its voltage into a light load. It
// never takes current from a higher source.
func TestSupply(t *testing.T) {
	into := func(load unit.Ohm, other unit.Volt) (volts, amps float64) {
		n := circuit.New()
		out := n.Node("out")
		supply := n.LimitedSource("supply", out, circuit.Earth,
			circuit.LimitedSource{Volts: 13.8, Ohms: 0.05, Limit: 5, Short: 2}, circuit.Gate{})
		n.Resistor("load", out, circuit.Earth, load)
		if other > 0 {
			n.Source("other", out, circuit.Earth, other, 0.1, circuit.Gate{})
		}
		s, _ := solveCold(t, n)
		return float64(s.Volts(out)), -float64(s.Current(supply))
	}
	v, _ := into(1000, 0)
	near(t, "light load", v, 13.8, 0.01)
	_, i := into(0.001, 0)
	near(t, "short", i, 2, 0.02)
	_, i = into(1000, 15)
	near(t, "behind a higher source", i, 0, 1e-3)
}

// A relay pulls in at its pick-up and holds down to its drop-out (hysteresis), whichever way it is asked.
func TestHysteresis(t *testing.T) {
	n := circuit.New()
	coil := n.Node("coil")
	source := n.Source("source", coil, circuit.Earth, 0, 1, circuit.Gate{})
	n.Resistor("winding", coil, circuit.Earth, 270)
	held := n.Sense(circuit.SenseSpec{Name: "relay", A: coil, B: circuit.Earth, On: 9, Off: 1.2, EitherWay: true})
	s := circuit.Analyse(n).System(n)
	for _, c := range []struct {
		volts unit.Volt
		want  bool
	}{{8, false}, {9.5, true}, {8, true}, {1.5, true}, {1, false}, {8, false}, {-9.5, true}, {-8, true}, {0, false}} {
		n.SetVolts(source, c.volts)
		s.Load(n)
		s.Solve()
		if s.SenseOn(held) != c.want {
			t.Errorf("at %v the relay is pulled in: %v", c.volts, s.SenseOn(held))
		}
	}
}

// A load that drops its own supply below its cut-off, and finds it back as soon as it is off, restarts for ever: that
// is told as such, and it ends.
func TestRestartingLoad(t *testing.T) {
	n := circuit.New()
	node := n.Node("load")
	n.Source("source", node, circuit.Earth, 12, 10, circuit.Gate{})
	runs := n.Sense(circuit.SenseSpec{Name: "runs", A: node, B: circuit.Earth, On: 11, Off: 10})
	n.ConstantCurrent("load", node, circuit.Earth, 0.5, 1, circuit.When(runs))
	_, r := solveCold(t, n)
	if r.Outcome != circuit.Hiccup || len(r.Alternating) != 1 || r.Alternating[0] != runs {
		t.Errorf("%v, alternating %v", r.Outcome, r.Alternating)
	}
}

// A part that nothing joins to earth is named, and still has a voltage across it.
func TestFloatingPart(t *testing.T) {
	n := circuit.New()
	a, b := n.Node("a"), n.Node("b")
	n.Source("battery", a, b, 12, 1, circuit.Gate{})
	n.Resistor("lamp", a, b, 11)
	n.Resistor("elsewhere", n.Node("c"), circuit.Earth, 10)
	analysis := circuit.Analyse(n)
	if f := analysis.Floating(); len(f) != 1 || len(f[0]) != 2 {
		t.Errorf("floating: %v", f)
	}
	s := analysis.System(n)
	s.Solve()
	near(t, "across the lamp", float64(s.Volts(a)-s.Volts(b)), 11, 1e-6)
}
