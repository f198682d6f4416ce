// Package wiring makes the wiring plan: every core, link and added component of a job, each with the reason it is
// there. It is made from what is fitted and never drawn by hand.
//
// The plan goes by roles and ports, not by kinds of unit. First each arrangement of a door (lock feed, exit request,
// reader ...) says which terminals it wants joined and why; then the joins are laid into the runs, through junction
// terminals where the way goes over another place, and over the door loop where it goes into the leaf; then screens are
// tied to earth and screws that would get more cores than they take are relieved.
package wiring

import (
	"doorwright/cable"
	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// Plan is the wiring plan of a job.
type Plan struct {
	Job        *job.Job
	Devices    []*Device    // what is fitted and what was added, in the order of the job
	Conductors []*Conductor // in the order of the devices and terminals they start at
	Spares     []Spare      // cores that are pulled but not used
	Problems   []Problem    // what cannot be wired, and what to add
	devices    map[string]*Device
}

// Device is a fitted device or an added component, as the plan sees it.
type Device struct {
	ID       string
	Title    string
	Role     job.Role // empty for added components
	ModelID  string
	Model    *device.Model
	Settings device.Settings
	Place    *job.Place
	Door     string  // id of the door it belongs to; empty when several share it
	Leaf     int     // leaf it is on, where that matters
	Added    *Reason // why it was added; nil for what is fitted
	order    int     // place in Devices
	over     *Device // the door loop it is reached over, for what is in a leaf; nil for all else
}

// End is one terminal of a device.
type End struct {
	Device *Device
	Pin    string
}

// String names the end as nodes are named: device, dot, pin.
func (e End) String() string {
	if e.Device == nil {
		return "insulated"
	}
	return e.Device.ID + "." + e.Pin
}

// Label is the text printed beside the terminal.
func (e End) Label() string {
	if e.Device == nil {
		return "insulated"
	}
	if t := e.Device.Model.Terminal(e.Pin); t != nil {
		return t.Label
	}
	return e.Pin
}

// Name names the end as it is found on site: device and label.
func (e End) Name() string {
	if e.Device == nil {
		return e.Label()
	}
	return e.Device.ID + " " + e.Label()
}

// Kind is what a conductor is.
type Kind string

// The kinds of conductor.
const (
	Core   Kind = "core"   // a core of a run
	Link   Kind = "link"   // a jumper between two terminals of one device
	Lead   Kind = "lead"   // a short wire between two devices at one place
	Leg    Kind = "leg"    // the wire of a component, landed or spliced
	Screen Kind = "screen" // the screen of a run, tied to earth at one end
)

// Conductor joins two terminals.
type Conductor struct {
	ID     string // permanent: run and core, or the two terminals
	Kind   Kind
	A, B   End // B.Device is nil for a screen that ends insulated
	Run    *job.Run
	Core   cable.Core
	Door   string // id of the door it serves; empty when several share it
	Use    Use
	Reason Reason
	Unsure bool    // it stands for an earth connection nobody has confirmed: both cases are tried
	Feeds  *Device // the controller whose supply it brings; nil for all others
}

// Use is what flows in a conductor. It decides which runs and cores are fit for it.
type Use string

// The uses.
const (
	Power  Use = "power"
	Signal Use = "signal"
	Data   Use = "data"
)

// Spare is a core that is pulled but not used.
type Spare struct {
	Run  *job.Run
	Core cable.Core
}

// Problem is something that cannot be wired.
type Problem struct {
	Where string `json:"where"` // door or device
	What  string `json:"what"`
	Add   string `json:"add"` // what to add
}

// Device finds a device by id, nil when there is none.
func (p *Plan) Device(id string) *Device { return p.devices[id] }

// End finds a terminal by the name that End.String gives it; false when the plan has no such terminal.
func (p *Plan) End(name string) (End, bool) {
	for i := range len(name) {
		if name[i] != '.' {
			continue
		}
		if d := p.devices[name[:i]]; d != nil && d.Model.Terminal(name[i+1:]) != nil {
			return End{d, name[i+1:]}, true
		}
	}
	return End{}, false
}

// Without is the plan as it would be if the conductor with this id were missing. The plan itself stays as it is.
func (p *Plan) Without(id string) *Plan {
	q := *p
	q.Conductors = nil
	for _, c := range p.Conductors {
		if c.ID != id {
			q.Conductors = append(q.Conductors, c)
		}
	}
	return &q
}

// Resistances of what is not the copper of a run.
const (
	// TerminationOhms is one clamped end: a few milliohms when sound (common practice, no source).
	TerminationOhms unit.Ohm = 0.005
	// LeadOhms is a lead of about half a metre of 0.75 mm2 (0.012 ohm by IEC 60228).
	LeadOhms unit.Ohm = 0.012
	// LinkOhms is a jumper of a few centimetres.
	LinkOhms unit.Ohm = 0.001
)

// Ohms is the resistance of the conductor from terminal to terminal with its copper at t: nominal, and the most a
// sound one may have.
func (c *Conductor) Ohms(t unit.Celsius) cable.Resistance {
	ends := 2 * TerminationOhms
	switch c.Kind {
	case Core:
		r := c.Core.Conductor.Resistance(c.Run.Length(), t)
		return cable.Resistance{Nominal: r.Nominal + ends, Max: r.Max + ends}
	case Lead:
		return cable.Resistance{Nominal: LeadOhms + ends, Max: LeadOhms + ends}
	}
	return cable.Resistance{Nominal: LinkOhms + ends, Max: LinkOhms + ends}
}
