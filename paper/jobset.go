package paper

import (
	"fmt"

	"doorwright/draw"
	"doorwright/rules"
)

// JobSet is the papers of the whole job: schedules, settings, what to order, the cause-and-effect matrix to sign, what
// became of the faults, a sheet for each supply, findings.
func (w *Work) JobSet(f Frame) *Paper {
	f.Kind, f.Number, f.Title, f.Revision = "Job set", w.Job.ID, w.Job.Title, w.Job.Revision
	page := newFlow(f)
	page.name(w.Job.Title, 0)
	page.cautions([]string{rules.Caution, "Calculated from what the job says is fitted, not measured. " +
		w.examinedWords()})
	w.contents(page)
	parts := []func(*flow){w.findings}
	for _, k := range ScheduleKinds() {
		switch k.Name {
		case "readings", "tests", "loads", "components": // on the door sheets, and on the supply sheets
			continue
		}
		parts = append(parts, func(f *flow) {
			s := w.Schedule(k)
			f.head(s.Title)
			f.table(s.table())
		})
	}
	const beforeSite = 3 // findings, doors, cables
	page.among([]*draw.Sheet{draw.Site(w.Plan)}, parts[:beforeSite]...)
	for _, write := range parts[beforeSite:] {
		write(page)
	}
	w.matrix(page)
	w.faultSummary(page)
	for _, s := range w.Job.Supplies {
		w.supplySheet(page, s)
	}
	w.takenForGranted(page)
	return page.paper()
}

// examinedWords say how much was examined.
func (w *Work) examinedWords() string {
	c := w.Examination.Counts
	return fmt.Sprintf("Examined: %s, %s settled; rules held %d, broken %d, not judged %d.",
		counted(c.Situations, "situation"),
		counted(c.Solved, "instant"), c.Held, c.Broken, c.NotJudged)
}

// contents says what the set holds.
func (w *Work) contents(f *flow) {
	f.say(fmt.Sprintf("%s, %s, %s, %s.", counted(len(w.Job.Doors), "door"), supplyCount(len(w.Job.Supplies)),
		counted(len(w.Job.Controllers), "controller"), counted(len(w.Job.Runs), "run")) +
		" In this order: findings and the site as blocks; schedules of doors, cables, terminations, settings and network; bill of material; " +
		"cause-and-effect matrix; faults; a sheet for each supply; what was taken for granted. Each door has a sheet of " +
		"its own.")
}

func supplyCount(n int) string {
	if n == 1 {
		return "1 supply"
	}
	return whole(n) + " supplies"
}
