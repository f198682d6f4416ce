package circuit_test

import (
	"math"
	"testing"

	"doorwright/circuit"
	"doorwright/unit"
)

// A load of constant power with its knee at 3 V, by hand: behind a resistance R it has V = (Vs + sqrt(Vs^2 - 4 R P))/2;
// with P above Vs^2/(4 R) there is no such answer, and it is the resistor knee^2/P that divides the voltage with R.
const handKnee = 3.0

func carried(volts, ohms, watts float64) float64 {
	return (volts + math.Sqrt(volts*volts-4*ohms*watts)) / 2
}

func collapsed(volts, ohms, watts float64) float64 {
	load := handKnee * handKnee / watts
	return volts * load / (ohms + load)
}

// The smallest networks found that need each rung of the ladder. The last is a battery put the wrong way round into
// the feed of a load: 2 V are left for it, the supply's limit and its idling lie on either side, and Newton steps
// alone go to and fro between them.
func TestEachRungFindsTheAnswerByHand(t *testing.T) {
	behind := func(watts unit.Watt) func(n *circuit.Network, load circuit.Node) {
		return func(n *circuit.Network, load circuit.Node) {
			n.Source("source", load, circuit.Earth, 12, 2, circuit.Gate{})
			n.ConstantPower("load", load, circuit.Earth, watts, handKnee, circuit.Gate{})
		}
	}
	wrongWayRound := func(n *circuit.Network, load circuit.Node) {
		out := n.Node("out")
		spec := circuit.LimitedSource{Volts: 14, Ohms: 0.1, Limit: 2, Short: 0.5}
		n.LimitedSource("supply", out, circuit.Earth, spec, circuit.Gate{})
		n.Source("battery", out, load, 12, 1, circuit.Gate{})
		n.ConstantPower("load", load, circuit.Earth, 5, handKnee, circuit.Gate{})
	}
	for _, c := range []struct {
		name    string
		build   func(n *circuit.Network, load circuit.Node)
		rung    circuit.Rung
		outcome circuit.Outcome
		want    float64
	}{
		{"a line that carries its load", behind(16), circuit.Plain, circuit.Converged, carried(12, 2, 16)},
		{"a line that cannot carry its load", behind(20), circuit.Clipped, circuit.LoadCollapse, collapsed(12, 2, 20)},
		{"a battery the wrong way round", wrongWayRound, circuit.Descent, circuit.LoadCollapse, collapsed(14-12, 0.1+1, 5)},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := circuit.New()
			load := n.Node("load")
			c.build(n, load)
			s, r := solveCold(t, n)
			if r.Rung != c.rung || r.Outcome != c.outcome {
				t.Errorf("%v by %v, want %v by %v", r.Outcome, r.Rung, c.outcome, c.rung)
			}
			near(t, "volts", float64(s.Volts(load)), c.want, 1e-5)
		})
	}
}

// With P at Vs^2/(4 R) exactly, both roots above the knee are one, at Vs/2, and the leak takes even that away. The
// content is flat there to one part in a billion, so Newton steps alone dwell for ever; but no load stays.
func TestLoadsThatTakeExactlyWhatTheLineCanCollapse(t *testing.T) {
	n := circuit.New()
	load := n.Node("load")
	n.Source("source", load, circuit.Earth, 12, 1, circuit.Gate{})
	n.ConstantPower("first", load, circuit.Earth, 30, handKnee, circuit.Gate{})
	n.ConstantPower("second", load, circuit.Earth, 6, handKnee, circuit.Gate{})
	s, r := solveCold(t, n)
	if r.Outcome != circuit.LoadCollapse || len(r.Collapsed) != 2 {
		t.Errorf("%v, collapsed %v", r.Outcome, r.Collapsed)
	}
	near(t, "volts", float64(s.Volts(load)), collapsed(12, 1, 36), 1e-6)
}

// Two supplies of the same limit in series into 1 ohm both work in their limit: 2 A by the lesser of the two, less what
// rounds the corner. Nothing but their last bit of slope holds the node between them.
func TestSuppliesInSeriesMeetInTheirLimit(t *testing.T) {
	n := circuit.New()
	out, middle := n.Node("out"), n.Node("middle")
	spec := circuit.LimitedSource{Volts: 12, Ohms: 0.1, Limit: 2, Short: 2}
	n.LimitedSource("upper", out, middle, spec, circuit.Gate{})
	n.LimitedSource("lower", middle, circuit.Earth, spec, circuit.Gate{})
	n.Resistor("load", out, circuit.Earth, 1)
	s, r := solveCold(t, n)
	if r.Outcome != circuit.Converged {
		t.Error(r.Outcome)
	}
	near(t, "out", float64(s.Volts(out)), 2, 1e-5)
}

// A supply with a battery and loads of its own, joined to nothing else, circulates amperes, and its voltage to Earth
// shakes by their rounding: that is rest, and what stands across it is exact.
func TestFloatingSuppliesComeToRest(t *testing.T) {
	n := circuit.New()
	plus, minus := n.Node("plus"), n.Node("minus")
	n.LimitedSource("supply", plus, minus, circuit.LimitedSource{Volts: 12, Ohms: 0.1, Limit: 2, Short: 2}, circuit.Gate{})
	n.Source("battery", plus, minus, 12, 1, circuit.Gate{})
	n.ConstantCurrent("one", plus, minus, 1, 2, circuit.Gate{})
	n.ConstantCurrent("other", plus, minus, 1, 2, circuit.Gate{})
	s, r := solveCold(t, n)
	if r.Outcome != circuit.Converged {
		t.Error(r.Outcome)
	}
	// Both sources give 12 V open; 2 A over 0.1 ohm beside 1 ohm drop 2/11 V. The limit of 2 A rounds the corner by a
	// few microvolts more.
	near(t, "across", float64(s.Volts(plus)-s.Volts(minus)), 12-2.0/11, 1e-4)
}

// A load whose return is cut gets nothing, and quickly: the open contact and the leak share what is left.
func TestLoadWithItsReturnCut(t *testing.T) {
	n := circuit.New()
	plus, minus := n.Node("plus"), n.Node("minus")
	spec := circuit.LimitedSource{Volts: 12, Ohms: 0.1, Limit: 2, Short: 0.5}
	n.LimitedSource("supply", plus, circuit.Earth, spec, circuit.Gate{})
	load := n.ConstantPower("load", plus, minus, 18, 3, circuit.Gate{})
	n.Contact("return", minus, circuit.Earth, 0.1, circuit.When(n.Switch("uncut")))
	s, r := solveCold(t, n)
	if r.Outcome != circuit.Converged || r.Steps > 40 {
		t.Errorf("%v by %v after %d linear solves", r.Outcome, r.Rung, r.Steps)
	}
	near(t, "across the load", float64(s.Volts(plus)-s.Volts(minus)), 0, 1e-6)
	near(t, "current", float64(s.Current(load)), 12*(1/circuit.OpenOhms+circuit.LeakSiemens), 1e-12)
}
