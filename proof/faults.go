package proof

import (
	"fmt"
	"runtime"
	"sync"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
)

// FaultReport is what became of every fault that was tried.
type FaultReport struct {
	Doors    []DoorFaults
	Findings []Finding // errors first, then by door in the order of the job
	Left     []string  // what was not tried, in sentences
}

// DoorFaults is what became of one door with each fault.
type DoorFaults struct {
	Door    *job.Door
	Seen    []FaultSeen  // single faults, in the order of the catalogue: the door's own, then what it shares
	Attacks []AttackSeen // what was tried from the unsecured side and lets the door go
	Tried   int          // attempts from the unsecured side
	Solved  int          // watched instants
	Whole   int          // faults that had to be tried on the whole island
}

// Depth says which faults are tried for the ways out.
type Depth int

// The depths.
const (
	NoFaults     Depth = iota // none; what can be done from the unsecured side is tried nevertheless
	SingleFaults              // every single fault
	FaultPairs                // and every silent fault together with each fault of the lock feed
)

// Add enters what the faults came to into the result.
func (r *Result) Add(f *FaultReport) {
	r.Faults = f
	r.Findings = append(r.Findings, f.Findings...)
	r.Left = append(r.Left, f.Left...)
	r.Sort()
	r.Stand()
}

// Of is what became of a door; nil where no faults were tried at it. A nil report tried none.
func (f *FaultReport) Of(door string) *DoorFaults {
	if f == nil {
		return nil
	}
	for i := range f.Doors {
		if f.Doors[i].Door.ID == door {
			return &f.Doors[i]
		}
	}
	return nil
}

// TryFaults tries every fault of every door of a proved job, or of only one of them. It uses all processors; the result
// is the same whatever their number. Progress is called after each door, one call at a time; it may be nil. When it
// returns false, the doors done so far are reported.
func TryFaults(r *Result, depth Depth, only *job.Door, progress func(done, all int) bool) *FaultReport {
	groups, all := groupsOf(r, only)
	out := make([]*DoorFaults, len(r.Doors))
	books := make([]*ledger, len(r.Doors))
	var mu sync.Mutex
	done, on := 0, true
	finished := func(t *trial) bool {
		mu.Lock()
		defer mu.Unlock()
		out[t.index], books[t.index] = t.out, t.book
		done++
		on = on && (progress == nil || progress(done, all))
		return on
	}
	work := func() bool {
		mu.Lock()
		defer mu.Unlock()
		return on
	}
	limit := make(chan struct{}, runtime.GOMAXPROCS(0))
	next := make(chan *group)
	var wg sync.WaitGroup
	for range min(cap(limit), len(groups)) {
		wg.Go(func() {
			for g := range next {
				g.run(depth, limit, finished)
			}
		})
	}
	for _, g := range groups {
		if !work() {
			break
		}
		next <- g
	}
	close(next)
	wg.Wait()
	return report(r, out, books)
}

// groupsOf sorts the doors of a job, or only one of them, by island, and counts them.
func groupsOf(r *Result, only *job.Door) (groups []*group, doors int) {
	_, shared := r.catalogue()
	of := map[*situation.Island]*group{}
	for i := range r.Doors {
		if only != nil && only != r.Doors[i].Door {
			continue
		}
		t := newTrial(r, i)
		g := of[t.island]
		if g == nil {
			g = &group{shared: shared}
			of[t.island] = g
			groups = append(groups, g)
		}
		g.trials = append(g.trials, t)
		doors++
	}
	return groups, doors
}

func report(r *Result, out []*DoorFaults, books []*ledger) *FaultReport {
	f := &FaultReport{Left: faultsLeftOut()}
	families := map[*job.Door]rules.Family{}
	all := newLedger()
	for i := range r.Doors {
		families[r.Doors[i].Door] = r.Doors[i].Family
		if out[i] != nil {
			f.Doors = append(f.Doors, *out[i])
			all.join(books[i])
		}
	}
	f.Findings = findings(r.Job, all, families)
	return f
}

// trial tries faults at one door. It is used by one goroutine at a time, but for what is behind the lock.
type trial struct {
	index     int // of the door in the result
	site      *situation.Site
	door      *job.Door
	family    rules.Family
	catalogue *fault.Catalogue
	shared    []fault.Fault
	causes    []situation.Cause
	steps     [][]situation.Step
	island    *situation.Island
	views     []view
	mu        sync.Mutex
	done      map[string][]*verdict // by the id of a fault: what it came to when tried before
	book      *ledger
	out       *DoorFaults
	order     int
	broken    []brokenBy
}

// view is the door in one case: nominal, and where nobody has confirmed whether a 0 V is earthed, with it and without.
type view struct {
	closeup *situation.Closeup
	sound   [][]glance
}

func newTrial(r *Result, index int) *trial {
	catalogue, shared := r.catalogue()
	d := &r.Doors[index]
	t := &trial{
		index: index, site: r.Site, door: d.Door, family: d.Family, catalogue: catalogue, shared: shared,
		book: newLedger(), out: &DoorFaults{Door: d.Door}, done: map[string][]*verdict{},
	}
	t.island = r.Site.Island(d.Door.Controller.ID)
	return t
}

// prepare looks at the sound door in every view, and at what can happen there: that is long for thousands of doors, and
// not listed before it is their turn.
func (t *trial) prepare(in *setting) {
	t.causes, t.steps = causesAt(t.island, t.door)
	for _, frames := range *in {
		v := view{closeup: frames.Closeup(t.door, t.steps)}
		v.stand(t)
		t.views = append(t.views, v)
	}
}

// nominalCases are the cases in which faults are tried.
func nominalCases(is *situation.Island) []situation.Case {
	nominal := situation.Nominal()
	all := []situation.Case{nominal}
	for _, c := range is.Cases() {
		if c.Supply == nominal.Supply && c.Winding == nominal.Winding && c.Loads == nominal.Loads && !c.Earthed {
			all = append(all, c)
		}
	}
	return all
}

// causesAt are the causes that can happen at a door or to its island, with their steps.
func causesAt(is *situation.Island, d *job.Door) (causes []situation.Cause, steps [][]situation.Step) {
	for _, c := range situation.Causes() {
		at := d
		if !c.Door {
			at = nil
		}
		if s := c.Steps(is, at); s != nil {
			causes = append(causes, c)
			steps = append(steps, s)
		}
	}
	return causes, steps
}

// stand takes the sound door through all causes: a glance for each step of each, empty where it was not watched.
func (v *view) stand(t *trial) {
	v.sound = make([][]glance, len(t.steps))
	for q := range v.sound {
		v.sound[q] = make([]glance, len(t.steps[q]))
	}
	v.closeup.Run(nil, nil, func(q, k int, b *situation.Bench, shows situation.Shows, shown bool) {
		g, state := lookAt(b, t.door, shows)
		s := &scene{seq: &sequence{cause: t.causes[q], door: t.door, steps: t.steps[q]}, step: &t.steps[q][k], shows: shows, shown: shown}
		g.demand = demandOn(t.door, t.family, s, state.Facts)
		v.sound[q][k] = g
		t.out.Solved++
	})
	v.demand()
}

// demand forgets what the sound door does not do itself: that is judged without faults.
func (v *view) demand() {
	for q := range v.sound {
		for k := range v.sound[q] {
			g := &v.sound[q][k]
			if g.demand.req != nil && g.demand.effect != g.effect {
				g.demand = demand{}
			}
		}
	}
}

func (t *trial) run(depth Depth, in *setting) {
	closeups := t.on(in)
	for i := range t.views {
		t.views[i].closeup = closeups[i]
	}
	if depth >= SingleFaults {
		for _, f := range t.faults() {
			t.single(f)
		}
	}
	t.tell()
	if depth >= FaultPairs {
		t.pairs()
	}
	t.attacks(in)
	t.unknown()
	t.out.pack()
}

// on are the closeups of the door, one for each view, leaning on a setting.
func (t *trial) on(in *setting) []*situation.Closeup {
	all := make([]*situation.Closeup, len(t.views))
	for i := range all {
		all[i] = t.views[i].closeup.On((*in)[i])
	}
	return all
}

// faults are those of the door, its own and then what it shares.
func (t *trial) faults() []*fault.Fault {
	var all []*fault.Fault
	own := t.catalogue.Of(t.door.ID)
	for i := range own {
		all = append(all, &own[i])
	}
	for i := range t.shared {
		if t.concerns(&t.shared[i]) {
			all = append(all, &t.shared[i])
		}
	}
	return all
}

// part tries some of the faults of the door, of which others try the rest.
func (t *trial) part(faults []*fault.Fault, in *setting) {
	closeups := t.on(in)
	for _, f := range faults {
		views := t.with(closeups, f, nil)
		t.mu.Lock()
		t.done[f.ID] = views
		t.mu.Unlock()
	}
}

// concerns says that a shared fault is one of this door too: it is about a conductor of it, or about what no door owns in
// the circuit it hangs on.
func (t *trial) concerns(f *fault.Fault) bool {
	owned := false
	for _, w := range f.At {
		if w.Door == t.door.ID {
			return true
		}
		owned = owned || w.Door != ""
	}
	for _, d := range f.Of {
		if d.Door == t.door.ID {
			return true
		}
		owned = owned || d.Door != ""
	}
	return !owned && t.island.Has(f)
}

// with takes the door with a fault through the causes in every view, in a joined island where the fault joins circuits;
// nil where the fault is none of this door. Prepare says what is asked; nil for everything.
func (t *trial) with(closeups []*situation.Closeup, f *fault.Fault, prepare func(*verdict)) []*verdict {
	is := t.island
	if !is.Has(f) {
		is = t.site.IslandOf(f)
		if is == nil || is.Unit(t.door.Controller.ID) == nil {
			return nil
		}
	}
	var all []*verdict
	for i, c := range closeups {
		if is != t.island {
			c = is.Frames(c.Case()).Closeup(t.door, t.steps)
		}
		d := t.verdict(&t.views[i])
		if prepare != nil {
			prepare(d)
		}
		d.through(c, f)
		all = append(all, d)
	}
	return all
}

// closeups are those of the views.
func (t *trial) closeups() []*situation.Closeup {
	var all []*situation.Closeup
	for i := range t.views {
		all = append(all, t.views[i].closeup)
	}
	return all
}

// single tries one fault. What is seen is the worst of the views: a way out counts as lost when one of them loses it, and
// the fault as noticed when all notice it.
func (t *trial) single(f *fault.Fault) {
	views, done := t.done[f.ID]
	if !done {
		views = t.with(t.closeups(), f, nil)
	}
	if views == nil {
		return
	}
	s := FaultSeen{Fault: f}
	for i, d := range views {
		t.count(d)
		if i == 0 || rankOf(d.notice) > rankOf(s.Notice) {
			s.Notice, s.Shows, s.Idle = d.notice, d.shows, d.idle
		}
	}
	t.waysOut(&s, views)
	t.staysHere(&s, views)
	t.out.Seen = append(t.out.Seen, s)
}

// count counts what a verdict took.
func (t *trial) count(d *verdict) {
	t.out.Solved += d.looked
	if d.whole {
		t.out.Whole++
	}
}

// unknown tells what the job accepts that is no fault of this door.
func (t *trial) unknown() {
	known := map[string]bool{}
	for _, list := range [][]fault.Fault{t.catalogue.Of(t.door.ID), t.shared, t.catalogue.Attacks(t.door.ID)} {
		for i := range list {
			known[list[i].ID] = true
		}
	}
	for _, a := range t.door.Accepts {
		if !known[a.Fault] {
			t.order++
			t.book.note(entry{
				door: t.door.ID, req: reqAccepted, where: a.Fault, limit: 1, margin: -1, order: t.order,
				what: fmt.Sprintf("%q is accepted, but the door has no such fault; \"show faults\" lists them", a.Fault),
			})
		}
	}
}
