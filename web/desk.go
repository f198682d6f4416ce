package web

import (
	"crypto/sha256"
	"sync"

	"doorwright/draw"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/situation"
	"doorwright/tryout"
	"doorwright/wiring"
)

// engine computes what pages show and does nothing twice. It may be used by several requests at once.
type engine struct {
	examiner *mend.Examiner
	openings openings

	mu    sync.Mutex
	desks map[[sha256.Size]byte]*desk
	order [][sha256.Size]byte // of the desks, the one used last at the end
}

// mostDesks bounds how many documents are kept computed: the present one of a few jobs and what is being tried out.
const mostDesks = 8

func newEngine() *engine {
	return &engine{examiner: mend.NewExaminer(), desks: map[[sha256.Size]byte]*desk{}}
}

// desk is everything computed from one job document.
type desk struct {
	job      *job.Job
	problems job.Problems // of the document; then the rest is nil
	plan     *wiring.Plan
	exam     *mend.Examination
	site     *situation.Site
	faults   func() *fault.Catalogue // of the plan: made once, when a door is first tried out, for all its doors
	openings *openings

	mends    mends
	mu       sync.Mutex
	tries    map[string]*tryout.Try
	drawings map[string]*draw.Sheet
	benches  []*bench
	nears    map[string][]proof.Finding
	landings map[string][]wiring.Landing // by door; nil until somebody asks

	faultsMu   sync.Mutex
	doorFaults []*proof.DoorFaults // of the doors whose faults were looked at last
}

// on gives the desk of a document.
func (e *engine) on(name string, document []byte) *desk {
	key := sha256.Sum256(document)
	e.mu.Lock()
	d := e.desks[key]
	e.mu.Unlock()
	if d == nil {
		d = e.work(name, document)
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if known := e.desks[key]; known != nil {
		d = known // another request was quicker
	}
	e.desks[key] = d
	e.touch(key)
	return d
}

// touch puts a desk at the end of the order and drops the one that was not used for longest.
func (e *engine) touch(key [sha256.Size]byte) {
	kept := e.order[:0]
	for _, k := range e.order {
		if k != key {
			kept = append(kept, k)
		}
	}
	e.order = append(kept, key)
	if len(e.order) > mostDesks {
		delete(e.desks, e.order[0])
		e.order = e.order[1:]
	}
}

func (e *engine) work(name string, document []byte) *desk {
	d := &desk{openings: &e.openings, tries: map[string]*tryout.Try{}, drawings: map[string]*draw.Sheet{}, nears: map[string][]proof.Finding{}}
	d.job, d.problems = job.Read(name, document)
	if d.job == nil {
		return d
	}
	d.exam = e.examiner.Examine(d.job)
	d.plan, d.site = d.exam.Plan, d.exam.Site
	d.faults = sync.OnceValue(func() *fault.Catalogue { return fault.New(d.plan) })
	return d
}

func (d *desk) door(id string) *job.Door { return doorOf(d.job, id) }

func doorOf(j *job.Job, id string) *job.Door {
	for _, o := range j.Doors {
		if o.ID == id {
			return o
		}
	}
	return nil
}

// tryOf is a door made ready for a try-out.
func (d *desk) tryOf(door *job.Door) *tryout.Try {
	d.mu.Lock()
	defer d.mu.Unlock()
	t := d.tries[door.ID]
	if t == nil {
		t = tryout.New(d.site, d.faults(), door)
		d.tries[door.ID] = t
	}
	return t
}

// landingsOf is what lands for a door, in the order of the devices and of their strips.
func (d *desk) landingsOf(door string) []wiring.Landing {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.landings == nil {
		d.landings = d.plan.LandingsByDoor()
	}
	return d.landings[door]
}

// wiringOf is the wiring diagram of a door.
func (d *desk) wiringOf(door *job.Door) *draw.Sheet {
	d.mu.Lock()
	defer d.mu.Unlock()
	s := d.drawings[door.ID]
	if s == nil {
		s = draw.Wiring(d.plan, door)
		d.drawings[door.ID] = s
	}
	return s
}
