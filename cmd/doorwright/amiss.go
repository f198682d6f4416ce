package main

import (
	"fmt"
	"math"
	"slices"

	"doorwright/mend"
	"doorwright/meter"
	"doorwright/rules"
)

// worksBy are the requirements without which a door does not do what it is planned for.
var worksBy = []string{"wired", "settles", "lock-voltage", "unit-voltage", "keeps-out", "lets-through", "input-reads", "data-understood"}

// farOff is how much of its limit a figure must be off: what is less may come of lengths and batteries that nobody has stated,
// and does not mislead a search. A figure of our own choice.
const farOff = 0.15

// amiss lists what keeps the door of a book from working as it is planned, by calculation. Readings are held against the
// plan: a mistake in it would pass for sound.
func amiss(b *meter.Book) []string {
	e := mend.NewExaminer().ExamineAround(b.Plan().Job, []string{b.Door.ID})
	var all []string
	for _, f := range e.Findings {
		if f.Unit == "V" && (f.Figure == 0 || math.Abs(f.Margin) < farOff*math.Abs(f.Limit)) {
			continue // off with the mains, or no more than a battery or a length makes of it
		}
		if f.Door == b.Door.ID && f.Severity == rules.Error && slices.Contains(worksBy, f.Requirement) {
			all = append(all, f.What)
		}
	}
	return all
}

// sayAmiss puts it before everything else.
func sayAmiss(p *page, all []string) {
	for _, what := range all {
		p.label(0, "ERROR", red, sentence(what))
	}
	if n := len(all); n > 0 {
		p.say(0, bold, fmt.Sprintf("As it is planned or described, this door does not work, by calculation. Mend that first: what follows takes %s for sound.",
			map[bool]string{true: "it", false: "them"}[n == 1]))
		p.gap()
	}
}
