package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"doorwright/circuit"
	"doorwright/unit"
)

// tangle is a random network without any order in it: a few nodes with many elements of every kind between any two of
// them, supplies and batteries among them, loads of constant power with and without a cut-off, every figure over the
// whole range that door wiring has and some way beyond.
type tangle struct {
	n *circuit.Network
	r *rand.Rand
	v []circuit.Node // with Earth
}

func newTangle(seed uint64) *tangle {
	t := &tangle{circuit.New(), rand.New(rand.NewPCG(seed, 0x7a9)), []circuit.Node{circuit.Earth}}
	nodes := 2 + t.r.IntN(24)
	for i := range nodes {
		t.v = append(t.v, t.n.Node(fmt.Sprint("n", i)))
	}
	for i := range nodes * (1 + t.r.IntN(4)) {
		t.add(i)
	}
	return t
}

// decades is a figure from one to another, every decade as likely.
func (t *tangle) decades(low, high float64) float64 {
	return low * math.Pow(high/low, t.r.Float64())
}

// ends are any two nodes.
func (t *tangle) ends() (a, b circuit.Node) {
	i := t.r.IntN(len(t.v))
	return t.v[i], t.v[(i+1+t.r.IntN(len(t.v)-1))%len(t.v)]
}

func (t *tangle) add(i int) {
	name := func(kind string) string { return fmt.Sprint(kind, i) }
	a, b := t.ends()
	switch t.r.IntN(14) {
	default:
		t.n.Resistor(name("wire"), a, b, unit.Ohm(t.decades(1e-3, 1e4)))
	case 5:
		volts, limit := t.decades(5, 28), t.decades(0.1, 10)
		short := limit * []float64{0, 0.1, 0.5, 1}[t.r.IntN(4)]
		t.n.LimitedSource(name("supply"), a, b, circuit.LimitedSource{
			Volts: unit.Volt(volts), Ohms: unit.Ohm(t.decades(0.01, 1)),
			Limit: unit.Ampere(limit), Short: unit.Ampere(short),
		}, circuit.Gate{})
	case 6:
		t.n.Source(name("battery"), a, b, unit.Volt(t.decades(6, 26)), unit.Ohm(t.decades(0.01, 1)), circuit.Gate{})
	case 7, 8:
		t.power(name("power"), a, b)
	case 9:
		t.n.Diode(name("diode"), a, b, circuit.DiodeModel{
			Saturation: unit.Ampere(t.decades(1e-12, 1e-6)), Slope: unit.Volt(t.decades(0.026, 0.052)),
		})
	case 10:
		t.n.Clamp(name("clamp"), a, b, circuit.ClampModel{Volts: unit.Volt(t.decades(5, 40)), Exponent: t.decades(5, 40)})
	case 11:
		t.n.ConstantCurrent(name("current"), a, b, unit.Ampere(t.decades(1e-3, 2)), 3, circuit.Gate{})
	case 12:
		t.n.Limiter(name("limiter"), a, b, unit.Ohm(t.decades(0.05, 1)), unit.Ampere(t.decades(0.1, 2)), circuit.Gate{})
	case 13:
		c, d := t.ends()
		relay := t.n.Sense(circuit.SenseSpec{Name: name("relay"), A: a, B: b, On: 9, Off: 2, EitherWay: true})
		t.n.Resistor(name("coil"), a, b, 300)
		t.n.Contact(name("contact"), c, d, 0.03, circuit.Unless(relay))
	}
}

// power is a load that stops below its cut-off, or one that goes on to its knee.
func (t *tangle) power(name string, a, b circuit.Node) {
	watts, knee := unit.Watt(t.decades(0.1, 60)), unit.Volt(t.decades(1, 9))
	gate := circuit.Gate{}
	if t.r.IntN(2) > 0 {
		off := knee + unit.Volt(t.decades(0.01, 2))
		gate = circuit.When(t.n.Sense(circuit.SenseSpec{Name: name + ".runs", A: a, B: b, On: off * 1.05, Off: off}))
	}
	t.n.ConstantPower(name, a, b, watts, knee, gate)
}

// Whatever is tangled, Solve ends at a stable point or says that something keeps restarting, and there the currents at
// every node and the power given and taken agree.
func TestTangledNetworksSettleAndBalance(t *testing.T) {
	var rungs [circuit.Descent + 1]int
	outcomes := map[circuit.Outcome]int{}
	most := 0
	for seed := range uint64(3000) {
		c := newTangle(seed)
		if err := c.n.Err(); err != nil {
			t.Fatal(err)
		}
		s := circuit.Analyse(c.n).System(c.n)
		r := s.Solve()
		rungs[r.Rung]++
		outcomes[r.Outcome]++
		most = max(most, r.Steps)
		title := fmt.Sprintf("seed %d, %d nodes, %d elements: %v by %v", seed, c.n.Nodes(), c.n.Elements(), r.Outcome, r.Rung)
		if r.Outcome == circuit.NotConverged {
			t.Errorf("%s after %d steps, %v at node %d", title, r.Steps, r.Residual, r.WorstNode)
			continue
		}
		b := s.Balance()
		if !(b.Residual < 1e-7) {
			t.Errorf("%s: %v left over at node %d", title, b.Residual, b.Node)
		}
		if d := math.Abs(float64(b.In - b.Out)); !(d < 1e-6*float64(b.In)+1e-9) {
			t.Errorf("%s: %v given, %v taken", title, b.In, b.Out)
		}
	}
	t.Logf("rungs %v, outcomes %v, at most %d linear solves", rungs, outcomes, most)
	for _, o := range []circuit.Outcome{circuit.Converged, circuit.LoadCollapse, circuit.Hiccup} {
		if outcomes[o] < 100 {
			t.Errorf("only %d networks end as: %v", outcomes[o], o)
		}
	}
	for rung, count := range rungs {
		if count < 100 {
			t.Errorf("only %d networks need: %v", count, circuit.Rung(rung))
		}
	}
}
