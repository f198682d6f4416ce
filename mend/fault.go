package mend

import (
	"cmp"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// Faults looks for mends of the findings about faults and enters them. Each is proved with every fault of the door again,
// at the first of the doors that are wired alike and have the finding; the others are offered the same, and told where it
// was proved. Progress is called before each finding and at the end; it may be nil. When it returns false, the findings
// that are left keep no list.
func (x *Examiner) Faults(j *job.Job, e *Examination, progress func(done, all int) bool) {
	proved := map[string]provedAt{}
	var about []*proof.Finding
	for i := range e.Findings {
		if aboutFaults(e.Findings[i]) {
			e.Findings[i].Mends = nil
			about = append(about, &e.Findings[i])
		}
	}
	for i, f := range about {
		if progress != nil && !progress(i, len(about)) {
			return
		}
		singles := candidates(&context{j, e.Plan, *f})
		pairs := pairsOf(singles)
		key := f.Requirement + " " + f.Rule + " " + likeness(j, f.Door)
		at, known := proved[key]
		if known = known && len(at.singles) == len(singles) && len(at.pairs) == len(pairs); !known {
			at = x.proveFault(j, e, f, singles, pairs)
			proved[key] = at
		}
		f.Mends = at.mends(j, f, singles, pairs)
	}
	if progress != nil && len(about) > 0 {
		progress(len(about), len(about))
	}
}

// provedAt is which of the candidates mend a finding, and of the pairs of them, and the door they were proved at.
type provedAt struct {
	door           string
	singles, pairs []bool
}

// proveFault tries the candidates for a finding about faults at its door, and where none mends it, pairs up to the first
// that does.
func (x *Examiner) proveFault(j *job.Job, e *Examination, f *proof.Finding, singles, pairs []*candidate) provedAt {
	at := provedAt{f.Door, make([]bool, len(singles)), make([]bool, len(pairs))}
	for k, c := range singles {
		at.singles[k] = x.mendsFault(j, e, c, f)
	}
	for k := 0; k < len(pairs) && !slices.Contains(at.singles, true) && !slices.Contains(at.pairs, true); k++ {
		at.pairs[k] = x.mendsFault(j, e, pairs[k], f)
	}
	return at
}

// mends are those of the candidates and pairs that mend, best first.
func (at provedAt) mends(j *job.Job, f *proof.Finding, singles, pairs []*candidate) []proof.Mend {
	good := slices.Concat(those(singles, at.singles), those(pairs, at.pairs))
	mends := best(j, good)
	for i := range mends {
		if at.door != f.Door {
			mends[i].ProvedAt = at.door
		}
	}
	return mends
}

// those are the candidates that are marked.
func those(all []*candidate, marked []bool) []*candidate {
	var some []*candidate
	for k, c := range all {
		if marked[k] {
			some = append(some, c)
		}
	}
	return some
}

// mostFaultPairs is how many pairs of changes are tried for a finding about faults: each takes all faults of the door
// again. A figure of our own choice.
const mostFaultPairs = 3

// pairsOf are the pairs of candidates for a finding about faults that are tried when none of them mends it, cheapest first.
func pairsOf(singles []*candidate) []*candidate {
	var all []*candidate
	for i, a := range singles {
		for _, b := range singles[i+1:] {
			if apart(a, b) {
				all = append(all, both(a, b))
			}
		}
	}
	slices.SortStableFunc(all, func(a, b *candidate) int { return cmp.Compare(a.cost, b.cost) })
	return all[:min(len(all), mostFaultPairs)]
}

// aboutFaults says that a finding is about what a fault does.
func aboutFaults(f proof.Finding) bool {
	return slices.ContainsFunc(proof.FaultRequirements(), func(r *proof.Requirement) bool { return r.ID == f.Requirement })
}

// mendsFault says that a change makes a finding about faults go and brings no other, neither of faults nor without any.
func (x *Examiner) mendsFault(j *job.Job, e *Examination, c *candidate, f *proof.Finding) bool {
	changed := c.changed(j)
	if changed == nil {
		return false
	}
	d := doorOf(changed, f.Door)
	if d == nil {
		return false
	}
	plan := wiring.Make(changed)
	outline := proof.Outline(plan, d)
	if tried := e.Faults.Of(f.Door); tried != nil && proof.StillBreaks(outline, tried, f.Requirement) {
		return false // first, since a few faults take the least time
	}
	if brings(e.Findings, proof.TryFaults(outline, proof.SingleFaults, d, nil).Findings, f) {
		return false
	}
	after := x.again(plan, e)
	before := x.before(j, e, after)
	for _, n := range after.Findings {
		if brought(before, n) {
			return false
		}
	}
	return true
}

// brings says that a finding still stands, or that one about faults has come that was not there.
func brings(before, after []proof.Finding, f *proof.Finding) bool {
	is := func(a, b *proof.Finding) bool {
		return a.Door == b.Door && a.Requirement == b.Requirement && a.Rule == b.Rule
	}
	for i := range after {
		n := &after[i]
		known := slices.ContainsFunc(before, func(o proof.Finding) bool { return is(&o, n) })
		if is(n, f) || !known {
			return true
		}
	}
	return false
}

// controllerInside takes a controller off the unsecured side, to the box above its door.
func controllerInside(c *context) []*candidate {
	d := c.door()
	if d == nil || !d.Controller.Place.Unsecured {
		return nil
	}
	id, place := d.Controller.ID, d.ID+".box"
	return one("mount the controller, and with it the lock relay, on the secured side", costCable,
		edit{"controllers." + id + ".place", place, func(doc *job.Document) {
			for i := range doc.Controllers {
				if doc.Controllers[i].Key == id {
					doc.Controllers[i].Value.Place = place
				}
			}
		}})
}

// superviseInputs fits a resistor in series with each contact and one across it: joining two cores of an input reads as a
// fault then, not as a button pressed.
func superviseInputs(c *context) []*candidate {
	d := c.door()
	if d == nil || d.Supervision == device.SchemeDouble {
		return nil
	}
	return one("fit end-of-line resistors in series with and across the contacts of the inputs", costPart,
		c.onDoor("supervision", string(device.SchemeDouble), func(d *job.DoorDoc) { d.Supervision = string(device.SchemeDouble) }))
}
