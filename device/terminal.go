package device

import "doorwright/unit"

// What a terminal takes when its model does not say: one core of 0.2 mm2 to 2.5 mm2, the usual range of small rising
// clamps (common practice, no source).
var (
	leastCore = unit.MM2(0.2)
	mostCore  = unit.MM2(2.5)
)

// Takes is how many cores the terminal takes.
func (t Terminal) Takes() int { return max(1, t.Cores) }

// Range is the sizes of core it takes.
func (t Terminal) Range() (from, to unit.Size) {
	from, to = t.From, t.To
	if from.IsZero() {
		from = leastCore
	}
	if to.IsZero() {
		to = mostCore
	}
	return from, to
}

// Suits says whether a core of that size may land there. Sizes are compared by their area.
func (t Terminal) Suits(s unit.Size) bool {
	from, to := t.Range()
	return s.Area() >= from.Area() && s.Area() <= to.Area()
}
