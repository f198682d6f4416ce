// Package cable knows what a cable is: how its copper resists, which cores it has and in which colours, how far a data
// line may run in it, and which cable to take instead when the copper is too thin.
//
// Resistance comes from physics and from the published limits, never from a list of products. The built-in types are
// generic; people add their own from a data sheet.
package cable

import (
	"math"

	"doorwright/unit"
)

// Strand is how the wire of a conductor is built.
type Strand string

// The builds, with the class of IEC 60228 each stands for.
const (
	Solid    Strand = "solid"    // class 1
	Stranded Strand = "stranded" // class 2, seven wires or the like
	Flexible Strand = "flexible" // class 5, fine wires
)

// Material is what the wire is made of.
type Material string

// The materials met at doors.
const (
	Copper       Material = "copper"
	TinnedCopper Material = "tinned-copper"
	CopperClad   Material = "copper-clad-aluminium"
)

// Conductor is the metal of one core. An empty or unknown Strand counts as stranded, such a Material as plain
// copper.
type Conductor struct {
	Size     unit.Size
	Strand   Strand
	Material Material
	// LimitPerKM is the highest resistance at 20 C of 1 km of this conductor by its data sheet or cable standard. It
	// replaces the limit worked out here; zero means that none is given.
	LimitPerKM unit.Ohm
}

// Resistance is what a length of one conductor has from end to end: the expected figure and the highest that a good
// conductor of that name may have. A circuit out and back has twice as much.
type Resistance struct {
	Nominal unit.Ohm `json:"nominal"`
	Max     unit.Ohm `json:"max"`
}

// Resistance is that of length of the conductor at the copper temperature t; Nominal is never above Max.
//
// Zero length has zero resistance. A conductor without a size, a negative length and what is not a number have
// infinite resistance, so that a slip upstream never looks like a good conductor. Temperatures under -100 C count as
// -100 C, where the straight-line law ends.
func (c Conductor) Resistance(length unit.Metre, t unit.Celsius) Resistance {
	if !c.sized() || !(length >= 0) || math.IsInf(float64(length), 1) || !isFinite(float64(t)) {
		return Resistance{unit.Ohm(math.Inf(1)), unit.Ohm(math.Inf(1))}
	}
	km := float64(length) / 1000 * Warmth(t)
	limit := c.limitPerKM()
	nominal := min(c.nominalPerKM(), limit)
	return Resistance{unit.Ohm(nominal * km), unit.Ohm(limit * km)}
}

// sized says whether the size is one that has an area: positive, or a gauge 0 to 40.
func (c Conductor) sized() bool {
	s := c.Size
	return !s.IsZero() && isFinite(s.MM2) && s.MM2 >= 0 && s.AWG >= 0 && s.AWG <= 40
}

func isFinite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Copper at 20 C.
const (
	// rho in ohm mm2/km is exactly 1000/58: volume resistivity of the International Annealed Copper Standard, 0.017241
	// ohm mm2/m (IEC 60028; NBS Circular 31).
	rho = 1000.0 / 58
	// alpha per kelvin is the temperature coefficient at 20 C of copper of 100 % IACS conductivity (NBS Handbook 100,
	// from memory; 1/0.00393 - 20 = 234.45 agrees with the 234.5 printed in FAA AC 43.13-1B, table 11-8).
	// Aluminium has about 0.0040 (from memory), so clad wire at 75 C is off by less than half a per cent.
	alpha = 0.00393
	// lay is how much longer the wires of a stranded conductor are than the conductor (ASTM B8 allowance of 2 %, from
	// memory; the ratios of NEC chapter 9 table 8, stranded over solid, are 1.020 to 1.026).
	lay = 1.02
	// coldest is where the straight-line temperature law stops being followed here.
	coldest = -100.0
)

// Warmth is the resistance of copper at t against that at 20 C, for windings as for conductors. Temperatures under
// -100 C count as -100 C.
func Warmth(t unit.Celsius) float64 { return 1 + alpha*(max(float64(t), coldest)-20) }

// Conductivity of copper-clad aluminium as a share of IACS: ASTM B566 minima of class 15A (15 % copper) and class 10A
// (10 % copper), second-hand. Which class lies in a cable is seldom printed, so the better one is expected and the
// worse one feared.
const (
	clad15A = 0.644
	clad10A = 0.629
)

// nominalPerKM is rho/A at 20 C in ohm/km, with the lay of the strands. The tin of tinned copper is not counted here:
// by IEC 60228 it adds at most 3 %, which stands in the limit.
func (c Conductor) nominalPerKM() float64 {
	r := rho / c.Size.Area()
	if c.Strand != Solid {
		r *= lay
	}
	if c.Material == CopperClad {
		r /= clad15A
	}
	return r
}

// limitPerKM is the highest resistance at 20 C in ohm/km.
func (c Conductor) limitPerKM() float64 {
	if c.LimitPerKM > 0 {
		return float64(c.LimitPerKM)
	}
	r := c.gaugeLimit()
	if c.Size.Metric() {
		r = c.metricLimit()
	}
	if c.Material == CopperClad {
		r /= clad10A
	}
	return r
}
