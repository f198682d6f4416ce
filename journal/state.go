package journal

import (
	"fmt"
	"strings"

	"doorwright/document"
	"doorwright/record"
	"doorwright/wiring"
)

// State is what all logs come to.
type State struct {
	Jobs    []*Job // in the order of their ids
	People  document.Map[record.Person]
	Meters  document.Map[record.Instrument]
	Seats   map[string]string // by log: who works at the device
	Entries int
	Unknown int      // entries of a later version, kept and not understood
	Clashes []string // what devices said of people that cannot both be, in sentences
}

// Job finds a job; nil when there is none.
func (s *State) Job(id string) *Job {
	for _, j := range s.Jobs {
		if j.ID == id {
			return j
		}
	}
	return nil
}

// Job is one job as it stands.
type Job struct {
	ID       string
	Document []byte // the import with every edit since
	File     string // that the document was brought in from
	History  []*Entry
	Plans    []Planned // issued, the last one counts
	Ticks    []Ticked  // the last one of a core's end counts
	Photos   []Photographed
	Asked    []Asked           // the last one of an id
	Stopped  map[string]string // by person and door: the page
	Clashes  []Clash
	Ill      []string // entries that fit nothing any more, in sentences

	done record.Record // what was recorded, without ticks
	gone map[Ref]bool  // entries that count no more, or never did
}

// HistoryOf are the changes of an object, such as "doors/staff": of a field of it, of all of it, and the documents that were
// brought in. In order.
func (j *Job) HistoryOf(object string) []*Entry {
	inside := func(a, b string) bool { return a == b || strings.HasPrefix(a, b+"/") }
	var all []*Entry
	for _, e := range j.History {
		path := ""
		switch b := e.Body.(type) {
		case Imported:
			all = append(all, e)
			continue
		case Edited:
			path = strings.Join(PathOf(b.Object, b.Field), "/")
		case Removed:
			path = b.Object
		default:
			continue
		}
		if inside(path, object) || inside(object, path) {
			all = append(all, e)
		}
	}
	return all
}

// Counts says whether an entry of the history still counts: it was not withdrawn, and what it says could be done.
func (j *Job) Counts(e *Entry) bool { return !j.gone[e.Ref()] }

// Withdrawals are the entries that took others back, by the entry that each took back: the first that did.
func (j *Job) Withdrawals() map[Ref]*Entry {
	all := map[Ref]*Entry{}
	for _, e := range j.History {
		if w, ok := e.Body.(Withdrawn); ok && all[Ref{w.Log, w.Seq}] == nil {
			all[Ref{w.Log, w.Seq}] = e
		}
	}
	return all
}

// Withdrawable says that an entry may be withdrawn: something that was done, seen, given or accepted. Changes of the
// document are taken back by changes, and ticks by ticks.
func (e *Entry) Withdrawable() bool {
	switch e.Body.(type) {
	case Planned, Measured, Tested, Sighted, Fitted, Snagged, Accepted, HandedOver, Photographed, Asked:
		return true
	}
	return false
}

// Clash is a field that two devices changed without knowing of each other. The later one counts, unless what it is a field
// of was removed.
type Clash struct{ Object, Field, Kept, Lost string }

// String says what clashed, in a sentence.
func (c Clash) String() string {
	what := strings.Trim(c.Object+" "+c.Field, " ")
	if what == "" {
		what = "the document"
	}
	kept, lost := strings.TrimSpace(c.Kept), strings.TrimSpace(c.Lost)
	switch {
	case kept == "" && lost != "":
		return fmt.Sprintf("two devices changed %s without knowing of each other: it was taken away, %q does not count", what, lost)
	case lost == "":
		return fmt.Sprintf("two devices changed %s without knowing of each other: %q counts, taking it away does not", what, kept)
	}
	return fmt.Sprintf("two devices changed %s without knowing of each other: %q counts, %q does not", what, kept, lost)
}

// Revision is that of the plan that was issued last; empty when none was.
func (j *Job) Revision() string {
	if len(j.Plans) == 0 {
		return ""
	}
	return j.Plans[len(j.Plans)-1].Revision
}

// Record is what was recorded, held against a plan: a tick counts only where the plan still has the core that was landed,
// on both its terminals. Stale are the ticks that no longer count.
func (s *State) Record(j *Job, plan *wiring.Plan) (rec *record.Record, stale []Ticked) {
	done := j.done
	done.Job, done.Revision = j.ID, plan.Job.Revision
	done.People, done.Meters = s.People, s.Meters
	now := map[string]Core{}
	for _, c := range CoresOf(plan) {
		now[c.ID] = c
	}
	for _, t := range j.Ticks {
		if t.Off {
			continue
		}
		c, ok := now[t.Core.ID]
		if !ok || !c.same(t.Core) {
			stale = append(stale, t)
			continue
		}
		device, pin := c.end(t.End)
		done.Landed = append(done.Landed, record.Landed{Device: device, Terminals: []string{pin}, Act: t.Act})
	}
	return &done, stale
}

// TickOf is the tick of one end of a core of the present plan; nil when there is none.
func (j *Job) TickOf(c Core, end string) *Ticked {
	for i := range j.Ticks {
		if t := &j.Ticks[i]; t.End == end && !t.Off && t.Core.ID == c.ID && t.Core.same(c) {
			return t
		}
	}
	return nil
}

func (e *Entry) String() string { return e.Ref().String() }

func (r Ref) String() string { return fmt.Sprintf("%s/%d", r.Log, r.Seq) }
