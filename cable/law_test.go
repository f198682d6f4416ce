package cable

import (
	"math"
	"testing"

	"doorwright/unit"
	"pgregory.net/rapid"
)

var (
	strands   = []Strand{Solid, Stranded, Flexible, ""}
	materials = []Material{Copper, TinnedCopper, CopperClad, ""}
)

func anyConductor(t *rapid.T) Conductor {
	c := Conductor{
		Strand:   rapid.SampledFrom(strands).Draw(t, "strand"),
		Material: rapid.SampledFrom(materials).Draw(t, "material"),
	}
	if rapid.Bool().Draw(t, "metric") {
		c.Size = unit.MM2(rapid.Float64Range(0.05, 20).Draw(t, "mm2"))
	} else {
		c.Size = unit.AWG(rapid.IntRange(0, 40).Draw(t, "awg"))
	}
	return c
}

func TestNominalIsNeverAboveMax(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyConductor(t)
		c.LimitPerKM = unit.Ohm(rapid.Float64Range(0, 200).Draw(t, "limit"))
		r := perKM(c, unit.Celsius(rapid.Float64Range(-40, 90).Draw(t, "t")))
		if !(r.Nominal > 0) || !(r.Nominal <= r.Max) {
			t.Fatalf("%+v: %v", c, r)
		}
	})
}

func TestResistanceGrowsInProportionToLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyConductor(t)
		l := unit.Metre(rapid.Float64Range(0.1, 2000).Draw(t, "length"))
		k := rapid.Float64Range(1, 10).Draw(t, "factor")
		a, b := c.Resistance(l, 20), c.Resistance(l*unit.Metre(k), 20)
		if !near(float64(b.Nominal), k*float64(a.Nominal), 1e-9) || !near(float64(b.Max), k*float64(a.Max), 1e-9) {
			t.Fatalf("%v times the length: %v and %v", k, a, b)
		}
	})
}

func TestResistanceGrowsWithTemperature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyConductor(t)
		low := rapid.Float64Range(-100, 150).Draw(t, "low")
		high := low + rapid.Float64Range(0.01, 100).Draw(t, "rise")
		a, b := perKM(c, unit.Celsius(low)), perKM(c, unit.Celsius(high))
		if !(a.Nominal > 0) || b.Nominal <= a.Nominal || b.Max <= a.Max {
			t.Fatalf("%v at %v, %v at %v", a, low, b, high)
		}
	})
}

func TestResistanceFallsWithArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thin := anyConductor(t)
		thick := thin
		if thin.Size.Metric() {
			thick.Size = unit.MM2(thin.Size.MM2 * rapid.Float64Range(1.001, 4).Draw(t, "factor"))
		} else {
			thin.Size = unit.AWG(rapid.IntRange(1, 40).Draw(t, "thin"))
			thick.Size = unit.AWG(rapid.IntRange(0, thin.Size.AWG-1).Draw(t, "thick"))
		}
		a, b := perKM(thin, 20), perKM(thick, 20)
		if b.Nominal >= a.Nominal || b.Max >= a.Max {
			t.Fatalf("%v has %v, %v has %v", thin.Size, a, thick.Size, b)
		}
	})
}

func TestResistanceOfWhatCannotBe(t *testing.T) {
	good := Conductor{Size: unit.MM2(0.5)}
	nan := math.NaN()
	for _, c := range []struct {
		name      string
		conductor Conductor
		length    unit.Metre
		t         unit.Celsius
		want      float64
	}{
		{"zero length is no resistance", good, 0, 20, 0},
		{"negative length is infinite", good, -1, 20, math.Inf(1)},
		{"length that is not a number is infinite", good, unit.Metre(nan), 20, math.Inf(1)},
		{"endless length is infinite", good, unit.Metre(math.Inf(1)), 20, math.Inf(1)},
		{"temperature that is not a number is infinite", good, 1, unit.Celsius(nan), math.Inf(1)},
		{"no size is infinite", Conductor{}, 1, 20, math.Inf(1)},
		{"no size without length is infinite", Conductor{}, 0, 20, math.Inf(1)},
		{"negative size is infinite", Conductor{Size: unit.MM2(-1)}, 1, 20, math.Inf(1)},
		{"size that is not a number is infinite", Conductor{Size: unit.MM2(nan)}, 1, 20, math.Inf(1)},
		{"gauge that does not exist is infinite", Conductor{Size: unit.AWG(99)}, 1, 20, math.Inf(1)},
	} {
		r := c.conductor.Resistance(c.length, c.t)
		if float64(r.Nominal) != c.want || float64(r.Max) != c.want {
			t.Errorf("%s: %v", c.name, r)
		}
	}
	if r := good.Resistance(1, -273); !(r.Nominal > 0) {
		t.Errorf("at absolute zero: %v, want a positive figure", r)
	}
}
