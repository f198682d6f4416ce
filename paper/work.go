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

	landings map[string][]landing           // by device, in the order of its strip
	runs     map[string][]*wiring.Conductor // by run
	loads    map[string]*proof.Load         // by supply
	draws    map[string]proof.LoadItem      // by device
	readings shortLists
}

// NewWork gathers what papers are made from. A record may be nil.
func NewWork(x *mend.Examination, r *record.Record) *Work {
	w := &Work{
		Job: x.Job, Plan: x.Plan, Examination: x, Record: r,
		landings: map[string][]landing{}, runs: map[string][]*wiring.Conductor{},
		loads: map[string]*proof.Load{}, draws: map[string]proof.LoadItem{},
	}
	for i := range x.Loads {
		l := &x.Loads[i]
		w.loads[l.Supply.ID] = l
		for _, item := range l.Items {
			w.draws[item.Device] = item
		}
	}
	w.land()
	return w
}

// landing is one conductor end on a terminal.
type landing struct {
	device   *wiring.Device
	terminal int // place in the strip
	wire     *wiring.Conductor
	far      wiring.End
	door     string // it is landed for this door; empty when several share it
}

// label is the text printed beside the terminal.
func (l landing) label() string { return l.device.Model.Strip[l.terminal].Label }

// to says where the other end is.
func (l landing) to() string { return endName(l.far) }

func endName(e wiring.End) string {
	if e.Device == nil {
		return "insulated"
	}
	return e.Device.ID + " " + e.Label()
}

// land sorts the conductor ends by device and terminal.
func (w *Work) land() {
	type key struct{ device, pin string }
	on := map[key][]landing{}
	for _, c := range w.Plan.Conductors {
		if c.Run != nil {
			w.runs[c.Run.ID] = append(w.runs[c.Run.ID], c)
		}
		for _, ends := range [][2]wiring.End{{c.A, c.B}, {c.B, c.A}} {
			if d := ends[0].Device; d != nil {
				door := d.Door
				if door == "" {
					door = c.Door
				}
				k := key{d.ID, ends[0].Pin}
				on[k] = append(on[k], landing{device: d, wire: c, far: ends[1], door: door})
			}
		}
	}
	for _, d := range w.Plan.Devices {
		for i, t := range d.Model.Strip {
			for _, l := range on[key{d.ID, t.Pin}] {
				l.terminal = i
				w.landings[d.ID] = append(w.landings[d.ID], l)
			}
		}
	}
}

// devicesOf lists the devices that have landings for a door, place by place as a technician meets them.
func (w *Work) devicesOf(door string) []*wiring.Device {
	var all []*wiring.Device
	for _, d := range w.Plan.Devices {
		if slices.ContainsFunc(w.landings[d.ID], func(l landing) bool { return l.door == door }) {
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
		for _, c := range w.runs[r.ID] {
			own = own || c.Door == door
			others = others || c.Door != door && c.Door != ""
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
