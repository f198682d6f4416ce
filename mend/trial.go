package mend

import (
	"slices"
	"sync"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// trial is a candidate, and what came of it in the job changed by it. It tells nothing when the changed job is no job.
type trial struct {
	candidate *candidate
	once      sync.Once

	gone   map[string]bool    // findings that are gone, by key
	nearer map[string]float64 // of those that stand, what part of the way to the limit was made good
	come   []proof.Finding    // findings that were not there before, and what is worse of a battery than it was
}

// littleNearer is what part of the way to the limit is not worth a change. A figure of our own choice.
const littleNearer = 0.01

// farShorter is by how much of what is asked a battery must fall shorter than before to count as made worse: a battery of
// another size does, a relay more or a thicker cable does not. A figure of our own choice.
const farShorter = 0.1

// mends says that a finding is gone and none has come.
func (t *trial) mends(key string) bool { return t.gone[key] && len(t.come) == 0 }

// try examines the job changed by a candidate.
func (x *Examiner) try(j *job.Job, e *Examination, t *trial) {
	changed := t.candidate.changed(j)
	if changed == nil {
		return
	}
	after := x.again(wiring.Make(changed), e)
	before := x.before(j, e, after)
	margins := map[string]float64{}
	for _, f := range after.Findings {
		margins[f.Key()] = f.Margin
		if brought(before, f) {
			t.come = append(t.come, f)
		}
	}
	t.gone, t.nearer = map[string]bool{}, map[string]float64{}
	for _, f := range e.Findings {
		switch margin, stands := margins[f.Key()]; {
		case !stands:
			t.gone[f.Key()] = true
		case 1-margin/f.Margin > littleNearer:
			t.nearer[f.Key()] = 1 - margin/f.Margin
		}
	}
}

// brought says that a finding was not there before, or is worse than it was.
func brought(before map[string]proof.Finding, f proof.Finding) bool {
	was, ok := before[f.Key()]
	return !ok || worse(was, f)
}

// worse says that a battery falls shorter of what is asked of it than it did, or that a larger one is not charged in time.
func worse(was, is proof.Finding) bool {
	if _, ok := ruleOf(is.Requirement); !ok {
		return false
	}
	short := func(f proof.Finding) float64 { return -f.Margin / f.Limit }
	return short(is) > short(was)+farShorter || is.Requirement == RequirementRecharge && is.Limit > was.Limit
}

// again examines a changed plan as far as the job was examined.
func (x *Examiner) again(changed *wiring.Plan, e *Examination) *Examination {
	if e.Partial() {
		return x.around(changed, e.doorIDs())
	}
	return x.complete(x.prover.Prove(changed))
}

// before is what was found before a change at all doors that were examined after it, which may be more.
func (x *Examiner) before(j *job.Job, e, after *Examination) map[string]proof.Finding {
	known := byKey(e.Findings)
	if !e.Partial() {
		return known
	}
	was := e.doorIDs()
	more := slices.DeleteFunc(after.doorIDs(), func(id string) bool { return slices.Contains(was, id) })
	if len(more) > 0 {
		for _, f := range x.ExamineAround(j, more).Findings {
			known[f.Key()] = f
		}
	}
	return known
}

func byKey(findings []proof.Finding) map[string]proof.Finding {
	all := map[string]proof.Finding{}
	for _, f := range findings {
		all[f.Key()] = f
	}
	return all
}
