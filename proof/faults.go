package proof

import (
	"fmt"
	"runtime"
	"slices"
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

// tried says that faults were tried at a door; a nil report tried none.
func (f *FaultReport) tried(d *job.Door) bool {
	return f != nil && slices.ContainsFunc(f.Doors, func(t DoorFaults) bool { return t.Door == d })
}

// TryFaults tries every fault of every door of a proved job, or of only one of them. It uses all processors; the result
// is the same whatever their number. Progress is called after each door, one call at a time; it may be nil. When it returns false, the doors
// done so far are reported.
func TryFaults(r *Result, depth Depth, only *job.Door, progress func(done, all int) bool) *FaultReport {
	catalogue := fault.New(r.Plan)
	shared := catalogue.Of("")
	out := make([]*DoorFaults, len(r.Doors))
	books := make([]*ledger, len(r.Doors))
	next := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	done, stopped, all := 0, false, len(r.Doors)
	if only != nil {
		all = 1
	}
	for range min(runtime.GOMAXPROCS(0), all) {
		wg.Go(func() {
			for i := range next {
				t := newTrial(r, catalogue, shared, &r.Doors[i])
				t.run(depth)
				mu.Lock()
				out[i], books[i] = t.out, t.book
				done++
				stopped = stopped || progress != nil && !progress(done, all)
				mu.Unlock()
			}
		})
	}
	for i := range r.Doors {
		if only != nil && only != r.Doors[i].Door {
			continue
		}
		mu.Lock()
		stop := stopped
		mu.Unlock()
		if stop {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
	return report(r, out, books)
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
	part := &Result{Job: r.Job}
	part.findings(all, families)
	f.Findings = part.Findings
	return f
}

// trial tries faults at one door. It is used by one goroutine.
type trial struct {
	site      *situation.Site
	door      *job.Door
	family    rules.Family
	catalogue *fault.Catalogue
	shared    []fault.Fault
	causes    []situation.Cause
	steps     [][]situation.Step
	island    *situation.Island
	views     []view
	book      *ledger
	out       *DoorFaults
	order     int
	broken    []brokenBy
}

// view is the door in one case: nominal, and where nobody has confirmed whether a 0 V is earthed, with it and without.
type view struct {
	c       situation.Case
	closeup *situation.Closeup
	sound   [][]glance
}

func newTrial(r *Result, catalogue *fault.Catalogue, shared []fault.Fault, d *DoorResult) *trial {
	t := &trial{
		site: r.Site, door: d.Door, family: d.Family, catalogue: catalogue, shared: shared,
		book: newLedger(), out: &DoorFaults{Door: d.Door},
	}
	t.island = r.Site.Island(d.Door.Controller.ID)
	t.causes, t.steps = causesAt(t.island, d.Door)
	for _, c := range nominalCases(t.island) {
		v := view{c: c, closeup: t.island.Frames(c).Closeup(d.Door, t.steps)}
		v.sound = t.through(v.closeup, nil)
		v.demand()
		t.views = append(t.views, v)
	}
	return t
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

// through takes the door with a fault, nil for none, through all causes: a glance for each step of each, empty where it
// was not watched.
func (t *trial) through(c *situation.Closeup, f *fault.Fault) [][]glance {
	seen := make([][]glance, len(t.steps))
	for q := range seen {
		seen[q] = make([]glance, len(t.steps[q]))
	}
	c.Run(f, func(q, k int, b *situation.Bench, shows situation.Shows, shown bool) {
		g, state := lookAt(b, t.door, shows)
		if f == nil {
			s := &scene{seq: &sequence{cause: t.causes[q], door: t.door, steps: t.steps[q]}, step: &t.steps[q][k], shows: shows, shown: shown}
			g.demand = demandOn(t.door, t.family, s, state.Facts)
		}
		seen[q][k] = g
		t.out.Solved++
	})
	return seen
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

func (t *trial) run(depth Depth) {
	if depth >= SingleFaults {
		own := t.catalogue.Of(t.door.ID)
		for i := range own {
			t.single(&own[i])
		}
		for i := range t.shared {
			if t.concerns(&t.shared[i]) {
				t.single(&t.shared[i])
			}
		}
	}
	t.tell()
	if depth >= FaultPairs {
		t.pairs()
	}
	t.attacks()
	t.unknown()
	for i := range t.views {
		t.out.Whole += t.views[i].closeup.Wide
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

// with takes the door with a fault through all causes in every view, in a joined island where the fault joins circuits;
// nil where the fault is none of this door.
func (t *trial) with(f *fault.Fault) [][][]glance {
	is := t.island
	if !is.Has(f) {
		is = t.site.IslandOf(f)
		if is == nil || is.Unit(t.door.Controller.ID) == nil {
			return nil
		}
	}
	var all [][][]glance
	for i := range t.views {
		c := t.views[i].closeup
		if is != t.island {
			c = is.Frames(t.views[i].c).Closeup(t.door, t.steps)
		}
		all = append(all, t.through(c, f))
	}
	return all
}

// single tries one fault. What is seen is the worst of the views: a way out counts as lost when one of them loses it, and
// the fault as noticed when all notice it.
func (t *trial) single(f *fault.Fault) {
	views := t.with(f)
	if views == nil {
		return
	}
	s := FaultSeen{Fault: f}
	for i, with := range views {
		sound := t.views[i].sound
		notice, shows := noticed(t.causes, sound, with)
		if i == 0 || rankOf(notice) > rankOf(s.Notice) {
			s.Notice, s.Shows, s.Idle = notice, shows, with[0][0].effect
		}
	}
	t.waysOut(&s, views)
	t.out.Seen = append(t.out.Seen, s)
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
