package find

import (
	"math"

	"doorwright/meter"
)

// A reading lives in a space in which errors are about the same everywhere: volts as they are, ohms as the logarithm of
// the resistance and one ohm more, diode volts as they are. What is over range, or behind so much that only leaks and
// fingers decide, sits at one end.

// topOhms is where a resistance stops telling anything: what a sound but damp cable leaks is as much (IEC 60364-6, table
// 6A, asks for 0.5 megohm), and at 3 megohm a meter of 10 megohm sees ghosts (common practice).
const topOhms = 3e6

// point is a reading in its space.
type point struct {
	at    float64
	scale float64 // of the space: what one V or ohm is worth there
}

func pointOf(q meter.Quantity, v float64, open bool) point {
	switch q {
	case meter.Ohms:
		if open || !(v < topOhms) {
			v = topOhms
		}
		v = math.Max(v, 0)
		return point{math.Log(v + 1), 1 / (v + 1)}
	case meter.Diode:
		if open || !(v < diodeTop) {
			v = diodeTop
		}
	}
	return point{v, 1}
}

// diodeTop stands for over range of the diode range, above what any junction shows.
const diodeTop = 3.0

// What the figures of a data sheet leave out, as standard deviations, each common practice, no source.
const (
	strayVolts = 0.02 // pick-up, contact potentials, what shifts while one looks
	probeOhms  = 0.3  // how well two tips sit on two screws, and joints that the plan does not know
	looseVolts = 2.0  // at a pair behind topOhms and more
	idleVolts  = 0.05 // there, when nothing is near and the meter alone pulls it to nothing
	leakShare  = 0.5  // of a resistance near topOhms
	diodeStray = 0.03
	leakFrom   = 100e3
	modelShare = 0.003 // of a voltage: what a model of parts leaves out
)

// noise is the standard deviation of a reading of what is shown, in its space, tolerances of the door apart.
func noise(m meter.Meter, q meter.Quantity, s meter.Shown) float64 {
	switch q {
	case meter.Volts:
		limit := m.Volts.Error(s.Value) / math.Sqrt(3)
		far := math.Min(s.Behind/topOhms, 1)
		return math.Sqrt(sq(limit) + sq(strayVolts) + sq(modelShare*s.Value) + sq(looseVolts*far*far) + sq(0.02*far*s.Value))
	case meter.Diode:
		return diodeStray
	}
	v := math.Min(s.Value, topOhms)
	limit := m.Ohms.Error(v) / math.Sqrt(3)
	leads := float64(m.LeadOhms) / 2 / math.Sqrt(3)
	leak := 0.0
	if v > leakFrom {
		leak = leakShare * math.Min(1, v/topOhms*4)
	}
	return math.Sqrt((sq(limit)+sq(leads)+sq(probeOhms)+sq(modelShare*v))/sq(v+1) + sq(leak))
}

// afloat is how far a pair with power floats: 0 where a source holds it, 1 behind topOhms and more.
func afloat(q meter.Quantity, s meter.Shown) float64 {
	if q != meter.Volts {
		return 0
	}
	return sq(math.Min(s.Behind/topOhms, 1))
}

func sq(x float64) float64 { return x * x }

// ghost says that a pair tells almost nothing with what is shown there.
func ghost(q meter.Quantity, s meter.Shown) bool { return q == meter.Volts && s.Behind > topOhms }

// width is how wide a space is, for a reading that is plainly wrong: it lies anywhere.
func width(q meter.Quantity, top float64) float64 {
	switch q {
	case meter.Ohms:
		return math.Log(topOhms)
	case meter.Diode:
		return diodeTop
	}
	return 1.5 * top
}
