package paper

import (
	"cmp"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/wiring"
)

// near is an id on the paper of one door: without that of the door, as in its wiring diagram.
func near(d *job.Door, id string) string { return strings.TrimPrefix(id, d.ID+".") }

// coreTable lists what connects two terminals at a door, cable by cable, then what stays at one place: each with both
// ends, to tick when landed, and what it is for.
func (w *Work) coreTable(f *flow, d *job.Door, reasons *reasonList) {
	t := table{columns: []column{
		{title: "☐"}, {title: "from"}, {title: "wire"}, {title: "☐"}, {title: "to"}, {title: "for", right: true},
	}}
	for _, c := range w.conductorsOf(d) {
		a, b := c.A, c.B
		if a.Device == nil {
			a, b = b, a
		}
		r := c.Reason
		t.add(w.landedAt(a), nearEnd(d, a), nearWire(d, c), w.landedAt(b), nearEnd(d, b), reasons.number(r.Purpose, r.Why, r.Without))
	}
	f.columns(t, 2)
}

// conductorsOf are the conductors that serve a door: those of each run together, in the order of the runs.
func (w *Work) conductorsOf(d *job.Door) []*wiring.Conductor {
	order := map[*job.Run]int{}
	for i, r := range w.Job.Runs {
		order[r] = i - len(w.Job.Runs) // before those of no run
	}
	var all []*wiring.Conductor
	for _, c := range w.Plan.Conductors {
		if c.Serves(d) {
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(a, b *wiring.Conductor) int { return cmp.Compare(order[a.Run], order[b.Run]) })
	return all
}

func nearEnd(d *job.Door, e wiring.End) string {
	if e.Device == nil {
		return "insulated"
	}
	return near(d, e.Device.ID) + " " + e.Label()
}

// nearWire is a conductor as the wiring diagram of the door marks it: run, core, letters of its colour.
func nearWire(d *job.Door, c *wiring.Conductor) string {
	switch c.Kind {
	case wiring.Core:
		return near(d, c.Run.ID) + "/" + whole(c.Core.Index) + " " + c.Core.Colour
	case wiring.Screen:
		return near(d, c.Run.ID) + " screen"
	}
	return string(c.Kind)
}

// landedAt says whether one end was landed; nothing of one that ends insulated.
func (w *Work) landedAt(e wiring.End) string {
	if e.Device == nil {
		return ""
	}
	for _, t := range e.Device.Model.Strip {
		if t.Pin == e.Pin {
			return w.landedWords(e.Device, t)
		}
	}
	return markTodo
}

// addedList names the components that were added at a door, those of one sort and reason together.
func (w *Work) addedList(f *flow, d *job.Door, reasons *reasonList) {
	var order []string
	ids := map[string][]string{}
	for _, x := range w.devicesOf(d.ID) {
		if x.Added == nil {
			continue
		}
		what := x.Model.Title + " (" + reasons.number("", x.Added.Why, x.Added.Without) + ")"
		if ids[what] == nil {
			order = append(order, what)
		}
		ids[what] = append(ids[what], near(d, x.ID))
	}
	for i, what := range order {
		order[i] = strings.Join(ids[what], ", ") + ": " + what
	}
	if len(order) > 0 {
		f.item("Added", strings.Join(order, "; ")+".")
	}
}
