package web

import (
	"context"
	"fmt"
	"runtime/debug"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
)

// faultRun tries every single fault of one document of a job, door by door, in the background: first the door that
// somebody looks at, the others while nobody asks for anything.
type faultRun struct {
	mark     string
	recalled sync.Once

	mu      sync.Mutex
	desk    *desk
	known   *knownFaults
	results map[string]*faultResult // by door
	before  map[string]*faultResult // by door: the last of an older document
	wanted  string
	all     bool // every door is tried, not only those that are wanted
	hurried bool // somebody waits for all of them
	running bool // doors are being tried
	mending bool // mends are being looked for
	over    bool // another document has taken its place
}

// faultRuns are the runs of the present document of each job.
type faultRuns struct {
	mu   sync.Mutex
	runs map[string]*faultRun

	active atomic.Int64 // requests that are being answered
	last   atomic.Int64 // when the last one ended, in nanoseconds
}

// begin and end keep count of the requests, so that the background keeps still while somebody waits for an answer.
func (f *faultRuns) begin() { f.active.Add(1) }

func (f *faultRuns) end() {
	f.active.Add(-1)
	f.last.Store(time.Now().UnixNano())
}

// quietFor is how long nobody has asked for anything before doors are tried that nobody looks at; lookEvery how often that
// is looked at.
const (
	quietFor  = time.Second
	lookEvery = 200 * time.Millisecond
)

func (f *faultRuns) quiet() bool {
	return f.active.Load() == 0 && time.Since(time.Unix(0, f.last.Load())) > quietFor
}

// of is the run of a job's present document.
func (f *faultRuns) of(at *atJob) *faultRun {
	f.mu.Lock()
	defer f.mu.Unlock()
	now := mark(at.shelf.Document)
	old := f.runs[at.shelf.ID]
	if old != nil && old.mark == now {
		return old
	}
	r := &faultRun{mark: now, known: newKnownFaults(), results: map[string]*faultResult{}, before: map[string]*faultResult{}}
	if old != nil {
		r.known = old.known
		old.mu.Lock()
		old.over = true
		for _, from := range []map[string]*faultResult{old.before, old.results} {
			for door, x := range from {
				r.before[door] = x
			}
		}
		old.mu.Unlock()
	}
	if f.runs == nil {
		f.runs = map[string]*faultRun{}
	}
	f.runs[at.shelf.ID] = r
	return r
}

// tryFaults begins to try the faults of a job, or goes on: first those of a door; those of all doors when none is named.
func (h *handler) tryFaults(at *atJob, door string) *faultRun {
	r := h.faultRuns.of(at)
	r.recalled.Do(func() { r.recall(at.desk) })
	r.mu.Lock()
	defer r.mu.Unlock()
	r.desk = at.desk
	if door != "" {
		r.wanted = door
	} else {
		r.all = true
	}
	if d := r.next(); d != nil && !r.running {
		r.running = true
		go h.goOn(r)
	}
	h.mendWanted(r)
	return r
}

// mostRecalled is of how many doors at most what is known is looked up before a page is shown: half a second's work. Of more
// it is looked up as they are tried.
const mostRecalled = 50

// recall enters what is known of doors that are as they were in an older document.
func (r *faultRun) recall(on *desk) {
	if len(on.job.Doors) > mostRecalled || r.known.empty() {
		return
	}
	prints := on.exam.FaultPrints()
	for _, d := range on.job.Doors {
		if x := r.known.recall(printOf(on.exam.Result, d, prints)); x != nil {
			r.enter(on, d, x)
		}
	}
}

// enter enters what faults come to at a door of the present document.
func (r *faultRun) enter(on *desk, d *job.Door, x *faultResult) {
	x.mark, x.revision = r.mark, on.job.Revision
	r.mu.Lock()
	defer r.mu.Unlock()
	r.results[d.ID] = x
}

// hurry has every door tried at once, whatever else is asked for.
func (r *faultRun) hurry() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.hurried = true
}

// next is the door to be tried next; nil when none is left.
func (r *faultRun) next() *job.Door {
	if r.over {
		return nil
	}
	if d := r.desk.door(r.wanted); d != nil && r.results[d.ID] == nil {
		return d
	}
	if r.all {
		for _, d := range r.desk.job.Doors {
			if r.results[d.ID] == nil {
				return d
			}
		}
	}
	return nil
}

// goOn tries one door after the other until none is left.
func (h *handler) goOn(r *faultRun) {
	defer h.told(r)
	var prints *proof.FaultPrints
	for {
		d, on := h.await(r)
		if d == nil {
			return
		}
		if prints == nil {
			prints = on.exam.FaultPrints()
		}
		r.enter(on, d, r.known.try(on.exam.Result, d, prints))
		r.mu.Lock()
		h.mendWanted(r)
		r.mu.Unlock()
	}
}

// told ends a run that meets a mistake in the program, and tells of it.
func (h *handler) told(r *faultRun) {
	if what := recover(); what != nil {
		r.stop()
		if h.Failed != nil {
			h.Failed(fmt.Errorf("faults in the background: %v\n%s", what, debug.Stack()))
		}
	}
}

// await gives the door to be tried next: at once one that somebody looks at, another when nobody waits for an answer.
// Nil says that the run has ended.
func (h *handler) await(r *faultRun) (d *job.Door, on *desk) {
	for {
		r.mu.Lock()
		d, on = r.next(), r.desk
		if d == nil || h.background().Err() != nil {
			r.running = false
			r.mu.Unlock()
			return nil, nil
		}
		now := d.ID == r.wanted || r.hurried || h.faultRuns.quiet()
		r.mu.Unlock()
		if now {
			return d, on
		}
		time.Sleep(lookEvery)
	}
}

// background ends when nothing is to be done in the background any more.
func (h *handler) background() context.Context {
	if h.Background == nil {
		return context.Background()
	}
	return h.Background
}

func (r *faultRun) stop() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.over, r.running, r.mending = true, false, false
}

// mendWanted begins to look for mends of what single faults break at the door that somebody looks at, unless mends are
// being looked for. The run is locked.
func (h *handler) mendWanted(r *faultRun) {
	x, d := r.results[r.wanted], r.desk.door(r.wanted)
	if d == nil || x == nil || x.mended || r.mending || r.over || h.background().Err() != nil {
		return
	}
	r.mending = true
	on := r.desk
	go func() {
		defer h.told(r)
		// A copy, since pages read the findings meanwhile.
		result := *on.exam.Result
		result.Findings = slices.Concat(result.Findings, x.findings)
		h.engine.examiner.Faults(on.job, &mend.Examination{Result: &result, Standby: on.exam.Standby}, nil)
		y := *x
		y.findings, y.mended = result.Findings[len(on.exam.Findings):], true
		r.mu.Lock()
		defer r.mu.Unlock()
		r.results[d.ID], r.mending = &y, false
		h.mendWanted(r)
	}()
}

// resultAt is what is known of a door: of the present document, or of an older one; nil for nothing yet.
func (r *faultRun) resultAt(door string) (x *faultResult, present bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if x = r.results[door]; x != nil {
		return x, true
	}
	return r.before[door], false
}

// failed says that the run has met a mistake in the program: nothing more comes of it.
func (r *faultRun) failed() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.over
}

// tried is at how many doors the faults of the present document were tried.
func (r *faultRun) tried() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return len(r.results)
}
