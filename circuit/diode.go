package circuit

import (
	"fmt"
	"math"
)

// diode is the law of a junction as SPICE has it: Shockley's exponential, and below -3 slopes a cubic that joins it
// smoothly and keeps a little slope far in reverse (Vladimirescu, The SPICE Book, 1994, section 3.2, from memory).
// There are no kinks.
type diode struct {
	saturation float64
	slope      float64
	critical   float64 // V: above it a step is limited (the corner of the exponential)
}

// diodeTop is the exponent above which the exponential goes on as its tangent, so that no step overflows. No answer
// lies there: exp(60) microamperes are 1e20 A.
const diodeTop = 60

// diodeRough stands in for a junction of unknown direction: low enough that a feed diode shows which way it is, high
// enough that a suppressor across a coil does not short it.
const diodeRough = 1e-2

func newDiode(m DiodeModel) diode {
	is, n := float64(m.Saturation), float64(m.Slope)
	return diode{saturation: is, slope: n, critical: n * math.Log(n/(math.Sqrt2*is))}
}

func (d diode) at(v float64) (i, g float64) {
	if v < -3*d.slope {
		c := 3 * d.slope / (v * math.E)
		c = c * c * c
		return -d.saturation * (1 + c), d.saturation * 3 * c / v
	}
	z := v / d.slope
	if z > diodeTop {
		e := math.Exp(diodeTop)
		return d.saturation * (e*(1+z-diodeTop) - 1), d.saturation * e / d.slope
	}
	e := math.Exp(z)
	return d.saturation * (e - 1), d.saturation * e / d.slope
}

func (d diode) rough(float64) (g, inject float64) { return diodeRough, 0 }

func (d diode) begin(v, _ float64) float64 {
	if v <= 0 {
		return v
	}
	return d.slope * math.Log1p(diodeRough*v/d.saturation)
}

// step limits a rise by taking the current the tangent promised and going to the voltage of that current.
func (d diode) step(from, to float64) float64 {
	if to <= d.critical || to-from <= 2*d.slope {
		return to
	}
	if from <= 0 {
		return d.critical
	}
	return from + d.slope*math.Log1p((to-from)/d.slope)
}

// spiceThermalVolt is k T / q at 27 C with the constants of ngspice 39 (CODATA 2014).
const spiceThermalVolt = 1.38064852e-23 / 1.6021766208e-19 * 300.15

func (d diode) spice(number int, a, b string) string {
	return fmt.Sprintf("D%d %s %s DM%d\n.model DM%d D(IS=%s N=%s)", number, a, b, number, number,
		exact(d.saturation), exact(d.slope/spiceThermalVolt))
}
