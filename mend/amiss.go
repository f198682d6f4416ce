package mend

import (
	"math"
	"slices"

	"doorwright/rules"
)

// worksBy are the requirements without which a door does not do what it is planned for.
var worksBy = []string{"wired", "settles", "lock-voltage", "unit-voltage", "keeps-out", "lets-through", "input-reads", "data-understood"}

// farOff is how much of its limit a voltage or current must be off: what is less may come of lengths and batteries that nobody has
// stated, and does not mislead a search. A figure of our own choice.
const farOff = 0.15

// Amiss lists what keeps a door from working as it is planned, by calculation, in sentences without an end. Readings are held
// against the plan: a mistake in it would pass for sound.
func (e *Examination) Amiss(door string) []string {
	var all []string
	for _, f := range e.Findings {
		if (f.Unit == "V" || f.Unit == "A") && (f.Figure == 0 || math.Abs(f.Margin) < farOff*math.Abs(f.Limit)) {
			continue // off with the mains, or no more than a battery or a length makes of it
		}
		if f.Door == door && f.Severity == rules.Error && slices.Contains(worksBy, f.Requirement) {
			what := f.What
			if when := f.When(); when != "" {
				what += ", when: " + when
			}
			all = append(all, what)
		}
	}
	return all
}
