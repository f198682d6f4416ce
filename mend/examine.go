// Package mend looks for changes to a job that make a finding go and bring no new one. Each is proved by examining the
// whole changed job again; nothing is proposed on the strength of a rule of thumb.
package mend

import (
	"crypto/sha256"
	"fmt"
	"slices"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/standby"
	"doorwright/wiring"
)

// Examination is all that can be said of a job: the proof, and the standby estimates with the findings they lead to.
type Examination struct {
	*proof.Result
	Standby []standby.Estimate
}

// Examiner examines one job after another and does nothing twice that two of them have in common. It may be used by
// several goroutines at once.
type Examiner struct {
	prover  *proof.Prover
	standby *batteries
}

// NewExaminer makes an examiner that knows nothing yet.
func NewExaminer() *Examiner {
	return &Examiner{proof.NewProver(), &batteries{known: map[[sha256.Size]byte]standby.Estimate{}}}
}

// Partial says that only some doors of the job were examined.
func (e *Examination) Partial() bool { return len(e.Doors) < len(e.Job.Doors) }

// doorIDs are those of the doors that were examined.
func (e *Examination) doorIDs() []string {
	all := make([]string, len(e.Doors))
	for i := range e.Doors {
		all[i] = e.Doors[i].Door.ID
	}
	return all
}

// Examine examines a job.
func (x *Examiner) Examine(j *job.Job) *Examination {
	return x.complete(x.prover.Prove(wiring.Make(j)))
}

// ExamineAround examines some doors of a job, by id, and all that share copper with them. What they are no part of is left
// out, and ids that the job does not have.
func (x *Examiner) ExamineAround(j *job.Job, doors []string) *Examination {
	return x.around(wiring.Make(j), doors)
}

func (x *Examiner) around(plan *wiring.Plan, doors []string) *Examination {
	var some []*job.Door
	for _, d := range plan.Job.Doors {
		if slices.Contains(doors, d.ID) {
			some = append(some, d)
		}
	}
	return x.complete(x.prover.ProveAround(plan, some))
}

// complete adds the standby estimates to a proof.
func (x *Examiner) complete(r *proof.Result) *Examination {
	e := &Examination{Result: r}
	e.Standby = x.standby.judge(e.Result)
	for _, s := range e.Standby {
		if f, ok := standbyFinding(s); ok {
			e.Findings = append(e.Findings, f)
		}
	}
	for i := range e.Doors {
		e.Doors[i].Standby = hasStandby(e.Doors[i].Door)
	}
	e.Sort()
	e.Stand()
	return e
}

// hasStandby says that a battery carries some of a door, so that its hours were estimated.
func hasStandby(d *job.Door) bool {
	for _, s := range []*job.Supply{situation.LockSupply(d), d.Controller.Feed.Supply} {
		if s != nil && s.Battery != nil {
			return true
		}
	}
	return false
}

// RequirementStandby is the id of the requirement that standby hours are held against.
const RequirementStandby = "standby-hours"

// TitleOf is the title of a requirement by its id, of standby hours too; empty for an id that is none.
func TitleOf(requirement string) string {
	if requirement == RequirementStandby {
		rule, _ := rules.Find(standbyRule)
		return rule.Title
	}
	for _, r := range append(proof.Requirements(), proof.FaultRequirements()...) {
		if r.ID == requirement {
			return r.Title
		}
	}
	return ""
}

// standbyRule is the rule that standby hours are held against.
const standbyRule = "R-30"

// standbyFinding is the finding of a battery that does not last as long as is asked. It is an estimate and advice.
func standbyFinding(s standby.Estimate) (proof.Finding, bool) {
	if s.Asked == 0 || s.Margin() >= 0 {
		return proof.Finding{}, false
	}
	rule, _ := rules.Find(standbyRule)
	what := fmt.Sprintf("%s lasts %v, %v asked, while mains is lost (estimate)", s.Supply.ID, s.Reached, s.Asked)
	if s.First != "" {
		what += "; first to drop out: " + s.First
	}
	return proof.Finding{
		Requirement: RequirementStandby, Rule: rule.ID, Severity: rules.Advice, Where: s.Supply.ID, What: what,
		Figure: float64(s.Reached), Limit: float64(s.Asked), Margin: float64(s.Margin()), Unit: "s", Cause: "mains lost", Case: s.Case,
		Why: rule.Why, Source: rule.Basis[0], Subject: proof.Subject{Supply: s.Supply.ID, Device: s.Supply.ID},
	}, true
}
