package cable

import "math"

// limitRow is the highest conductor resistance at 20 C in ohm/km of one metric size.
type limitRow struct {
	mm2                  float64
	plain, coated        float64 // classes 1 and 2
	flexible, flexCoated float64 // class 5
}

// coatedSmall raises the limit of tinned sizes under 0.5 mm2, for which no coated figure was found: the largest ratio
// of coated to plain in class 5 of IEC 60228 (13.7/13.3 at 1.5 mm2).
const coatedSmall = 13.7 / 13.3

// metricLimits holds IEC 60228:2004, tables 1 to 3, from 0.5 mm2 up. That standard has no smaller sizes; those are the
// figures in use with DIN VDE 0295 and 0812 (second-hand, class not stated there, so taken for every build).
var metricLimits = []limitRow{
	small(0.14, 134),
	small(0.22, 96),
	small(0.25, 76),
	small(0.34, 53),
	{0.5, 36.0, 36.7, 39.0, 40.1},
	{0.75, 24.5, 24.8, 26.0, 26.7},
	{1.0, 18.1, 18.2, 19.5, 20.0},
	{1.5, 12.1, 12.2, 13.3, 13.7},
	{2.5, 7.41, 7.56, 7.98, 8.21},
	{4, 4.61, 4.70, 4.95, 5.09},
}

func small(mm2, limit float64) limitRow {
	return limitRow{mm2, limit, limit * coatedSmall, limit, limit * coatedSmall}
}

func (r limitRow) of(c Conductor) float64 {
	switch {
	case c.Strand == Flexible && c.Material == TinnedCopper:
		return r.flexCoated
	case c.Strand == Flexible:
		return r.flexible
	case c.Material == TinnedCopper:
		return r.coated
	}
	return r.plain
}

// metricLimit reads the table. Between two rows it follows the straight line on logarithmic axes; beyond the ends it
// keeps resistance times area of the end row. Both keep the limit falling with area and above the nominal figure.
func (c Conductor) metricLimit() float64 {
	a := c.Size.MM2
	first, last := metricLimits[0], metricLimits[len(metricLimits)-1]
	if a <= first.mm2 {
		return first.of(c) * first.mm2 / a
	}
	for i, high := range metricLimits[1:] {
		if a > high.mm2 {
			continue
		}
		low := metricLimits[i]
		share := math.Log(a/low.mm2) / math.Log(high.mm2/low.mm2)
		return low.of(c) * math.Pow(high.of(c)/low.of(c), share)
	}
	return last.of(c) * last.mm2 / a
}

// gaugeTolerance is how far a gauge conductor may lie above its nominal resistance: 2 % for the wire (a diameter 1 %
// under size, ASTM B3) and 2 % for the lay of the cores in the cable (ICEA S-73-532); both from memory.
const gaugeTolerance = 1.02 * 1.02

// gaugeLimit is the nominal resistance by the gauge formula with the tolerance and, where tinned, the tin.
func (c Conductor) gaugeLimit() float64 {
	r := rho / c.Size.Area() * gaugeTolerance
	wire := c.Size.Diameter()
	if c.Strand != Solid {
		r *= lay
		wire /= math.Sqrt(7) // seven equal wires; finer ones fall in the same or the last row of the tin table
	}
	if c.Material == TinnedCopper {
		r /= tinnedConductivity(wire)
	}
	return r
}

// tinnedConductivity is the lowest conductivity of tinned wire of a diameter in mm, as a share of IACS: ASTM B33, from
// memory; the coated and uncoated columns of NEC chapter 9 table 8 for 18 to 12 AWG have these ratios.
func tinnedConductivity(wire float64) float64 {
	const inch = 25.4
	switch {
	case wire > 0.103*inch:
		return 0.9766
	case wire > 0.0200*inch:
		return 0.9616
	case wire > 0.0110*inch:
		return 0.9416
	}
	return 0.9315
}
