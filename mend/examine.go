// Package mend looks for changes to a job that make a finding go and bring no new one. Each is proved by examining the
// whole changed job again; nothing is proposed on the strength of a rule of thumb.
package mend

import (
	"crypto/sha256"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/proof"
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
		e.Findings = append(e.Findings, batteryFindings(s)...)
	}
	for i := range e.Doors {
		e.Doors[i].Standby, e.Doors[i].Recharge = hasStandby(e.Doors[i].Door)
	}
	e.Sort()
	e.Stand()
	return e
}

// hasStandby says that a battery carries some of a door, so that its hours were estimated, and that the data sheets tell
// what charges it.
func hasStandby(d *job.Door) (standby, charger bool) {
	charger = true
	for _, s := range []*job.Supply{situation.LockSupply(d), d.Controller.Feed.Supply} {
		if s == nil || s.Battery == nil {
			continue
		}
		standby = true
		for _, name := range s.Model.PortsOf(device.Battery) {
			charger = charger && s.Model.Port(name).Charge > 0
		}
	}
	return standby, standby && charger
}
