package main

import (
	"strings"

	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/wiring"
)

// view is what a document is made from: a job, and what of it was asked for.
type view struct {
	*loaded
	door        *job.Door // only this door; nil for all
	by          string
	reasons     bool
	mends       bool
	supply      string // id
	cause       string
	step        string // of the cause, by number or name
	limit       string // name of the limit case
	fault       string // id
	faults      proof.Depth
	progress    func(what string) func(done, all int) bool
	examination *mend.Examination
}

// notAsked says that faults are no matter of what is shown: not even what can be done from outside is tried.
const notAsked proof.Depth = -1

// depthOf is how far faults are tried, by the word for it.
func depthOf(word string) proof.Depth {
	return map[string]proof.Depth{"none": proof.NoFaults, "single": proof.SingleFaults, "pairs": proof.FaultPairs}[word]
}

// examined is the examination of the job, made once.
func (v *view) examined() *mend.Examination {
	if v.examination == nil {
		x := mend.NewExaminer()
		if v.door == nil {
			v.examination = x.Examine(v.job)
		} else {
			v.examination = x.ExamineAround(v.job, []string{v.door.ID})
		}
		if v.mends {
			x.All(v.job, v.examination)
		}
		if v.faults != notAsked {
			v.examination.Add(proof.TryFaults(v.examination.Result, v.faults, v.door, v.progress(faultsTried)))
			if v.mends {
				x.Faults(v.job, v.examination, v.progress(mendsSought))
			}
		}
	}
	return v.examination
}

// wants says whether what belongs to the door with this id was asked for. What belongs to no door always is.
func (v *view) wants(door string) bool { return v.door == nil || v.door.ID == door || door == "" }

// doors lists the doors that were asked for.
func (v *view) doors() []*job.Door {
	if v.door != nil {
		return []*job.Door{v.door}
	}
	return v.job.Doors
}

// wantsRun says whether some conductor of the run serves a door that was asked for.
func (v *view) wantsRun(r *job.Run) bool {
	if v.door == nil || r.From.Door == v.door.ID || r.To.Door == v.door.ID {
		return true
	}
	for _, c := range v.plan.Conductors {
		if c.Run == r && c.Door == v.door.ID {
			return true
		}
	}
	return false
}

// wantsDevice says whether a device belongs to a door that was asked for, or serves it: feeds it, or takes a conductor
// of it.
func (v *view) wantsDevice(d *wiring.Device) bool {
	if v.door == nil || d.Door == v.door.ID {
		return true
	}
	if d.Door != "" {
		return false
	}
	for _, s := range v.suppliesOf() {
		if d.ID == s.ID || strings.HasPrefix(d.ID, s.ID+".") && d.Added == nil {
			return true
		}
	}
	for _, c := range v.plan.Conductors {
		if c.Door == v.door.ID && (c.A.Device == d || c.B.Device == d) {
			return true
		}
	}
	return false
}

// suppliesOf lists the supplies that the locks and the controller of the door hang on.
func (v *view) suppliesOf() []*job.Supply {
	feeds := []job.Feed{v.door.Controller.Feed}
	for _, l := range v.door.Locks {
		feeds = append(feeds, l.Feed)
	}
	var all []*job.Supply
	for _, f := range feeds {
		if f.Supply != nil {
			all = append(all, f.Supply)
		}
	}
	return all
}
