package proof

import (
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/wiring"
)

// Near is a first look at a plan after a change at one door: the findings of what happens at that door, and everywhere
// at once, in every limit case, at all doors that share copper with it. What happens at another door is left out, and so
// are standby hours and faults. It takes a small part of the time of Prove, which alone is a proof.
func Near(plan *wiring.Plan, d *job.Door) []Finding {
	site := situation.New(plan)
	is := site.Island(d.Controller.ID)
	families := map[*job.Door]rules.Family{}
	for _, o := range plan.Job.Doors {
		families[o] = rules.Join(o.Families...)
	}
	book := newLedger()
	problems(book, plan, plan.Job.Doors)
	fitted(book, plan, d, families[d])
	newDataLines(plan).judge(book, d)
	cases := is.Cases()
	watches := make([]*watch, len(cases))
	tasks := make([]task, len(cases))
	for i, c := range cases {
		tasks[i] = task{is, c, d, &watches[i]}
	}
	runAll(tasks, families)
	for _, w := range watches {
		book.join(w.ledger)
	}
	return findings(plan.Job, book, families)
}
