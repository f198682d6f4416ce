// Package device knows what can be fitted at a door: kinds in Go, models as data.
//
// A model is one type of unit as its data sheet describes it: the strip of terminals in the order on the unit, and
// the ports behind them with their figures. A port is a functional group of terminals (a relay contact, an input, a
// reader port); its type fixes its pins and its circuit parts, so that wiring, requirements and drawings work on
// ports and pins and never on kinds. A kind says which ports a unit of that kind must have, what the world can do to
// it and, as a pure function, what it then does.
//
// The built-in models are generic: typical figures of the trade, no maker's unit. Users add their own from a data
// sheet in the same form.
package device

import (
	"doorwright/document"
	"doorwright/unit"
)

// Model is one type of unit.
type Model struct {
	Kind  string               `yaml:"kind" need:"the kind of unit, such as magnet or controller" doc:"kind of unit"`
	Title string               `yaml:"title" need:"what a technician calls the unit" doc:"what a technician calls the unit"`
	Strip []Terminal           `yaml:"strip" need:"the terminals, in the order on the unit" doc:"terminals in the order on the unit"`
	Ports document.Map[Port]   `yaml:"ports" need:"what stands behind the terminals" doc:"functional groups of terminals, with their figures"`
	Lock  LockFacts            `yaml:"lock,omitempty" doc:"locks only: what it does mechanically"`
	Note  string               `yaml:"note,omitempty" doc:"anything a technician must know"`
	Fits  document.Map[string] `yaml:"fits,omitempty" doc:"outline and mounting facts, as text"`
}

// LockFacts is what a lock does mechanically, whatever its power. Every model with a lock port states Inside.
type LockFacts struct {
	Inside  string `yaml:"inside,omitempty" one:"never|always|with-lever" doc:"a handle inside frees the door: never, always, or when the lock it works with has a lever inside"`
	Latches bool   `yaml:"latches,omitempty" doc:"holds the closed leaf with a latch of its own, or leaves the latch of the lock it works with caught"`
	Fire    bool   `yaml:"fire,omitempty" doc:"may be the only fastening of a fire door: stays latched without power"`
}

// Inside values of LockFacts.
const (
	InsideNever     = "never"
	InsideAlways    = "always"
	InsideWithLever = "with-lever"
)

// Actions of a lock.
const (
	FailSafe   = "fail-safe"
	FailSecure = "fail-secure"
)

// Terminal is one screw or lever of a unit.
type Terminal struct {
	Label string    `yaml:"label" need:"the text printed beside the terminal" doc:"text printed on the unit"`
	Pin   string    `yaml:"pin" need:"port and pin, such as lock1.nc" doc:"port and pin behind it, such as lock1.nc"`
	From  unit.Size `yaml:"from,omitempty" doc:"smallest core it takes; default 0.2 mm2"`
	To    unit.Size `yaml:"to,omitempty" doc:"largest core it takes; default 2.5 mm2"`
	Cores int       `yaml:"cores,omitempty" doc:"how many cores it takes; default 1"`
	Plug  string    `yaml:"plug,omitempty" doc:"pull-off plug it belongs to"`
}

// PortType is what a port is. It fixes the pins and the circuit parts.
type PortType string

// The port types and their pins.
const (
	Load       PortType = "load"       // plus minus: takes power; watts, amps or ohms; window; cut-off
	Coil       PortType = "coil"       // plus minus: relay coil; signal <port> follows pick-up and drop-out
	LockCoil   PortType = "lock"       // plus minus: the winding of a lock, with what it must hold
	Contact    PortType = "contact"    // a b: one contact, driven by a signal
	Changeover PortType = "changeover" // common nc no: driven by a signal
	Input      PortType = "input"      // in common: pull-up to a reference inside the unit, read as a state
	Output     PortType = "output"     // plus minus: power handed on from another port, current-limited or behind a fuse
	Source     PortType = "source"     // plus minus: mains-fed direct-current output, limited or folding back
	Battery    PortType = "battery"    // plus minus: the standby battery (cells), or a supply's terminals for it (from)
	PulseOut   PortType = "pulse-out"  // d0 d1 common: reader's data lines, open collector
	PulseIn    PortType = "pulse-in"   // d0 d1 common: controller's side, pull-ups inside
	SerialPort PortType = "serial"     // tx rx common: TIA-232 style, one driver and one receiver
	Bus        PortType = "bus"        // a b common: TIA-485
	Resistor   PortType = "resistor"   // a b
	Diode      PortType = "diode"      // anode cathode
	Clamp      PortType = "clamp"      // a b: bidirectional voltage clamp
	Fuse       PortType = "fuse"       // a b
	Bar        PortType = "bar"        // 1..n, all joined: junction terminals
	Through    PortType = "through"    // 1a 1b 2a 2b ...: ways that pass a door loop
	Earth      PortType = "earth"      // earth: functional earth, also where screens land
)

// Port is a functional group of terminals with its figures. Which figures count follows from its type; the check of
// a model says which are missing and which have no meaning there.
type Port struct {
	Is      PortType `yaml:"is" need:"the type of port" doc:"type of port"`
	Channel int      `yaml:"channel,omitempty" doc:"door channel of a unit that serves several doors, from 1"`
	Side    string   `yaml:"side,omitempty" one:"entry|exit" doc:"reader port: which reader"`
	Use     string   `yaml:"use,omitempty" one:"exit|contact|lock|release|fire|tamper|trouble|aux|reset|sounder|led|feed|signal" doc:"what an input or contact is meant for"`
	From    string   `yaml:"from,omitempty" doc:"output: the port its power comes from; battery terminals: the source they back up; contact with one terminal: the port whose 0 V it switches to"`
	Driven  string   `yaml:"driven,omitempty" doc:"the signal that moves a contact, default the port's own name; or that switches an output, default none: always on"`
	Rest    string   `yaml:"rest,omitempty" one:"closed|open" doc:"contact or switched output: position while its signal is off"`
	Blows   string   `yaml:"blows,omitempty" one:"once|resets" doc:"output behind a fuse of its limit, and fuse: whether it stays open once it has opened, which a fuse does when nothing is said"`
	By      string   `yaml:"by,omitempty" one:"contact|electronics" doc:"switched output: what switches it"`
	Ways    int      `yaml:"ways,omitempty" doc:"bar and through: number of ways"`
	Names   []string `yaml:"-"` // of the pins of a bar that a plan adds, by what lands there; nil: they are counted

	Window  unit.Band[unit.Volt] `yaml:"window,omitempty" doc:"voltage at which the data sheet lets it work"`
	Nominal unit.Volt            `yaml:"nominal,omitempty" doc:"rated voltage"`
	Watts   unit.Watt            `yaml:"watts,omitempty" doc:"power drawn at any voltage in the window"`
	Amps    unit.Ampere          `yaml:"amps,omitempty" doc:"current drawn at any voltage in the window"`
	Peak    unit.Ampere          `yaml:"peak,omitempty" doc:"highest short current"`
	CutOff  unit.Volt            `yaml:"cut-off,omitempty" doc:"stops working below"`
	Restart unit.Volt            `yaml:"restart,omitempty" doc:"starts again above"`

	Ohms      unit.Ohm `yaml:"ohms,omitempty" doc:"winding, contact, source, pass or resistor resistance at 20 C"`
	Tolerance float64  `yaml:"tolerance,omitempty" doc:"relative tolerance of ohms, 0.05 is 5 %"`

	PickUp  unit.Volt `yaml:"pick-up,omitempty" doc:"coil: pulls in at this voltage at 20 C at the latest"`
	DropOut unit.Volt `yaml:"drop-out,omitempty" doc:"coil: certainly lets go below this voltage at 20 C"`

	Action     string       `yaml:"action,omitempty" one:"fail-safe|fail-secure" doc:"lock: what it does without power"`
	Holds      unit.Ampere  `yaml:"holds,omitempty" doc:"lock: does its powered duty at and above this winding current"`
	LetsGo     unit.Ampere  `yaml:"lets-go,omitempty" doc:"lock: certainly gives up below this winding current, coming from powered"`
	Duty       string       `yaml:"duty,omitempty" one:"continuous|intermittent" doc:"lock: how long it may be powered"`
	Heats      unit.Celsius `yaml:"heats,omitempty" doc:"coil and lock: rise of the winding above its surroundings in steady duty, in K"`
	Inductance unit.Henry   `yaml:"inductance,omitempty" doc:"coil and lock: inductance, for release time"`
	Suppressor string       `yaml:"suppressor,omitempty" one:"none|diode|clamp" doc:"coil and lock: built-in suppressor"`

	Rating     unit.Ampere `yaml:"rating,omitempty" doc:"contact, output or fuse: direct current it is rated for (contacts: inductive)"`
	RatedVolts unit.Volt   `yaml:"rated-volts,omitempty" doc:"contact: voltage of that rating"`

	Reference unit.Volt `yaml:"reference,omitempty" doc:"input or pulse-in: voltage behind the pull-up"`
	PullUp    unit.Ohm  `yaml:"pull-up,omitempty" doc:"input or pulse-in: pull-up resistance"`
	Low       unit.Volt `yaml:"low,omitempty" doc:"input or pulse-in: read as low at and below"`
	High      unit.Volt `yaml:"high,omitempty" doc:"input or pulse-in: read as high at and above"`
	Supervise bool      `yaml:"supervise,omitempty" doc:"input: can tell short, closed, open and cut apart with end-of-line resistors"`

	Float    unit.Volt       `yaml:"float,omitempty" doc:"source: output voltage with mains, battery full"`
	Spread   float64         `yaml:"spread,omitempty" doc:"source: relative tolerance of its voltage"`
	Limit    unit.Ampere     `yaml:"limit,omitempty" doc:"source or output: current it can give"`
	Short    unit.Ampere     `yaml:"short,omitempty" doc:"source: current into a short; below limit it folds back"`
	Charge   unit.Ampere     `yaml:"charge,omitempty" doc:"battery: charging current"`
	Cells    int             `yaml:"cells,omitempty" doc:"battery: number of lead-acid cells in series"`
	Capacity unit.AmpereHour `yaml:"capacity,omitempty" doc:"battery: capacity at the 20 h rate"`
	Dropped  unit.Volt       `yaml:"dropped,omitempty" doc:"battery: disconnects below this voltage"`

	ClampVolts unit.Volt `yaml:"clamp-volts,omitempty" doc:"clamp: voltage at 1 mA"`

	Speeds     []unit.Baud `yaml:"speeds,omitempty" doc:"serial or bus: speeds it can be set to"`
	Terminator bool        `yaml:"terminator,omitempty" doc:"bus: has a switchable 120 ohm terminator"`
	Bias       bool        `yaml:"bias,omitempty" doc:"bus: biases the idle line"`
}
