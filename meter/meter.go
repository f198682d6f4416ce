// Package meter says what a meter shows at a door, sound or with a fault: between which terminals, in which condition,
// within which band; and it reads what was shown and seen.
//
// A Book holds every pair of terminals in reach in every condition, and what each tolerance of the door does to it. A
// reading outside its band is a fault, or a door that is not as planned; package find says which.
package meter

import (
	"math"

	"doorwright/unit"
)

// Meter is a multimeter as its data sheet describes it.
type Meter struct {
	Volts     Function
	Ohms      Function
	InputOhms unit.Ohm // of its voltage ranges
	LeadOhms  unit.Ohm // the most its two leads have together, when they are not subtracted
	Test      Test
}

// Function is one function of a meter: its error in parts of the reading and counts of the last digit, and its ranges
// from low to high. The meter takes the lowest range that holds the reading.
type Function struct {
	Share  float64 // of the reading; 0.005 is 0.5 %
	Counts float64
	Ranges []Range
}

// Range is one range of a function, in V or ohm.
type Range struct {
	Full       float64 // the highest reading
	Resolution float64 // one count
}

// Default is an ordinary meter of 6000 counts: volts +-(0.5 % + 2), ohms +-(0.9 % + 2), 10 Mohm, leads of at most
// 0.5 ohm (common practice, no source; test leads of 0.2 to 0.5 ohm are usual).
func Default() Meter {
	return Meter{
		Volts:     Function{0.005, 2, sixThousand(0.6, 4)},
		Ohms:      Function{0.009, 2, sixThousand(600, 6)},
		InputOhms: 10e6,
		LeadOhms:  0.5,
		Test:      ordinary(),
	}
}

// sixThousand are n ranges of 6000 counts, each ten times the last.
func sixThousand(first float64, n int) []Range {
	all := make([]Range, n)
	for i := range all {
		full := first * math.Pow10(i)
		all[i] = Range{full, full / 6000}
	}
	return all
}

// Error is how far a reading may be from the truth: share of the reading + counts x resolution. A reading beyond the
// highest range is taken on that.
func (f Function) Error(reading float64) float64 {
	r := math.Abs(reading)
	return f.Share*r + f.Counts*f.at(r).Resolution
}

// at is the range a reading is taken on.
func (f Function) at(r float64) Range {
	for _, x := range f.Ranges {
		if r <= x.Full {
			return x
		}
	}
	if len(f.Ranges) == 0 {
		return Range{}
	}
	return f.Ranges[len(f.Ranges)-1]
}

// most is the highest reading of the function.
func (f Function) most() float64 {
	if len(f.Ranges) == 0 {
		return math.Inf(1)
	}
	return f.Ranges[len(f.Ranges)-1].Full
}

// widened is what the meter may show for any true value in a band. The error leaps where the range changes, so that the
// ends of the band are not always the worst.
func (f Function) widened(b band) band {
	w := band{b.low - f.Error(b.low), b.high + f.Error(b.high)}
	for i, r := range f.Ranges {
		if i == len(f.Ranges)-1 {
			break
		}
		leap := f.Share*r.Full + f.Counts*f.Ranges[i+1].Resolution
		if b.low <= r.Full && r.Full < b.high {
			w.low = min(w.low, r.Full-leap)
		}
		if b.low < -r.Full && -r.Full <= b.high {
			w.high = max(w.high, -r.Full+leap)
		}
	}
	return w
}

// band is a range of readings, in V or ohm.
type band struct{ low, high float64 }
