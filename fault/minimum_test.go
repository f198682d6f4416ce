package fault_test

import (
	"testing"

	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/wiring"
)

// The least that must be tried at a door whose lock is let go for escape: each conductor that carries the lock's current
// open, two of them in one cable joined, each joined to plus, to 0 V and to earth, each supply off, the fire relay stuck
// healthy, the controller's relay welded, one pole of the release stuck, the suppressor short, a fuse open. Open and
// short circuits of the way a release signal takes are those of BS 7273-4 (from memory), the rest is common practice
// without a source.

// tried answers what the catalogue of a plan holds.
type tried struct {
	all    []fault.Fault
	colour map[string]int
}

// joins says that some fault of these classes joins the nets of two nodes and does nothing else.
func (x tried) joins(a, b string, classes ...fault.Class) bool {
	a1, b1 := x.colour[a], x.colour[b]
	for _, f := range x.all {
		for _, class := range classes {
			if f.Class != class || len(f.Edits) != 1 || f.Edits[0].Op != fault.Join {
				continue
			}
			a2, b2 := x.colour[f.Edits[0].A], x.colour[f.Edits[0].B]
			if a1 == a2 && b1 == b2 || a1 == b2 && b1 == a2 {
				return true
			}
		}
	}
	return false
}

// has says that there is a fault with this single edit of a device, whatever else its other edits do.
func (x tried) has(op fault.Op, id, what string, on bool) bool {
	for _, f := range x.all {
		e := f.Edits[0]
		if e.Op == op && e.Device.ID == id && (e.Part == what || e.Signal == what) && e.On == on {
			return true
		}
	}
	return false
}

func TestLeastThatMustBeTried(t *testing.T) {
	seen := map[string]int{}
	for _, s := range sites(t) {
		t.Run(s.name, func(t *testing.T) {
			x := tried{everything(s.plan), copper(s.plan)}
			need := func(what string, ok bool, where ...any) {
				t.Helper()
				seen[what]++
				if !ok {
					t.Error("not tried:", what, where)
				}
			}
			for _, d := range s.plan.Job.Doors {
				feedIsTried(s.plan, d, x, need)
			}
			for _, d := range s.plan.Devices {
				unitIsTried(d, x, need)
			}
		})
	}
	for _, what := range []string{
		"open", "two in one cable", "to plus", "to 0 V", "to earth", "source off", "battery off", "output off", "fire relay stuck healthy",
		"controller relay welded", "one pole of the release stuck", "suppressor short",
	} {
		if seen[what] == 0 {
			t.Errorf("nothing needed: %s", what)
		}
	}
}

// feedIsTried checks the conductors that carry the current of a door's locks.
func feedIsTried(plan *wiring.Plan, d *job.Door, x tried, need func(string, bool, ...any)) {
	source := feeding(d)
	plus, minus := source.ID+".out.plus", source.ID+".out.minus"
	var feed []*wiring.Conductor
	for _, w := range plan.Conductors {
		if w.Door == d.ID && w.Reason.Effect == wiring.LockDead {
			feed = append(feed, w)
		}
	}
	for i, w := range feed {
		need("open", hasOpen(x.all, w), w.ID)
		for _, to := range []struct {
			what, node string
			class      fault.Class
		}{{"to plus", plus, fault.Supplied}, {"to 0 V", minus, fault.Grounded}, {"to earth", device.Ground, fault.Earthed}} {
			if x.colour[w.A.String()] != x.colour[to.node] {
				need(to.what, x.joins(w.A.String(), to.node, to.class), w.ID)
			}
		}
		for _, v := range feed[:i] {
			if v.Run != nil && v.Run == w.Run && x.colour[v.A.String()] != x.colour[w.A.String()] {
				need("two in one cable", x.joins(v.A.String(), w.A.String(), fault.Bridge), v.ID, w.ID)
			}
		}
	}
}

// feeding is the supply of a door's first lock.
func feeding(d *job.Door) *job.Supply {
	if f := d.Locks[0].Feed; !f.Controller {
		return f.Supply
	}
	return d.Controller.Feed.Supply
}

func hasOpen(all []fault.Fault, w *wiring.Conductor) bool {
	for _, f := range all {
		if f.Class == fault.Open && len(f.Edits) == 1 && f.Edits[0].Conductor == w {
			return true
		}
	}
	return false
}

// unitIsTried checks what one unit can do.
func unitIsTried(d *wiring.Device, x tried, need func(string, bool, ...any)) {
	landed := func(pin string) bool {
		for _, f := range x.all {
			if f.Class == fault.Open && len(f.Edits) == 1 && (f.Edits[0].Conductor.A == end(d, pin) || f.Edits[0].Conductor.B == end(d, pin)) {
				return true
			}
		}
		return false
	}
	for _, e := range d.Model.Ports {
		switch p := e.Value; {
		case p.Is == device.Source:
			need("source off", x.has(fault.Gate, d.ID, e.Key+".supply", false), d.ID)
		case p.Is == device.Battery && p.From == "":
			need("battery off", x.has(fault.Gate, d.ID, e.Key+".cells", false), d.ID)
		case p.Is == device.Output && p.Driven != "" && landed(e.Key+".plus"):
			need("output off", x.has(fault.Gate, d.ID, e.Key+".pass", false), d.ID, e.Key)
		case p.Use == "fire" && p.Is == device.Changeover && landed(e.Key+".no"):
			need("fire relay stuck healthy", x.has(fault.Force, d.ID, "healthy", true) && x.has(fault.Gate, d.ID, e.Key+".no-contact", true), d.ID)
		case p.Use == "lock" && p.Is == device.Changeover:
			for _, half := range []string{"nc", "no"} {
				if landed(e.Key + "." + half) {
					need("controller relay welded", x.has(fault.Gate, d.ID, e.Key+"."+half+"-contact", true), d.ID, half)
				}
			}
		case p.Use == "release" && p.Is == device.Contact && landed(e.Key+".a"):
			need("one pole of the release stuck", x.has(fault.Gate, d.ID, e.Key+".contact", true), d.ID, e.Key)
		case p.Suppressor == "diode" || p.Suppressor == "clamp":
			need("suppressor short", x.joins(d.ID+"."+e.Key+".plus", d.ID+"."+e.Key+".minus", fault.Part), d.ID)
		case p.Is == device.Diode:
			need("suppressor short", x.joins(d.ID+"."+e.Key+".anode", d.ID+"."+e.Key+".cathode", fault.Part), d.ID)
		case p.Is == device.Clamp:
			need("suppressor short", x.joins(d.ID+"."+e.Key+".a", d.ID+"."+e.Key+".b", fault.Part), d.ID)
		}
	}
}

func end(d *wiring.Device, pin string) wiring.End { return wiring.End{Device: d, Pin: pin} }

// No plan adds a fuse of its own; one that somebody fits between a supply and a lock is drawn here by hand.
func TestFuseOfItsOwn(t *testing.T) {
	place := &job.Place{ID: "riser", Title: "Riser"}
	unit := func(id string, m *device.Model) *wiring.Device {
		return &wiring.Device{ID: id, Model: m, Place: place, Door: "D1"}
	}
	source, fuse, lock := unit("PS1", model(t, "supply-12-5")), unit("F1", device.FuseModel(1)), unit("D1.lock1", model(t, "magnet-12"))
	lead := func(id string, a, b wiring.End) *wiring.Conductor {
		return &wiring.Conductor{
			ID: id, Kind: wiring.Lead, A: a, B: b, Door: "D1", Use: wiring.Power, Reason: wiring.Reason{Effect: wiring.LockDead},
		}
	}
	plan := &wiring.Plan{
		Job:     &job.Job{Places: []*job.Place{place}},
		Devices: []*wiring.Device{source, fuse, lock},
		Conductors: []*wiring.Conductor{
			lead("1", end(source, "out.plus"), end(fuse, "fuse.a")), lead("2", end(fuse, "fuse.b"), end(lock, "coil.plus")),
			lead("3", end(source, "out.minus"), end(lock, "coil.minus")),
		},
	}
	all := fault.Of(plan, "D1")
	f := find(t, all, "part:F1.fuse.link:open")
	if e := f.Edits[0]; e.Op != fault.Scale || e.Factor*float64(device.FuseModel(1).Parts(nil)[0].Ohms) < 1e8 {
		t.Errorf("a blown fuse is %+v", f.Edits)
	}
	x := tried{all, copper(plan)}
	if !x.joins("F1.fuse.b", "D1.lock1.coil.minus", fault.Bridge) {
		t.Error("the feed behind the fuse cannot be joined to its return")
	}
}

func model(t *testing.T, id string) *device.Model {
	t.Helper()
	models := device.Builtin()
	m, ok := models.Get(id)
	if !ok {
		t.Fatalf("no model %s", id)
	}
	return m
}
