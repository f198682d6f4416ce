package paper

import (
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/record"
	"doorwright/unit"
)

// doorSchedule is one row for each door.
func (w *Work) doorSchedule() Schedule {
	_, across := w.Job.Measures.MountedIn(0)
	digits := 0
	if w.Job.Measures == unit.Feet {
		digits = 1
	}
	s := Schedule{Columns: []Column{
		{Title: "door"},
		{Title: "title"},
		{Title: "secured side", Aside: true},
		{Title: "escape"},
		{Title: "fire door"},
		{Title: "leaves", Number: true},
		{Title: "width", Unit: across, Number: true, Decimal: digits},
		{Title: "height", Unit: across, Number: true, Decimal: digits},
		{Title: "hinges", Aside: true},
		{Title: "swing", Aside: true},
		{Title: "locks"},
		{Title: "without power"},
		{Title: "readers", Aside: true},
		{Title: "ways out"},
		{Title: "contacts", Aside: true},
		{Title: "fire signal"},
		{Title: "controller"},
		{Title: "supplies"},
		{Title: "rules", Aside: true},
	}}
	for _, d := range w.Job.Doors {
		var supplies, families []string
		for _, x := range record.SuppliesOf(d) {
			supplies = append(supplies, x.ID)
		}
		for _, f := range d.Families {
			families = append(families, f.Title)
		}
		s.add(words(d.ID), words(d.Title), words(d.Secured), words(string(d.Escape)), words(yesNo(d.FireRated)),
			number(float64(d.Leaves)), w.mounted(d.Opening.Width), w.mounted(d.Opening.Height), words(d.Opening.Handing),
			words(d.Opening.Swing), words(modelsOf(locksOf(d))), words(actionOf(d)), words(modelsOf(readersOf(d))),
			words(waysOut(d)), words(modelsOf(d.Contacts)), words(yesNo(record.FireSignal(d))),
			words(controllerOf(d)), words(strings.Join(supplies, ", ")), words(strings.Join(families, "; ")))
	}
	return s
}

// controllerOf names the controller with the door's channel, where it serves several.
func controllerOf(d *job.Door) string {
	if d.Controller.Model.Channels() > 1 {
		return d.Controller.ID + "/" + whole(d.Channel)
	}
	return d.Controller.ID
}

func locksOf(d *job.Door) []*job.Fitted {
	var all []*job.Fitted
	for _, l := range d.Locks {
		all = append(all, &l.Fitted)
	}
	return all
}

func readersOf(d *job.Door) []*job.Fitted {
	var all []*job.Fitted
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		if r != nil {
			all = append(all, &r.Fitted)
		}
	}
	return all
}

func releasesOf(d *job.Door) []*job.Fitted {
	var all []*job.Fitted
	for _, r := range d.Releases {
		all = append(all, &r.Fitted)
	}
	return all
}

func exitsOf(d *job.Door) []*job.Fitted {
	var all []*job.Fitted
	for _, x := range d.Exits {
		all = append(all, &x.Fitted)
	}
	return all
}

// actionOf says what the locks do without power.
func actionOf(d *job.Door) string {
	var all []string
	for _, l := range d.Locks {
		for _, name := range l.Model.PortsOf(device.LockCoil) {
			if a := l.Model.Port(name).Action; len(all) == 0 || all[len(all)-1] != a {
				all = append(all, a)
			}
		}
	}
	return strings.Join(all, ", ")
}

// waysOut are the handle, exit devices and releases.
func waysOut(d *job.Door) string {
	var all []string
	for _, l := range d.Locks {
		if l.HandleFrees {
			all = append(all, "inside handle")
			break
		}
	}
	for _, part := range []string{modelsOf(exitsOf(d)), modelsOf(releasesOf(d))} {
		if part != "" {
			all = append(all, part)
		}
	}
	if d.ExitReader != nil {
		all = append(all, "exit reader")
	}
	return strings.Join(all, "; ")
}

// networkSchedule is one row for each controller.
func (w *Work) networkSchedule() Schedule {
	s := Schedule{Columns: []Column{
		{Title: "controller"},
		{Title: "model"},
		{Title: "place"},
		{Title: "feed"},
		{Title: "doors"},
		{Title: "address"},
		{Title: "mask"},
		{Title: "gateway"},
		{Title: "switch and port"},
	}}
	for _, c := range w.Job.Controllers {
		var doors []string
		for _, d := range w.Job.Doors {
			if d.Controller == c {
				doors = append(doors, d.ID)
			}
		}
		n := c.Network
		s.add(words(c.ID), words(c.Model.Title), words(c.Place.ID), words(feedName(c.Feed)),
			words(strings.Join(doors, ", ")),
			words(n.Address), words(n.Mask), words(n.Gateway), words(n.Switch))
	}
	return s
}

func feedName(f job.Feed) string {
	switch {
	case f.Supply == nil:
		return "controller"
	case f.Output > 0:
		return f.Supply.ID + "/" + whole(f.Output)
	}
	return f.Supply.ID
}
