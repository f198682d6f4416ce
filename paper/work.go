package paper

import (
	"slices"

	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/record"
	"doorwright/wiring"
)

// Work is what papers are made from: a job with everything that was calculated of it, and what was done on site.
type Work struct {
	Job         *job.Job
	Plan        *wiring.Plan
	Examination *mend.Examination
	Record      *record.Record // nil while there is none
	Heads       []Head         // of the logs it was kept in; none for a record from a file
	Withdrawn   []string       // what was written down and withdrawn later, in words with who and why

	landings map[string][]wiring.Landing // by device, in the order of its strip
	laid     map[*job.Run][]wiring.Laid
	loads    map[string]*proof.Load    // by supply
	draws    map[string]proof.LoadItem // by device
	readings shortLists
}

// NewWork gathers what papers are made from. A record may be nil.
func NewWork(x *mend.Examination, r *record.Record) *Work {
	w := &Work{
		Job: x.Job, Plan: x.Plan, Examination: x, Record: r,
		landings: map[string][]wiring.Landing{}, laid: x.Plan.Laid(),
		loads: map[string]*proof.Load{}, draws: map[string]proof.LoadItem{},
	}
	for i := range x.Loads {
		l := &x.Loads[i]
		w.loads[l.Supply.ID] = l
		for _, item := range l.Items {
			w.draws[item.Device] = item
		}
	}
	for _, l := range x.Plan.Landings() {
		w.landings[l.Device.ID] = append(w.landings[l.Device.ID], l)
	}
	return w
}

// devicesOf lists the devices that have landings for a door, place by place as a technician meets them.
func (w *Work) devicesOf(door string) []*wiring.Device {
	var all []*wiring.Device
	for _, d := range w.Plan.Devices {
		if slices.ContainsFunc(w.landings[d.ID], func(l wiring.Landing) bool { return l.Door == door }) {
			all = append(all, d)
		}
	}
	w.inPlaces(all)
	return all
}

func (w *Work) inPlaces(all []*wiring.Device) {
	order := map[string]int{}
	for i, p := range w.Job.Places {
		order[p.ID] = i
	}
	slices.SortStableFunc(all, func(a, b *wiring.Device) int { return order[a.Place.ID] - order[b.Place.ID] })
}

// runsOf lists the runs that serve a door: that have a core for it, or go there for all or for none.
func (w *Work) runsOf(door string) []*job.Run {
	var all []*job.Run
	for _, r := range w.Job.Runs {
		own, others := false, false
		for _, l := range w.laid[r] {
			if c := l.Conductor; c != nil {
				own = own || c.Door == door
				others = others || c.Door != door && c.Door != ""
			}
		}
		if own || !others && (r.From.Door == door || r.To.Door == door) {
			all = append(all, r)
		}
	}
	return all
}

// wireName names a conductor as it is found on site: by run, core and colour, or by what it is.
func wireName(c *wiring.Conductor) string {
	switch c.Kind {
	case wiring.Core:
		return c.Run.ID + "/" + whole(c.Core.Index) + " " + colourName(c.Core.Colour)
	case wiring.Screen:
		return c.Run.ID + " screen"
	}
	return string(c.Kind)
}
