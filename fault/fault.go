// Package fault is the catalogue of what can be wrong at a door: each fault is a few edits of plan objects, with a name
// in plain words, the exact place and the repair.
//
// A fault is about the wiring as it stands, not about what follows from it: situation puts the edits into the network,
// proof and meter ask what becomes of the door.
package fault

import (
	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

// Class is a sort of fault, for counting and for asking how likely it is.
type Class string

// The classes, in the order in which they are counted and shown.
const (
	Open     Class = "open"     // a core, an end or a link interrupted
	High     Class = "high"     // a joint or core grown to a high resistance
	Bridge   Class = "bridge"   // two conductors or terminals joined
	Supplied Class = "supplied" // a conductor of the lock feed joined to the positive of its supply
	Grounded Class = "grounded" // a conductor of the lock feed joined to the 0 V of its supply
	Earthed  Class = "earthed"  // a conductor joined to earth
	Swap     Class = "swap"     // two cores landed each on the other's terminal
	Part     Class = "part"     // a part open, short, stuck, welded or drifted
	Source   Class = "source"   // a supply or battery off, low or reversed
	Output   Class = "output"   // an output of a controller stuck, or the controller hung
	Wet      Class = "wet"      // leakage between all cores of a cable
	Setting  Class = "setting"  // a setting other than what is fitted
	Foreign  Class = "foreign"  // a supply brought along and joined from outside
)

// Classes lists the classes in their order.
func Classes() []Class {
	return []Class{Open, High, Bridge, Supplied, Grounded, Earthed, Swap, Part, Source, Output, Wet, Setting, Foreign}
}

// Fault is one thing that is wrong.
type Fault struct {
	ID     string // permanent for a given plan: class and place, such as "open:visitor.head.p/1@visitor.box"
	Class  Class
	Door   string  // id of the door it belongs to; empty when several share the place
	Name   string  // what is wrong, in plain words
	Place  string  // of what is done from the unsecured side: id of the place or run it is done at
	Where  string  // the exact place: device, terminal, core and colour, run and end
	Repair string  // what puts it right
	Spread float64 // standard deviation of the logarithm of its size: ohms of a joint, times of a part that is off; 0 where it has none
	Edits  []Edit
	At     []*wiring.Conductor // the conductors the fault is on or joins, in order
	Of     []*wiring.Device    // the devices whose parts, terminals or settings it is about, in order
}

// Edit is one change of the network that a plan becomes. Op says which fields count.
type Edit struct {
	Op        Op
	Conductor *wiring.Conductor // Resist
	Device    *wiring.Device    // Gate, Scale, Force, Configure
	Part      string            // Gate, Scale: name of a part of the device's model, such as "lock1.nc-contact"
	Signal    string            // Force
	A, B      string            // Join, Inject: nodes, named as wiring.End does ("visitor.lock1.coil.plus"), or device.Ground
	Ohms      unit.Ohm          // Resist, Join, Inject
	Volts     unit.Volt         // Inject: A above B
	Limit     unit.Ampere       // Inject
	Factor    float64           // Scale
	On        bool              // Gate, Force
	Settings  *device.Settings  // Configure
}

// Op is what an edit does.
type Op int

// The edits.
const (
	Resist    Op = iota // a conductor has Ohms instead of its own; circuit.OpenOhms for a cut
	Join                // Ohms between A and B, which may be any two nodes
	Inject              // Volts behind Ohms between A and B, no more than Limit either way
	Gate                // a gated part, a diode or a clamp is closed (On) or open for good, whatever its signals say
	Scale               // ohms, volts, watts or amps of a part times Factor; the volts of a source, the ohms of a resistor
	Force               // a signal that the world or the device's behaviour sets stays On or off for good
	Configure           // a device has other settings; its circuit parts stay
)
