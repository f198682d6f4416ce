package job

import (
	"fmt"

	"doorwright/unit"
)

// What is taken where a document says nothing. None of these bears on life.
var (
	// usualTemperature suits heated buildings (common practice); a document for the open air states its own.
	usualTemperature = unit.Band[unit.Celsius]{Low: 0, High: 40}
	// possibleTemperature is wider than any surroundings people build doors in; what lies outside is a slip.
	possibleTemperature = unit.Band[unit.Celsius]{Low: -60, High: 90}
)

const (
	UsualLength    unit.Metre  = 15       // of a cable from a controller to its door (common practice)
	usualStandby   unit.Second = 4 * 3600 // asked of a battery (common practice; also a level of UL 294, from memory)
	usualUnlock    unit.Second = 5        // unlocked after a grant (common practice)
	usualHeld      unit.Second = 30       // open longer than this is an alarm (common practice)
	usualResistor  unit.Ohm    = 4700     // end-of-line resistor (common practice; E12 value of IEC 60063)
	longestRun     unit.Metre  = 5000     // more is a slip of the unit; no line of a door goes further
	longestStandby unit.Second = 30 * 86400
	longestUnlock  unit.Second = 3600
	longestHeld    unit.Second = 86400
	largestOpening unit.Metre  = 20
	highestDevice  unit.Metre  = 5   // above the floor; what is higher is not at the door
	furthestDevice unit.Metre  = 5   // from the opening
	largestEnd     unit.Ohm    = 1e6 // end-of-line resistors above this drown in the leakage of the cable
)

// quantity is what the checks of figures need of a unit.
type quantity interface {
	~float64
	fmt.Stringer
}

// figure checks a quantity that must be above zero and at most most, and gives it, or the usual one where nothing is
// stated.
func figure[T quantity](r *resolver, path string, v, most, usual T) T {
	switch {
	case v == 0 && !r.stated(path):
		r.assume(path, usual.String())
		return usual
	case !(v > 0):
		r.problem(path, v.String(), "is not possible; it must be above zero, or left out for "+usual.String())
	case v > most:
		r.problem(path, v.String(), fmt.Sprintf("is not possible; at most %v, so check the figure and its unit", most))
	}
	return v
}

// optional checks a quantity that may be left out and has no usual value.
func optional[T quantity](r *resolver, path string, v, most T) {
	switch {
	case v == 0 && !r.stated(path):
	case !(v > 0):
		r.problem(path, v.String(), "is not possible; it must be above zero, or left out")
	case v > most:
		r.problem(path, v.String(), fmt.Sprintf("is not possible; at most %v, so check the figure and its unit", most))
	}
}
