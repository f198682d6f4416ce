package paper

import (
	"math"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// long is a length in the unit that columns of them name, mounted a width or a height; nothing for none.
func (w *Work) long(v unit.Metre) Cell    { return figured(v, w.Job.Measures.In) }
func (w *Work) mounted(v unit.Metre) Cell { return figured(v, w.Job.Measures.MountedIn) }

func figured(v unit.Metre, in func(unit.Metre) (float64, string)) Cell {
	if v == 0 {
		return Cell{}
	}
	figure, _ := in(v)
	return number(figure)
}

// cableSchedule is one row for each run.
func (w *Work) cableSchedule() Schedule {
	_, long := w.Job.Measures.In(0)
	s := Schedule{Columns: []Column{
		{Title: "run"},
		{Title: "cable"},
		{Title: "make-up", Aside: true},
		{Title: "from"},
		{Title: "to"},
		{Title: "designed", Unit: long, Number: true, Decimal: 1},
		{Title: "pulled", Unit: long, Number: true, Decimal: 1},
		{Title: "computed", Unit: long, Number: true, Decimal: 1},
		{Title: "used", Number: true},
		{Title: "spare", Number: true},
		{Title: "spare cores"},
		{Title: "passes the unsecured side", Aside: true},
		{Title: "taken by default", Aside: true},
	}}
	for _, r := range w.Job.Runs {
		used, spare := w.coresOf(r)
		var names []string
		for _, c := range spare {
			names = append(names, whole(c.Core.Index)+" "+c.Core.Colour)
		}
		s.add(words(r.ID), words(r.TypeID), words(r.Type.Title), words(r.From.ID), words(r.To.ID), w.long(r.Designed),
			w.long(r.Pulled), w.long(r.Length()), number(float64(len(used))), number(float64(len(spare))),
			words(strings.Join(names, ", ")), words(w.passesOutside(r)), words(yesNo(r.Assumed)))
	}
	return s
}

func (w *Work) passesOutside(r *job.Run) string {
	var all []string
	for _, p := range r.Passes {
		if p.Side == "unsecured" {
			all = append(all, strings.TrimSpace(p.Reach+" "+w.Job.Measures.Length(p.Length)))
		}
	}
	return strings.Join(all, ", ")
}

// coresOf lists the cores of a run that are used, in the order of the cable, and those that are spare.
func (w *Work) coresOf(r *job.Run) (used, spare []wiring.Laid) {
	for _, l := range w.laid[r] {
		switch {
		case l.Conductor == nil:
			spare = append(spare, l)
		case l.Conductor.Kind == wiring.Core:
			used = append(used, l)
		}
	}
	return used, spare
}

// terminationSchedule is one row for each conductor end on a terminal, device by device along the strip.
func (w *Work) terminationSchedule() Schedule {
	s := Schedule{Columns: []Column{
		{Title: "place"},
		{Title: "device"},
		{Title: "terminal"},
		{Title: "pin", Aside: true},
		{Title: "plug", Aside: true},
		{Title: "wire"},
		{Title: "run", Aside: true},
		{Title: "core", Number: true, Aside: true},
		{Title: "colour", Aside: true},
		{Title: "to device", Aside: true},
		{Title: "to terminal", Aside: true},
		{Title: "to"},
		{Title: "for"},
		{Title: "why", Aside: true},
		{Title: "without it", Aside: true},
		{Title: "basis", Aside: true},
		{Title: "door", Aside: true},
		{Title: "landed"},
	}}
	all := append([]*wiring.Device{}, w.Plan.Devices...)
	w.inPlaces(all)
	for _, d := range all {
		for _, l := range w.landings[d.ID] {
			t, c := l.Terminal, l.Conductor
			run, core, farID, farLabel := "", Cell{}, "", ""
			if c.Run != nil {
				run = c.Run.ID
			}
			if c.Kind == wiring.Core {
				core = number(float64(c.Core.Index))
			}
			if l.Far.Device != nil {
				farID, farLabel = l.Far.Device.ID, l.Far.Label()
			}
			s.add(words(d.Place.ID), words(d.ID), words(t.Label), words(t.Pin), words(t.Plug), words(wireName(c)),
				words(run), core,
				words(c.Core.Colour), words(farID), words(farLabel), words(l.Far.Name()), words(c.Reason.Purpose), words(c.Reason.Why),
				words(c.Reason.Without), words(c.Reason.Basis), words(l.Door), words(w.landedWords(d, t)))
		}
	}
	return s
}

// landedWords say whether the cores at a terminal were landed.
func (w *Work) landedWords(d *wiring.Device, t device.Terminal) string {
	if w.Record != nil {
		if a := w.Record.LandedAt(d.ID, t); a != nil {
			return markDone + " " + a.By
		}
	}
	return markTodo
}

// componentSchedule is one row for each link and each added component.
func (w *Work) componentSchedule() Schedule {
	s := Schedule{Columns: []Column{
		{Title: "door"},
		{Title: "place"},
		{Title: "what"},
		{Title: "from"},
		{Title: "to"},
		{Title: "why"},
		{Title: "without it"},
		{Title: "basis", Aside: true},
	}}
	s.Rows = w.componentRows(func(string) bool { return true })
	return s
}

// componentRows are the rows of the doors that are wanted.
func (w *Work) componentRows(wanted func(door string) bool) [][]Cell {
	var s Schedule
	for _, c := range w.Plan.Conductors {
		if c.Kind == wiring.Link && c.A.Device != nil && wanted(c.Door) {
			s.add(words(c.Door), words(c.A.Device.Place.ID), words("link"), words(c.A.Name()), words(c.B.Name()),
				words(c.Reason.Why), words(c.Reason.Without), words(c.Reason.Basis))
		}
	}
	for _, d := range w.Plan.Devices {
		if d.Added == nil || !wanted(d.Door) {
			continue
		}
		var ends []string
		for _, l := range w.landings[d.ID] {
			ends = append(ends, l.Far.Name())
		}
		s.add(words(d.Door), words(d.Place.ID), words(d.ID+": "+d.Model.Title), words(strings.Join(firstOf(ends, 1), "")),
			words(strings.Join(ends[min(1, len(ends)):], ", ")), words(d.Added.Why), words(d.Added.Without),
			words(d.Added.Basis))
	}
	return s.Rows
}

func firstOf(all []string, n int) []string { return all[:min(n, len(all))] }

// materialSchedule is what to order.
func (w *Work) materialSchedule() Schedule {
	s := Schedule{Columns: []Column{
		{Title: "group"}, {
			Title:  "quantity",
			Number: true,
		}, {Title: "unit"}, {Title: "model"}, {Title: "what"}, {Title: "where"},
	}}
	every := func(*wiring.Device) bool { return true }
	for _, m := range w.Plan.Materials(every, func(*job.Run) bool { return true }) {
		amount, of := number(float64(m.Pieces)), "piece"
		if m.Group == wiring.Cables {
			length, in := w.Job.Measures.In(m.Length)
			amount, of = number(math.Ceil(length-1e-9)), in
		}
		s.add(words(string(m.Group)), amount, words(of), words(m.ID), words(m.Title), words(strings.Join(m.Where, ", ")))
	}
	return s
}
