package proof

import (
	"runtime"
	"slices"
	"sort"
	"sync"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/wiring"
)

// Prove puts a plan through every cause, combination and limit case and judges the requirements. It uses all
// processors; the result is the same whatever their number.
func Prove(plan *wiring.Plan) *Result { return NewProver().Prove(plan) }

// Prove proves a plan, looking up islands that were proved before.
func (p *Prover) Prove(plan *wiring.Plan) *Result {
	site := situation.New(plan)
	return p.prove(site, site.Islands, plan.Job.Doors)
}

// ProveAround proves some doors of a plan and all that share copper with them: it says of these what Prove says, and of the
// other doors and supplies nothing.
func (p *Prover) ProveAround(plan *wiring.Plan, doors []*job.Door) *Result {
	site := situation.New(plan)
	var islands []*situation.Island
	for _, d := range doors {
		if is := site.Island(d.Controller.ID); !slices.Contains(islands, is) {
			islands = append(islands, is)
		}
	}
	var near []*job.Door
	for _, d := range plan.Job.Doors {
		if slices.Contains(islands, site.Island(d.Controller.ID)) {
			near = append(near, d)
		}
	}
	return p.prove(site, islands, near)
}

// Outline is a result for a door before anything was proved: enough to try its faults. It has only what a fault can bring
// together with the door.
func Outline(plan *wiring.Plan, d *job.Door) *Result {
	return outline(situation.New(plan.Around(d)), []*job.Door{d})
}

// outline is a result for some doors of a site before anything was proved.
func outline(site *situation.Site, doors []*job.Door) *Result {
	r := &Result{Job: site.Plan.Job, Plan: site.Plan, Site: site, Left: leftOut()}
	r.catalogue = sync.OnceValues(func() (*fault.Catalogue, []fault.Fault) {
		k := fault.New(site.Plan)
		return k, k.Of("")
	})
	for _, d := range doors {
		r.Doors = append(r.Doors, DoorResult{Door: d, Family: rules.Join(d.Families...)})
	}
	return r
}

// prove proves some islands of a site, with the doors on them.
func (p *Prover) prove(site *situation.Site, islands []*situation.Island, doors []*job.Door) *Result {
	plan := site.Plan
	r := outline(site, doors)
	families := map[*job.Door]rules.Family{}
	for i, d := range doors {
		families[d] = r.Doors[i].Family
		r.Conflicts = append(r.Conflicts, conflicts(d)...)
	}
	book := newLedger()
	problems(book, plan, doors)
	lines := newDataLines(plan)
	for _, d := range doors {
		fitted(book, plan, d, families[d])
		lines.judge(book, d)
	}
	watches := p.watchAll(plan.Job, islands, families)
	for _, w := range watches {
		book.join(w.ledger)
		r.Counts.Solved += w.solved
		r.Counts.Situations += w.seen
	}
	of := watchesOf(watches)
	r.Loads = loads(plan.Job, of)
	r.Findings = findings(plan.Job, book, families)
	for i, d := range doors {
		r.Doors[i].Matrix = matrix(d, of[d.ID])
		r.Doors[i].Restless = slices.ContainsFunc(of[d.ID], func(w *watch) bool { return w.unrest })
	}
	r.Stand()
	return r
}

// task is one island in one limit case.
type task struct {
	is   *situation.Island
	c    situation.Case
	near *job.Door // nil for all doors
	into **watch
}

// watchAll runs islands in every limit case, apart from those that are known, and gives the watches in a fixed
// order.
func (p *Prover) watchAll(j *job.Job, islands []*situation.Island, families map[*job.Door]rules.Family) []*watch {
	var tasks []task
	var sets []*watchSet
	for _, is := range islands {
		if len(is.Doors) == 0 && len(is.Supplies) == 0 {
			continue
		}
		print := Fingerprint(j, is, families)
		set := p.find(print)
		if set == nil {
			cases := is.Cases()
			set = &watchSet{print: print, doors: max(1, len(is.Doors)), watches: make([]*watch, len(cases))}
			for i, c := range cases {
				tasks = append(tasks, task{is, c, nil, &set.watches[i]})
			}
		}
		sets = append(sets, set)
	}
	runAll(tasks, families)
	var all []*watch
	for _, set := range sets {
		p.keep(set)
		all = append(all, set.watches...)
	}
	return all
}

// runAll works through the tasks on all processors.
func runAll(tasks []task, families map[*job.Door]rules.Family) {
	next := make(chan task)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(tasks)) {
		wg.Go(func() {
			for t := range next {
				w := newWatch(t.is, t.c, families)
				w.near = t.near
				w.run(sequences(t.is, t.near))
				*t.into = w
			}
		})
	}
	for _, t := range tasks {
		next <- t
	}
	close(next)
	wg.Wait()
}

// findings makes findings of what failed.
func findings(j *job.Job, book *ledger, families map[*job.Door]rules.Family) []Finding {
	byID := map[string]rules.Family{}
	for d, f := range families {
		byID[d.ID] = f
	}
	var all []Finding
	for _, e := range book.failed(j) {
		all = append(all, e.finding(byID[e.door]))
	}
	return all
}

func (e *entry) finding(f rules.Family) Finding {
	rule := e.rule
	if rule == "" {
		rule = e.req.Rule
	}
	found := Finding{
		Door: e.door, Requirement: e.req.ID, Rule: rule, Severity: rules.Error, Where: e.where, What: e.what, Figure: e.figure,
		Limit: e.limit, Margin: e.margin, Unit: e.unit, Cause: e.cause, Case: e.limcase, Idle: e.idle, Why: e.req.Why,
		Source: e.req.source(rule, f), Subject: e.subject,
	}
	if e.req.Advice {
		found.Severity = rules.Advice
	}
	return found
}

// Stand settles how each rule stands at each door, from the findings there are, and counts. Call it again when findings
// were added.
func (r *Result) Stand() {
	solved, seen := r.Counts.Solved, r.Counts.Situations
	r.Counts = Counts{Solved: solved, Situations: seen}
	for _, f := range r.Findings {
		if f.Severity == rules.Error {
			r.Counts.Errors++
		} else {
			r.Counts.Advice++
		}
	}
	for i := range r.Doors {
		d := &r.Doors[i]
		d.Rules = standings(d, r.Findings, r.Faults.Of(d.Door.ID) != nil)
		for _, s := range d.Rules {
			switch s.Standing {
			case HeldRule:
				r.Counts.Held++
			case Broken:
				r.Counts.Broken++
			case NotJudged:
				r.Counts.NotJudged++
			}
		}
	}
}

// Sort puts errors before advice, keeping the order of doors.
func (r *Result) Sort() {
	sort.SliceStable(r.Findings, func(i, k int) bool { return r.Findings[i].Severity > r.Findings[k].Severity })
}

func conflicts(d *job.Door) []rules.Conflict {
	var all []rules.Conflict
	for i, a := range d.Families {
		for _, b := range d.Families[i+1:] {
			all = append(all, rules.Conflicts(a, b)...)
		}
	}
	return all
}

// leftOut lists what the model leaves out.
func leftOut() []string {
	return []string{
		"Direct current only: no transients, no mains side. Release times are closed forms of the winding alone; magnetism that lingers and mechanics come on top.",
		"Mechanics, fire seals, forces, heights and signs are not judged.",
		"Batteries are judged at two states, full and at their end; standby hours are an estimate.",
	}
}
