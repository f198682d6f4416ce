package circuit_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"doorwright/circuit"
	"doorwright/unit"
)

// The response to a small current, and the sways it gives, are the differences between whole solves with one value a
// little larger (finite differences). The response between two nodes is their impedance.
func TestSwaysAreDifferencesOfSolves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drawSketch(t, linear...)
		c := k.build(t, nil, nil)
		sys := circuit.Analyse(c.n).System(c.n)
		sys.Solve()
		at, to := c.nodes[rapid.IntRange(1, k.nodes).Draw(t, "at")], c.nodes[rapid.IntRange(0, k.nodes).Draw(t, "to")]
		var r circuit.Response
		sys.Respond(&r, at, to)
		z := float64(sys.Impedance(at, to))
		if got := float64(r.Ohms(at) - r.Ohms(to)); math.Abs(got-z) > 1e-9*(1+z) {
			t.Fatalf("response %v, impedance %v", got, z)
		}
		before := float64(sys.Volts(at) - sys.Volts(to))
		const part = 1e-5
		for i, p := range k.parts {
			if p.kind != "resistor" || p.a == p.b {
				continue
			}
			sway := float64(sys.Sway(c.element[i], &r).Ohms)
			sys.AlterOhms(c.element[i], unit.Ohm(p.figure*(1+part)))
			sys.Solve()
			moved := (float64(sys.Volts(at)-sys.Volts(to)) - before) / part
			sys.Repair(c.element[i])
			sys.Solve()
			sys.Respond(&r, at, to)
			if math.Abs(moved-sway) > 1e-3*math.Abs(sway)+1e-4 {
				t.Fatalf("part %d: sway %v, difference %v", i, sway, moved)
			}
		}
	})
}
