package mend

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// mostPairs is how many pairs of changes are tried for one finding. A figure of our own choice: each takes as long as a
// single one.
const mostPairs = 6

// mostSeconds is how many changes of each sort are tried to cure what another brings. A figure of our own choice.
const mostSeconds = 2

// pairs looks for two changes that mend together what no single one does. Each pair is tried once, whatever it is tried for.
type pairs struct {
	examiner *Examiner
	job      *job.Job
	found    *Examination
	tried    []*trial // of single changes
	doors    map[string]*job.Door

	mu    sync.Mutex
	known map[string]*trial // by the id of their candidate
}

// pair is a candidate of two, done one after the other.
type pair struct {
	*candidate
	second *candidate
	came   *proof.Finding // what the second was proposed for, when the first brought it
}

func newPairs(x *Examiner, j *job.Job, e *Examination, tried []*trial) *pairs {
	doors := map[string]*job.Door{}
	for _, d := range j.Doors {
		doors[d.ID] = d
	}
	return &pairs{examiner: x, job: j, found: e, tried: tried, doors: doors, known: map[string]*trial{}}
}

// mending is the first of the likely pairs that mends a finding.
func (p *pairs) mending(f *proof.Finding) []*candidate {
	likely := p.likely(f)
	for _, c := range likely[:min(len(likely), mostPairs)] {
		if p.trial(c.candidate).mends(f.Key()) {
			return []*candidate{p.least(c, f)}
		}
	}
	return nil
}

// least is a pair that mends a finding, or its second change where that does by itself: one that was proposed for what the
// first brought was not tried alone.
func (p *pairs) least(c pair, f *proof.Finding) *candidate {
	if c.came != nil {
		for _, alone := range candidates(&context{p.job, p.found.Plan, *c.came}) {
			if alone.id() == c.second.id() && p.trial(alone).mends(f.Key()) {
				return alone
			}
		}
	}
	return c.candidate
}

// trial tries a candidate.
func (p *pairs) trial(c *candidate) *trial {
	p.mu.Lock()
	t := p.known[c.id()]
	if t == nil {
		t = &trial{candidate: c}
		p.known[c.id()] = t
	}
	p.mu.Unlock()
	t.once.Do(func() { p.examiner.try(p.job, p.found, t) })
	return t
}

// near says that a candidate was proposed for something else that is wrong at the door of a finding, or at a supply of it.
func (p *pairs) near(c *candidate, f *proof.Finding) bool {
	return slices.ContainsFunc(c.findings, func(o *proof.Finding) bool {
		switch {
		case o.Door != "" && f.Door != "":
			return o.Door == f.Door
		case o.Door != "":
			return p.feeds(f.Subject.Supply, o.Door)
		case f.Door != "":
			return p.feeds(o.Subject.Supply, f.Door)
		}
		return o.Where == f.Where
	})
}

// feeds says that the controller of a door, or a lock of it, hangs on a supply.
func (p *pairs) feeds(supply, door string) bool {
	on := func(f job.Feed) bool { return f.Supply != nil && f.Supply.ID == supply }
	d := p.doors[door]
	return d != nil && (on(d.Controller.Feed) || slices.ContainsFunc(d.Locks, func(l *job.Lock) bool { return on(l.Feed) }))
}

// likely lists pairs for a finding. First come two that each lessen it and should do together, by what each does; then a
// change that mends it but brings something, with what mends that; then what lessens it, with whatever else there is.
func (p *pairs) likely(f *proof.Finding) []pair {
	var near []*trial
	for _, t := range p.tried {
		if t.gone != nil && p.near(t.candidate, f) {
			near = append(near, t)
		}
	}
	enough, others := lessening(near, f.Key())
	return slices.Concat(enough, p.curing(near, f), others)
}

// lessening pairs changes of which each takes a finding nearer to its limit, or one of them does: those that should be
// enough, cheapest first, and the others, most promising first.
func lessening(near []*trial, key string) (enough, others []pair) {
	gain := map[*candidate]float64{}
	for i, a := range near {
		for _, b := range near[i+1:] {
			sum := a.nearer[key] + b.nearer[key]
			if sum == 0 || !apart(a.candidate, b.candidate) {
				continue
			}
			c := pair{both(a.candidate, b.candidate), b.candidate, nil}
			if gain[c.candidate] = sum; sum >= 1 {
				enough = append(enough, c)
			} else {
				others = append(others, c)
			}
		}
	}
	byGain := func(a, b pair) int { return cmp.Compare(gain[b.candidate], gain[a.candidate]) }
	slices.SortStableFunc(enough, func(a, b pair) int { return cmp.Or(cmp.Compare(a.cost, b.cost), byGain(a, b)) })
	slices.SortStableFunc(others, byGain)
	return enough, others
}

// curing pairs the changes that make a finding go but bring something, those that bring least first, with the changes that
// make most of what was found go, and with what is proposed in the changed job for what they bring.
func (p *pairs) curing(near []*trial, f *proof.Finding) []pair {
	firsts := slices.DeleteFunc(slices.Clone(near), func(t *trial) bool { return !t.gone[f.Key()] })
	slices.SortStableFunc(firsts, func(a, b *trial) int {
		return cmp.Or(cmp.Compare(len(a.come), len(b.come)), cmp.Compare(a.candidate.cost, b.candidate.cost))
	})
	seconds := slices.Clone(near)
	slices.SortStableFunc(seconds, func(a, b *trial) int {
		return cmp.Or(cmp.Compare(len(b.gone), len(a.gone)), cmp.Compare(a.candidate.cost, b.candidate.cost))
	})
	var all []pair
	for _, a := range firsts[:min(len(firsts), mostPairs)] {
		for i, n := 0, 0; i < len(seconds) && n < mostSeconds; i++ {
			if b := seconds[i].candidate; apart(a.candidate, b) {
				all, n = append(all, pair{both(a.candidate, b), b, nil}), n+1
			}
		}
		changed := a.candidate.changed(p.job)
		proposed := candidates(&context{changed, wiring.Make(changed), a.come[0]})
		for i, n := 0, 0; i < len(proposed) && n < mostSeconds; i++ {
			if b := proposed[i]; apart(a.candidate, b) {
				all, n = append(all, pair{both(a.candidate, b), b, &a.come[0]}), n+1
			}
		}
	}
	return all
}

// both is a candidate of two, done one after the other.
func both(a, b *candidate) *candidate {
	return &candidate{
		text: "do two things together: " + a.text + ", and also " + b.text, steps: []string{a.text, b.text},
		cost: a.cost + b.cost, edits: slices.Concat(a.edits, b.edits),
	}
}

// apart says that two candidates are of different kinds and that neither writes where the other does.
func apart(a, b *candidate) bool {
	for _, x := range a.edits {
		for _, y := range b.edits {
			if kindOf(x.path) == kindOf(y.path) || within(x.path, y.path) || within(y.path, x.path) {
				return false
			}
		}
	}
	return true
}

// within says that one path leads to another or to what holds it.
func within(path, other string) bool { return path == other || strings.HasPrefix(path, other+".") }

// kindOf is the kind of change by where it is written: the path without what says which object it is. All that is written
// of cables is of one kind.
func kindOf(path string) string {
	parts := strings.Split(path, ".")
	if parts[0] == "runs" {
		return parts[0]
	}
	kind := parts[:1:1]
	for _, s := range parts[2:] {
		if _, err := strconv.Atoi(s); err != nil {
			kind = append(kind, s)
		}
	}
	return strings.Join(kind, ".")
}
