package proof

import (
	"fmt"
	"math"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/unit"
	"doorwright/wiring"
)

// yes notes a promise that is kept or not, without a figure.
func yes(book *ledger, d *job.Door, req *Requirement, where string, ok bool, what string) {
	e := entry{door: idOf(d), req: req, where: where, figure: 1, limit: 1, margin: 1, what: what, subject: Subject{Device: where}}
	if !ok {
		e.figure, e.margin = 0, -1
	}
	book.note(e)
}

func idOf(d *job.Door) string {
	if d == nil {
		return ""
	}
	return d.ID
}

// problems notes what cannot be wired, but not of doors that are not asked about.
func problems(book *ledger, plan *wiring.Plan, asked []*job.Door) {
	doors := map[string]*job.Door{}
	for _, d := range plan.Job.Doors {
		doors[d.ID] = d
	}
	for _, p := range plan.Problems {
		if d := doors[p.Where]; d != nil && !slices.Contains(asked, d) {
			continue
		}
		yes(book, doors[p.Where], reqWired, p.Where+": "+p.What, false, p.What+"; "+p.Add)
	}
}

// fitted judges what follows from what is fitted alone.
func fitted(book *ledger, plan *wiring.Plan, d *job.Door, f rules.Family) {
	if needsWayOut(d) {
		waysOut(book, d, f)
	}
	for _, l := range d.Locks {
		fireDoor(book, d, l)
		duty(book, d, l)
		suppressor(book, plan, d, l, f)
	}
	if handleFrees(d) && len(d.Contacts) > 0 {
		yes(book, d, reqExitTold, d.ID, exitTold(d), "the inside handle opens the door, its contact is watched, but nothing tells the controller that somebody leaves")
	}
}

// exitTold says that the controller learns when somebody leaves.
func exitTold(d *job.Door) bool {
	if len(d.Exits) > 0 || d.ExitReader != nil {
		return true
	}
	for _, l := range d.Locks {
		for _, e := range l.Model.Ports {
			if e.Value.Use == "exit" {
				return true
			}
		}
	}
	return false
}

// waysOut judges the ways out of an escape door whose handle does not free it.
func waysOut(book *ledger, d *job.Door, f rules.Family) {
	safe := true
	for _, l := range d.Locks {
		safe = safe && (l.HandleFrees || lockPort(l).Action == device.FailSafe)
	}
	yes(book, d, reqFailSecure, d.ID, safe, "a lock that needs power to open stands on an escape door whose handle does not free it")
	if f.ManualRelease.Value {
		yes(book, d, reqRelease, d.ID, len(d.Releases) > 0, "no manual release is fitted")
	}
	if n := f.ReleasesPerWay.Value; n > 0 && len(d.Releases) > 0 {
		releasesEachWay(book, d, n)
	}
	if f.FireSignal.Value {
		yes(book, d, reqFireSignal, d.ID, hasFireSignal(d), "no fire signal acts on the lock")
	}
	for _, r := range d.Releases {
		if r.InFeed {
			poles(book, d, r, f)
		}
	}
}

// releasesEachWay counts the releases on each side people come from.
func releasesEachWay(book *ledger, d *job.Door, each int) {
	inside, outside := 0, 0
	for _, r := range d.Releases {
		if r.Unsecured {
			outside++
		} else {
			inside++
		}
	}
	for _, side := range []struct {
		name   string
		needed bool
		have   int
	}{{"secured", d.Escape == job.EscapeOut || d.Escape == job.EscapeBoth, inside}, {"unsecured", d.Escape == job.EscapeIn || d.Escape == job.EscapeBoth, outside}} {
		if !side.needed {
			continue
		}
		book.note(entry{
			door: d.ID, req: reqReleases, where: d.ID + " " + side.name, figure: float64(side.have), limit: float64(each),
			margin: float64(side.have - each), what: fmt.Sprintf("people escape from the %s side and find %s there", side.name, releasesCounted(side.have)),
		})
	}
}

func releasesCounted(n int) string {
	switch n {
	case 0:
		return "no manual release"
	case 1:
		return "1 manual release"
	}
	return fmt.Sprintf("%d manual releases", n)
}

// hasFireSignal says that a fire contact stands in the lock feed, or that the board output it hangs on is let go.
func hasFireSignal(d *job.Door) bool {
	if d.Fire != nil {
		return true
	}
	f := d.Locks[0].Feed
	if f.Controller {
		f = d.Controller.Feed
	}
	s := f.Supply
	if s == nil || s.Board == nil || s.Fire == nil || f.Output == 0 {
		return false
	}
	out := s.Board.Settings.Outputs
	return f.Output <= len(out) && out[f.Output-1].Releases
}

// poles judges whether a release breaks both conductors. Under rules that allow no single fault it is demanded, else it
// is advice.
func poles(book *ledger, d *job.Door, r *job.Release, f rules.Family) {
	n := 0
	for _, e := range r.Model.Ports {
		if e.Value.Is == device.Contact && e.Value.Use == "release" {
			n++
		}
	}
	req := reqPolesAdvised
	if f.SingleFault.Value {
		req = reqPoles
	}
	book.note(entry{
		door: d.ID, req: req, where: r.ID, figure: float64(n), limit: 2, margin: float64(n - 2),
		what: r.ID + " breaks one conductor of the lock feed only", subject: Subject{Device: r.ID},
	})
}

func lockPort(l *job.Lock) device.Port {
	if name, ok := l.Model.FindPort(device.LockCoil, "", 0, ""); ok {
		return *l.Model.Port(name)
	}
	return device.Port{}
}

// fireDoor judges whether a fire-rated leaf stays latched when its lock lets go: a magnet does not latch, and a
// fail-safe strike lets the latch pass.
func fireDoor(book *ledger, d *job.Door, l *job.Lock) {
	if !d.FireRated {
		return
	}
	ok := l.Model.Lock.Fire
	yes(book, d, reqFireDoor, l.ID, ok, fmt.Sprintf("%s (%s) is the fastening of a fire-rated door and does not keep it latched without power", l.ID, l.ModelID))
}

// duty judges whether a lock is powered longer than its winding may be: one that is powered while locked is powered
// all day.
func duty(book *ledger, d *job.Door, l *job.Lock) {
	p := lockPort(l)
	yes(book, d, reqDuty, l.ID, p.Duty != "intermittent" || p.Action == device.FailSecure,
		l.ID+" is rated for short duty but powered all day")
}

// suppressor judges what takes the kick of a winding, and how long the lock then takes to let go.
func suppressor(book *ledger, plan *wiring.Plan, d *job.Door, l *job.Lock, f rules.Family) {
	p := lockPort(l)
	volts, fitted := kick(plan, l, p)
	yes(book, d, reqSuppressor, l.ID, fitted, "nothing takes the kick of its winding")
	if !fitted || p.Action != device.FailSafe || p.Inductance == 0 || f.ReleaseTime.Value == 0 {
		return
	}
	t := ReleaseTime(p.Inductance, p.Ohms, unit.Ampere(float64(p.Window.High)/float64(p.Ohms)), p.LetsGo, volts)
	book.note(entry{
		door: d.ID, req: reqTime, where: l.ID, figure: float64(t), limit: float64(f.ReleaseTime.Value),
		margin: float64(f.ReleaseTime.Value - t), unit: "s", what: l.ID + " takes too long to let go",
		subject: Subject{Lock: l.ID, Device: l.ID},
	})
}

// kick is the voltage at which the suppressor across a winding conducts: the lowest of what is built in and fitted.
func kick(plan *wiring.Plan, l *job.Lock, p device.Port) (unit.Volt, bool) {
	volts, fitted := unit.Volt(math.Inf(1)), false
	take := func(v unit.Volt) { volts, fitted = min(volts, v), true }
	switch p.Suppressor {
	case "diode":
		take(diodeVolts)
	case "clamp":
		take(p.ClampVolts)
	}
	if plan.Device(l.ID+".diode") != nil {
		take(diodeVolts)
	}
	if c := plan.Device(l.ID + ".clamp"); c != nil {
		take(c.Model.Ports[0].Value.ClampVolts)
	}
	return volts, fitted
}

// diodeVolts is the forward voltage of a silicon diode at lock currents (textbook value).
const diodeVolts unit.Volt = 0.7

// ReleaseTime is the time a winding of inductance l and resistance r takes from current from down to current to, when
// its suppressor holds the voltage v across it: t = l/r ln((from r + v)/(to r + v)). It is a lower bound of mechanical
// release: magnetism lingers.
//
// Source: solution of l di/dt + r i + v = 0 (any textbook on circuits); checked against the table of worked figures in
// the tests.
func ReleaseTime(l unit.Henry, r unit.Ohm, from, to unit.Ampere, v unit.Volt) unit.Second {
	if from <= to {
		return 0
	}
	return unit.Second(float64(l) / float64(r) * math.Log((float64(from)*float64(r)+float64(v))/(float64(to)*float64(r)+float64(v))))
}
