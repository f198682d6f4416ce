package circuit

import (
	"math"
	"testing"
)

// Every law's slope against differences of its current, on both sides of each kink and far from them.
func TestSlopesAgainstDifferences(t *testing.T) {
	laws := []struct {
		name  string
		law   law
		kinks []float64
	}{
		{"supply", newSupply(LimitedSource{Volts: 13.8, Ohms: 0.05, Limit: 5, Short: 2}), []float64{13.8}},
		{"supply without fold-back", newSupply(LimitedSource{Volts: 13.8, Ohms: 0.05, Limit: 5, Short: 5}), nil},
		{"diode", newDiode(DiodeModel{Saturation: 7e-9, Slope: 0.0466}), []float64{-3 * 0.0466}},
		{"clamp", newClamp(ClampModel{Volts: 22, Exponent: 25}), nil},
		{"current load", currentLoad{0.5, 2}, []float64{0, 2}},
		{"power load", powerLoad{3, 9}, []float64{0, 9}},
		{"limiter", limiter{1, 0.2}, []float64{-0.2, 0, 0.2}},
	}
	for _, c := range laws {
		t.Run(c.name, func(t *testing.T) {
			at := []float64{-20, -5, -0.01, 0.003, 0.05, 0.4, 3.3, 7.7, 13.5, 14.2, 25}
			for _, k := range c.kinks {
				at = append(at, k-1e-3, k+1e-3)
			}
			for _, v := range at {
				const h = 1e-6
				i1, _ := c.law.at(v - h)
				i2, _ := c.law.at(v + h)
				_, g := c.law.at(v)
				want := (i2 - i1) / (2 * h)
				if !(math.Abs(g-want) <= 1e-3*math.Abs(want)+1e-6) {
					t.Errorf("at %g V the slope is %g, differences give %g", v, g, want)
				}
			}
		})
	}
}

// Currents are continuous across every kink.
func TestCurrentsAreContinuous(t *testing.T) {
	for _, c := range []struct {
		law   law
		kinks []float64
	}{
		{currentLoad{0.5, 2}, []float64{0, 2}},
		{powerLoad{3, 9}, []float64{0, 9}},
		{limiter{1, 0.2}, []float64{-0.2, 0, 0.2}},
	} {
		for _, k := range c.kinks {
			below, _ := c.law.at(k - 1e-9)
			above, _ := c.law.at(k + 1e-9)
			if math.Abs(above-below) > 1e-7 {
				t.Errorf("%T jumps from %g to %g at %g V", c.law, below, above, k)
			}
		}
	}
}
