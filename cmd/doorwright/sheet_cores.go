package main

import (
	"strconv"

	"doorwright/job"
	"doorwright/wiring"
)

// cores is the termination schedule by run: both ends of every core.
type cores struct {
	Job     string `json:"job"`
	Cores   []core `json:"cores"`
	reasons bool
	runs    []*job.Run
}

// core is one core or screen of a run.
type core struct {
	Run    string         `json:"run"`
	Core   int            `json:"core"` // 0 for a screen
	Colour string         `json:"colour"`
	Spare  bool           `json:"spare"`
	From   end            `json:"from"` // at the start of the run
	To     end            `json:"to"`
	Door   string         `json:"door"`
	Reason *wiring.Reason `json:"reason,omitempty"`
}

func coreSheet(v *view) cores {
	s := cores{Job: v.job.ID, Cores: []core{}, reasons: v.reasons}
	for _, r := range v.job.Runs {
		if !v.wantsRun(r) {
			continue
		}
		s.runs = append(s.runs, r)
		s.Cores = append(s.Cores, coresOf(v.plan, r)...)
	}
	return s
}

// coresOf lists every core of a run in the order of the cable, then its screens.
func coresOf(plan *wiring.Plan, r *job.Run) []core {
	used := map[int]*wiring.Conductor{}
	var screens []core
	for _, c := range plan.Conductors {
		switch {
		case c.Run != r:
		case c.Kind == wiring.Screen:
			screens = append(screens, usedCore(r, c, 0, "screen"))
		default:
			used[c.Core.Index] = c
		}
	}
	var all []core
	for _, k := range r.Type.Cores() {
		if c := used[k.Index]; c != nil {
			all = append(all, usedCore(r, c, k.Index, k.Colour))
			continue
		}
		all = append(all, core{Run: r.ID, Core: k.Index, Colour: k.Colour, Spare: true})
	}
	return append(all, screens...)
}

// usedCore puts the end at the start of the run first.
func usedCore(r *job.Run, c *wiring.Conductor, index int, colour string) core {
	a, b := c.A, c.B
	if a.Device == nil || a.Device.Place != r.From {
		a, b = b, a
	}
	return core{Run: r.ID, Core: index, Colour: colour, From: endOf(a), To: endOf(b), Door: c.Door, Reason: &c.Reason}
}

func (s cores) text(p *page) {
	p.title("CORES " + s.Job)
	p.say(0, plain, "Cable by cable: where each core lands at its two ends.")
	n := 0
	for _, r := range s.runs {
		p.gap()
		p.say(0, bold, r.ID+": "+r.TypeID+", "+r.Type.Title+", "+r.From.ID+" to "+r.To.ID)
		t := table{head: []string{">core", "colour", "at " + r.From.ID, "at " + r.To.ID, "for"}}
		first := n
		for ; n < len(s.Cores) && s.Cores[n].Run == r.ID; n++ {
			t.add(s.Cores[n].row()...)
		}
		p.table(2, t)
		if s.reasons {
			explain(p, s.Cores[first:n])
		}
	}
}

func (c core) row() []string {
	if c.Spare {
		return []string{coreText(c.Core), colourText(c.Colour), "-", "-", "spare"}
	}
	return []string{coreText(c.Core), colourText(c.Colour), c.From.String(), c.To.String(), c.Reason.Purpose}
}

func explain(p *page, all []core) {
	for _, c := range all {
		if c.Reason != nil {
			p.say(2, bold, coreText(c.Core)+" "+colourText(c.Colour))
			reason(p, 4, *c.Reason)
		}
	}
}

func (s cores) table() table { return coreTable(s.Cores) }

func coreTable(all []core) table {
	t := table{head: []string{
		"run", "core", "colour", "spare", "from_device", "from_terminal", "to_device", "to_terminal", "door", "purpose",
	}}
	for _, c := range all {
		purpose := ""
		if c.Reason != nil {
			purpose = c.Reason.Purpose
		}
		t.add(c.Run, coreText(c.Core), c.Colour, strconv.FormatBool(c.Spare), c.From.Device, c.From.Label, c.To.Device,
			c.To.Label, c.Door, purpose)
	}
	return t
}
