package main

import (
	"strconv"

	"doorwright/wiring"
)

// conductors is every conductor of the plan.
type conductors struct {
	Job        string      `json:"job"`
	Conductors []conductor `json:"conductors"`
}

// conductor is one of them with its reason. Ohms are those at 20 C.
type conductor struct {
	ID       string        `json:"id"`
	Kind     wiring.Kind   `json:"kind"`
	From     end           `json:"from"`
	To       end           `json:"to"`
	Run      string        `json:"run,omitempty"`
	Core     int           `json:"core,omitempty"`
	Colour   string        `json:"colour,omitempty"`
	Door     string        `json:"door,omitempty"` // empty when several share it
	Use      wiring.Use    `json:"use"`
	Nominal  number        `json:"ohms"`
	Most     number        `json:"ohms_max"`
	Reason   wiring.Reason `json:"reason"`
	Unproved bool          `json:"unconfirmed,omitempty"` // an earth connection nobody has confirmed
}

// end is one end of a conductor.
type end struct {
	Device string `json:"device"` // empty: insulated
	Label  string `json:"terminal"`
	Pin    string `json:"pin,omitempty"`
}

func endOf(e wiring.End) end {
	if e.Device == nil {
		return end{Label: e.Label()}
	}
	return end{e.Device.ID, e.Label(), e.Pin}
}

// String names the end as it is found on site.
func (e end) String() string {
	if e.Device == "" {
		return e.Label
	}
	return e.Device + " " + e.Label
}

// standard is the temperature at which the resistance of copper is stated (IEC 60228).
const standard = 20

func conductorSheet(v *view) (sheet, error) {
	s := conductors{Job: v.job.ID, Conductors: []conductor{}}
	for _, c := range v.plan.Conductors {
		if v.door == nil || c.Door == v.door.ID {
			s.Conductors = append(s.Conductors, conductorOf(c))
		}
	}
	return s, nil
}

func conductorOf(c *wiring.Conductor) conductor {
	r := c.Ohms(standard)
	out := conductor{
		ID: c.ID, Kind: c.Kind, From: endOf(c.A), To: endOf(c.B), Door: c.Door, Use: c.Use, Nominal: number(r.Nominal),
		Most: number(r.Max), Reason: c.Reason, Unproved: c.Unsure,
	}
	if c.Run != nil {
		out.Run = c.Run.ID
	}
	if c.Kind == wiring.Core {
		out.Core, out.Colour = c.Core.Index, c.Core.Colour
	}
	return out
}

func (s conductors) text(p *page) {
	p.title("CONDUCTORS " + s.Job + ": " + counted(len(s.Conductors), "conductor"))
	for _, c := range s.Conductors {
		p.gap()
		p.say(0, bold, c.wire()+": "+c.Reason.Purpose)
		p.say(2, plain, c.From.String()+" -> "+c.To.String())
		reason(p, 2, c.Reason)
	}
}

// wire names the conductor as it is found on site: by core and colour, or by what it is.
func (c conductor) wire() string {
	switch c.Kind {
	case wiring.Core:
		return c.Run + "/" + strconv.Itoa(c.Core) + " " + colourText(c.Colour)
	case wiring.Screen:
		return c.Run + " screen"
	}
	return string(c.Kind)
}

// reason writes why a conductor is there.
func reason(p *page, indent int, r wiring.Reason) {
	p.label(indent, "Why:", plain, r.Why)
	p.label(indent, "Without:", plain, r.Without)
	p.say(indent, dim, "Basis: "+r.Basis)
}

func (s conductors) table() table {
	t := table{head: []string{
		"id", "kind", "from_device", "from_terminal", "to_device", "to_terminal", "run", "core", "colour",
		"door", "use", "ohms", "ohms_max", "purpose", "why", "without", "basis",
	}}
	for _, c := range s.Conductors {
		t.add(c.ID, string(c.Kind), c.From.Device, c.From.Label, c.To.Device, c.To.Label, c.Run, coreText(c.Core), c.Colour,
			c.Door, string(c.Use), c.Nominal.String(), c.Most.String(), c.Reason.Purpose, c.Reason.Why, c.Reason.Without,
			c.Reason.Basis)
	}
	return t
}

// coreText is the number of a core; empty for none.
func coreText(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
