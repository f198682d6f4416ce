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
	laid := v.plan.Laid()
	for _, r := range v.job.Runs {
		if !v.wantsRun(r) {
			continue
		}
		s.runs = append(s.runs, r)
		for _, l := range laid[r] {
			s.Cores = append(s.Cores, coreOf(r, l))
		}
	}
	return s
}

// coreOf is a core as the schedule says it.
func coreOf(r *job.Run, l wiring.Laid) core {
	c := l.Conductor
	if c == nil {
		return core{Run: r.ID, Core: l.Core.Index, Colour: l.Core.Colour, Spare: true}
	}
	colour := l.Core.Colour
	if c.Kind == wiring.Screen {
		colour = "screen"
	}
	return core{Run: r.ID, Core: l.Core.Index, Colour: colour, From: endOf(l.From), To: endOf(l.To), Door: c.Door, Reason: &c.Reason}
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
