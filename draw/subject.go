package draw

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// subject is what a wiring diagram is of.
type subject struct {
	id      string // left out of ids that begin with it
	heading string
	part    string                                  // which part of the diagram it is, in words; empty where there is one
	channel int                                     // of the controller, the only one shown; 0 for all
	middle  *job.Place                              // stands in the middle column
	own     func(d *wiring.Device) bool             // shown whether anything lands on it or not
	hidden  func(d *wiring.Device, pin string) bool // shown only where something lands on it
	left    func(p *job.Place) bool                 // stands left of the middle
	serves  func(c *wiring.Conductor) bool
}

// doorSubject is a door: its devices, its controller, and what serves that controller for whatever door. Of what it
// shares with others only the terminals that it needs are shown.
func doorSubject(d *job.Door) *subject {
	own := func(e *wiring.Device) bool { return e.Door == d.ID || e.ID == d.Controller.ID }
	return &subject{
		id: d.ID, heading: fmt.Sprintf("Wiring of door %s: %s", d.ID, d.Title), channel: d.Channel,
		middle: d.Controller.Place, own: own,
		hidden: func(e *wiring.Device, pin string) bool { return !own(e) || ofOther(d, e, pin) },
		left:   func(p *job.Place) bool { return p.Unsecured || p.Door != d.ID },
		serves: func(c *wiring.Conductor) bool { return c.Serves(d) },
	}
}

// ofOther says that a terminal of a door's controller is for another of its doors.
func ofOther(d *job.Door, e *wiring.Device, full string) bool {
	name, _ := device.SplitPin(full)
	p := e.Model.Port(name)
	return e.ID == d.Controller.ID && p != nil && p.Channel > 0 && d.Channel > 0 && p.Channel != d.Channel
}

// supplySubject is a supply with its battery and board. Of what it feeds only the terminals that it feeds are shown.
func supplySubject(s *job.Supply) *subject {
	own := func(e *wiring.Device) bool { return e != nil && (e.ID == s.ID || strings.HasPrefix(e.ID, s.ID+".")) }
	return &subject{
		id: s.ID, heading: fmt.Sprintf("Wiring of supply %s: %s", s.ID, s.Title), middle: s.Place, own: own,
		hidden: func(e *wiring.Device, _ string) bool { return !own(e) },
		left:   func(*job.Place) bool { return false },
		serves: func(c *wiring.Conductor) bool { return own(c.A.Device) || own(c.B.Device) },
	}
}
