package proof

import (
	"fmt"
	"slices"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// pairs tries every silent fault of the lock feed together with each other fault of it, and tells which take a hard way
// out that neither takes alone.
func (t *trial) pairs() {
	if !needsWayOut(t.door) {
		return
	}
	var all, silent []*FaultSeen
	for i := range t.out.Seen {
		s := &t.out.Seen[i]
		if s.Broken != "" || slices.ContainsFunc(s.Lost, isHard) || !t.ofFeed(s.Fault) {
			continue
		}
		all = append(all, s)
		if s.Notice == OnTest || s.Notice == Never {
			silent = append(silent, s)
		}
	}
	var found []string
	var first string
	for _, a := range silent {
		for _, b := range all {
			if a == b || slices.Contains(found, a.Fault.ID) {
				continue
			}
			if lost := t.pair(a, b); len(lost) > 0 {
				found = append(found, a.Fault.ID)
				if first == "" {
					first = fmt.Sprintf("%s; with a second one, %s, these no longer let people out: %s", a.Fault.Name, b.Fault.Name, t.named(lost))
				}
			}
		}
	}
	if len(found) == 0 {
		return
	}
	t.order++
	t.book.note(entry{
		door: t.door.ID, req: reqSecond, where: found[0], figure: float64(len(found)), margin: -float64(len(found)), order: t.order,
		what:    fmt.Sprintf("%d faults that show by nothing are dangerous with a second one; the first: %s", len(found), first),
		limcase: situation.Nominal().Name, subject: Subject{Lock: t.door.Locks[0].ID},
	})
}

// ofFeed says that a fault joins conductors of the lock feed, or is about what stands in it.
func (t *trial) ofFeed(f *fault.Fault) bool {
	switch f.Class {
	case fault.Open, fault.High, fault.Setting, fault.Source, fault.Wet:
		return false
	case fault.Part:
		return slices.ContainsFunc(f.Of, func(d *wiring.Device) bool { return d.Role == job.RoleRelease || d.Role == job.RoleFire })
	}
	return slices.ContainsFunc(f.At, func(w *wiring.Conductor) bool { return w.Reason.Effect == wiring.LockDead })
}

// pair lists the hard ways that two faults take together and neither takes alone.
func (t *trial) pair(a, b *FaultSeen) []string {
	views := t.with(t.closeups(), fault.Both(a.Fault, b.Fault), func(d *verdict) {
		d.notice = AtOnce // how the two come to light is not asked
		d.ways = func(way string) bool {
			return isHard(way) && !slices.Contains(a.Lost, way) && !slices.Contains(b.Lost, way)
		}
	})
	for _, d := range views {
		t.count(d)
	}
	lost, _ := t.lostWays(views)
	return lost
}
