package proof

import (
	"slices"
)

// StillBreaks tries again, at the first door of a result of a changed plan, the faults that broke a requirement there before:
// it says that one of them still does. That no other does now, only TryFaults can tell.
func StillBreaks(changed *Result, before *DoorFaults, requirement string) bool {
	t := newTrial(changed, 0)
	g := &group{spare: make(chan *setting, 1)}
	g.trials = []*trial{t}
	in := g.enter()
	t.prepare(in)
	for _, f := range t.faults() {
		if !before.broke(f.ID, requirement) {
			continue
		}
		t.single(f)
		if slices.ContainsFunc(t.broken, func(b brokenBy) bool { return b.req.ID == requirement }) {
			return true
		}
	}
	return false
}

// broke says that a fault broke a requirement.
func (d *DoorFaults) broke(id, requirement string) bool {
	return slices.ContainsFunc(d.Seen, func(s FaultSeen) bool {
		return s.Fault.ID == id && (s.Broken == requirement || requirement == reqShortStays.ID && s.Beside != nil && len(s.Beside.Takes) > 0)
	})
}
