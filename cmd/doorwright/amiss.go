package main

import (
	"fmt"

	"doorwright/mend"
	"doorwright/meter"
)

// amiss lists what keeps the door of a book from working as it is planned, by calculation.
func amiss(b *meter.Book) []string {
	return mend.NewExaminer().ExamineAround(b.Plan().Job, []string{b.Door.ID}).Amiss(b.Door.ID)
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
