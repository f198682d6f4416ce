package meter

import (
	"math"

	"doorwright/unit"
)

// Band is what a pair of a sound door may show: nominal, and the ends that tolerances, length, temperature, supply and
// the meter's own error leave.
type Band struct {
	Nominal   float64 // V or ohm; +Inf over range
	Low, High float64
	Open      bool // over range: Low is the least that still counts
}

// Holds says whether a reading lies in the band. Over range is +Inf.
func (b Band) Holds(v float64) bool {
	if b.Open {
		return v >= b.Low
	}
	return v >= b.Low && v <= b.High
}

// reach is how many standard deviations of everything together a sound door may be off: all but one in a hundred. Of one
// single rectangular tolerance it is half as much again as its limit.
const reach = 2.6

// Band is the band of a pair.
func (b *Book) Band(pair int) Band {
	s, q := b.Sound.Shown[pair], b.Pairs[pair].Quantity
	sum := 0.0
	for _, k := range b.Sound.Sways[pair] {
		by := float64(k.By) * b.Knobs.All[k.Knob].AsNew
		sum += by * by
	}
	off := reach * math.Sqrt(sum)
	m := b.Meter
	switch q {
	case Volts:
		w := m.Volts.widened(band{s.Value - off - stray, s.Value + off + stray})
		if s.Behind > ghostly {
			w = band{min(w.low, -ghostVolts), max(w.high, ghostVolts)}
		}
		return Band{s.Value, w.low, w.high, false}
	case Diode:
		if math.IsInf(s.Value, 1) {
			return Band{s.Value, float64(m.Test.Most), math.Inf(1), true}
		}
		return Band{s.Value, max(0, s.Value*(1-diodeSpread)-stray), s.Value*(1+diodeSpread) + stray, false}
	}
	if s.Value > float64(leastInsulation) {
		return Band{math.Inf(1), float64(leastInsulation) * (1 - m.Ohms.Share), math.Inf(1), true}
	}
	low := beside(max(s.Value-off-float64(m.LeadOhms)/2, 0), float64(leastInsulation))
	w := m.Ohms.widened(band{low, s.Value + off + float64(m.LeadOhms)/2 + jointSpread})
	return Band{s.Value, max(0, w.low), w.high, false}
}

// What a band leaves beside tolerances, common practice, no source: what floats may show anything a hand brings there;
// junctions vary by about a tenth; two tips on two screws, and joints that nobody planned.
const (
	ghostVolts  = 3.0
	diodeSpread = 0.15
	jointSpread = 0.3
)

// stray is what leakage and pick-up may leave on open cores of a sound door, in V (common practice, no source).
const stray = 0.02

// leastInsulation is the least between the cores of a sound circuit at extra-low voltage: 0.5 Mohm (IEC 60364-6, table
// 6A, for SELV and PELV at 250 V).
const leastInsulation unit.Ohm = 0.5e6

// beside is two resistances in parallel.
func beside(a, b float64) float64 {
	if math.IsInf(b, 1) {
		return a
	}
	return a * b / (a + b)
}

// divided is what is left of a voltage behind z when r draws on it.
func divided(z, r float64) float64 {
	if math.IsInf(r, 1) {
		return 1
	}
	return r / (r + z)
}

// Turned says that a reading is none of the band, and would be with the leads the other way round.
func (b Band) Turned(r Reading) bool {
	return r.Quantity == Volts && !r.Open && !b.Holds(r.Value) && b.Holds(-r.Value)
}
