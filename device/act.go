package device

import "doorwright/unit"

// Unit is one fitted unit while a situation settles: what its kind's behaviour sees and sets. Situation implements it.
//
// Act is called again and again, with Elapsed 0, until neither a signal nor a memory changes any more. It reads inputs
// of a network whose senses have settled, so that the reference of an input is there when its unit runs.
type Unit interface {
	Model() *Model
	Settings() *Settings
	Signal(name string) bool             // what the world does to the unit, and what its senses report
	Reading(port string) Reading         // what an input reads now
	Heard(channel int, side string) bool // a valid credential was read just now at that reader
	Elapsed() unit.Second                // time since the last step; 0 while one instant settles
	Memory() *Memory                     // kept from step to step
	Set(signal string, on bool)          // moves what the signal drives
}

// Limits of the fixed-size memory.
const (
	MaxChannels = 4
	MaxOutputs  = 16
)

// Memory is what a unit keeps from one instant to the next. It is a plain value, so that a state can be kept, compared
// and gone back to.
type Memory struct {
	Channels [MaxChannels]ChannelMemory // controllers
	Latched  [MaxOutputs]bool           // boards: outputs that stay released until reset; supplies: the battery is off
	Started  bool                       // electronics: has come up since power came
}

// ChannelMemory is what a controller keeps for one door.
type ChannelMemory struct {
	UnlockLeft unit.Second // unlocked for so much longer
	OpenFor    unit.Second // the door has stood open so long
	ShuntLeft  unit.Second // the door may be opened without alarm for so much longer
	Granted    bool        // the opening in progress was allowed
	Open       bool        // the door was seen open
	Forced     bool        // alarm: opened without a grant
	Held       bool        // alarm: open longer than allowed
	Tamper     bool        // alarm: a supervised input reads a fault
}

// Level is what an input reads.
type Level int

// The levels of an input. An unsupervised input knows only Closed and Open; Between is any voltage the data sheet
// promises nothing about.
const (
	Between Level = iota
	ShortCircuit
	Closed
	Open
	Cut
)

// Reading is what an input reads, how far the voltage is from the nearest edge of that level, and the voltage itself.
type Reading struct {
	Level  Level
	Volts  unit.Volt
	Margin unit.Volt // negative inside Between: how far it is from being any level
}

// Scheme is how an input line is supervised.
type Scheme string

// The supervision schemes. Single: one resistor in series with a contact that is closed at rest, or across one that is
// open at rest. Double: one in series, one across the contact.
const (
	SchemeNone   Scheme = "none"
	SchemeSingle Scheme = "single"
	SchemeDouble Scheme = "double"
)

// Settings is what is set on one unit. Only what its kind knows counts.
type Settings struct {
	Channels   []ChannelSettings // controllers, by channel
	Speed      unit.Baud         // serial and bus units
	Address    int               // bus units
	Terminator bool              // bus units: 120 ohm terminator switched on
	Outputs    []OutputSettings  // boards, by output
}

// ChannelSettings is what a controller is set to for one door.
type ChannelSettings struct {
	EnergiseToLock bool        // the lock relay is energised while the door is locked
	UnlockFor      unit.Second // unlocked after a grant
	HeldAfter      unit.Second // open longer than this after a grant is an alarm; 0 is never
	ExitUnlocks    bool        // an exit request releases the lock, not only the alarm
	Exit           InputSettings
	Contact        InputSettings
	Aux            InputSettings
}

// InputSettings is what an input is set to expect.
type InputSettings struct {
	Used     bool
	Rest     string   // "closed" or "open": the contact's position while nothing happens
	Scheme   Scheme   //
	Series   unit.Ohm // end-of-line resistor in series, for single (closed at rest) and double
	Parallel unit.Ohm // end-of-line resistor across the contact, for single (open at rest) and double
}

// OutputSettings is what one output of a distribution board is set to.
type OutputSettings struct {
	Releases bool // goes off on the fire signal
	Latches  bool // and stays off until the reset terminal is operated
}
