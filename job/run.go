package job

import (
	"fmt"
	"slices"
)

// allRuns enters the written runs, then those taken by default, and reports what is joined by none.
func (r *resolver) allRuns() {
	touched := map[*Place]bool{}
	for _, e := range r.doc.Runs {
		path := under("runs", e.Key)
		r.claim(e.Key, path, "a run")
		run := r.run(e.Key, path, e.Value)
		if run.From != nil && run.To != nil {
			touched[run.From], touched[run.To] = true, true
			r.join(run.From, run.To)
		}
		r.job.Runs = append(r.job.Runs, run)
	}
	for i, d := range r.job.Doors {
		r.doorRuns(d, &r.doc.Doors[i].Value, touched)
	}
	r.supplyRuns()
	for _, d := range r.job.Doors {
		r.reached(d)
	}
}

func (r *resolver) run(id, path string, w RunDoc) *Run {
	run := &Run{ID: id, TypeID: w.Cable, Designed: w.Length, Pulled: w.Pulled, Carries: Carries{true, true, true}}
	run.From = r.placeNamed(under(path, "from"), w.From, "the place it starts at")
	run.To = r.placeNamed(under(path, "to"), w.To, "the place it ends at")
	if run.From != nil && run.From == run.To {
		r.problem(under(path, "to"), quote(w.To), "is where the run starts; name the place at its other end")
	}
	if at := under(path, "cable"); r.required(at, w.Cable, "the cable type, such as 4x0.75") {
		run.Type = r.cables[w.Cable]
		if run.Type == nil && !r.lost("cables", len(r.doc.Cables)) {
			r.unknown(at, w.Cable, "cable type", func() []string { return r.cableIDs })
		}
	}
	r.lengths(run, path, w)
	twice(r, under(path, "carries"), w.Carries)
	if len(w.Carries) > 0 {
		run.Carries = Carries{
			slices.Contains(w.Carries, "power"), slices.Contains(w.Carries, "signal"), slices.Contains(w.Carries, "data"),
		}
	}
	r.passes(run, path, w)
	return run
}

// lengths settles how long a written run is: as designed or pulled, else as long as its door says.
func (r *resolver) lengths(run *Run, path string, w RunDoc) {
	optional(r, under(path, "pulled"), w.Pulled, longestRun)
	length := under(path, "length")
	if w.Length != 0 || w.Pulled != 0 || r.stated(length) || r.stated(under(path, "pulled")) {
		optional(r, length, w.Length, longestRun)
		return
	}
	run.Designed = UsualLength
	for _, p := range []*Place{run.From, run.To} {
		if p == nil {
			continue
		}
		if d, ok := r.doc.Doors.Get(p.Door); ok && d.Length > 0 {
			run.Designed = d.Length
		}
	}
	r.assume(length, run.Designed.String())
}

// passes enters the stretches of a run.
func (r *resolver) passes(run *Run, path string, w RunDoc) {
	run.Passes = slices.Clone(w.Passes)
	path = under(path, "passes")
	var sum float64
	for i := range run.Passes {
		s := &run.Passes[i]
		at := item(path, i)
		r.required(under(at, "side"), s.Side, "secured or unsecured")
		optional(r, under(at, "length"), s.Length, longestRun)
		sum += float64(s.Length)
		if s.Reach == "" {
			s.Reach = "concealed"
			r.assume(under(at, "reach"), s.Reach)
		}
	}
	// A stretch measured along the building may be a little more than the length stated in whole metres.
	const rounding = 1.01
	if whole := float64(max(run.Designed, run.Pulled)); whole > 0 && sum > whole*rounding {
		r.problem(path, fmt.Sprintf("stretches of %.4g m in all", sum), fmt.Sprintf("is more than the run of %.4g m", whole))
	}
}

// root is the place that stands for all those joined with p.
func (r *resolver) root(p *Place) *Place {
	for r.joined[p] != p {
		r.joined[p] = r.joined[r.joined[p]]
		p = r.joined[p]
	}
	return p
}

func (r *resolver) join(a, b *Place) { r.joined[r.root(a)] = r.root(b) }

// supplyRuns joins each controller with the supplies it and its doors are fed from, where no run does.
func (r *resolver) supplyRuns() {
	supplies := map[*Controller][]*Supply{}
	note := func(c *Controller, f *Feed) {
		if f != nil && f.Supply != nil && !slices.Contains(supplies[c], f.Supply) {
			supplies[c] = append(supplies[c], f.Supply)
		}
	}
	for _, c := range r.job.Controllers {
		note(c, &c.Feed)
	}
	for _, d := range r.job.Doors {
		if d.Controller == nil {
			continue
		}
		for _, f := range d.feeds() {
			note(d.Controller, f)
		}
	}
	for _, c := range r.job.Controllers {
		for _, s := range supplies[c] {
			if c.Place != nil && s.Place != nil && r.root(c.Place) != r.root(s.Place) {
				r.defaultRun(s.ID+"."+c.ID+".p", s.Place, c.Place, r.cableSet().power[0], UsualLength, Carries{Power: true})
			}
		}
	}
}

// feeds are the feeds that the devices of a door name.
func (d *Door) feeds() []*Feed {
	var all []*Feed
	for _, l := range d.Locks {
		all = append(all, &l.Feed)
	}
	for _, x := range []*Reader{d.Entry, d.ExitReader} {
		if x != nil {
			all = append(all, x.Feed)
		}
	}
	for _, e := range d.Exits {
		all = append(all, e.Feed)
	}
	return all
}

// reached reports the devices of a door that no chain of runs joins with its controller.
func (r *resolver) reached(d *Door) {
	if d.Controller == nil || d.Controller.Place == nil || r.lost("runs", len(r.doc.Runs)) {
		return
	}
	said := map[*Place]bool{}
	for _, f := range d.Fitted() {
		if f.Model == nil || f.Place == nil || said[f.Place] || r.root(f.Place) == r.root(d.Controller.Place) {
			continue
		}
		said[f.Place] = true
		r.problem(f.Where, quote(f.Place.ID), fmt.Sprintf(
			"is joined by no run with %s, where %s is; write a run from %s to %s, "+
				"or leave out the runs to %s to have them taken by default",
			d.Controller.Place.ID, d.Controller.ID, d.Controller.Place.ID, f.Place.ID, f.Place.ID))
	}
}
