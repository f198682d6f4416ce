package device

import (
	"strconv"

	"doorwright/document"
	"doorwright/unit"
)

// Models of small parts that a wiring plan adds, with the figures the plan asks for.

// small is a model of one port without figures of its own beside p, one terminal for each pin.
func small(kind, title, port string, p Port) *Model {
	m := &Model{Kind: kind, Title: title, Ports: document.Map[Port]{{Key: port, Value: p}}}
	for _, pin := range Pins(p) {
		m.Strip = append(m.Strip, Terminal{Label: pin, Pin: PinOf(port, pin)})
	}
	return m
}

// ResistorModel is a resistor of any value; tolerance is relative.
func ResistorModel(ohms unit.Ohm, tolerance float64) *Model {
	return small("resistor", "Resistor "+ohms.String(), "resistor", Port{Is: Resistor, Ohms: ohms, Tolerance: tolerance})
}

// DiodeModel is a rectifier diode for across a lock or a coil.
func DiodeModel() *Model { return small("diode", "Rectifier diode", "diode", Port{Is: Diode}) }

// ClampModel is a bidirectional clamp with the voltage v at 1 mA.
func ClampModel(v unit.Volt) *Model {
	return small("clamp", "Clamp "+v.String(), "clamp", Port{Is: Clamp, ClampVolts: v})
}

// FuseModel is a fuse of that rating in its holder.
func FuseModel(rating unit.Ampere) *Model {
	return small("fuse", "Fuse "+rating.String(), "fuse", Port{Is: Fuse, Rating: rating})
}

// JunctionModel is a row of joined terminals, one core each. Its terminals are labelled 1, 2 and so on, its pins as well.
func JunctionModel(ways int) *Model {
	return small("junction", strconv.Itoa(ways)+"-way junction", "joint", Port{Is: Bar, Ways: ways})
}

// StripModel is a junction whose pins have names of their own: they stay what they are when there come to be more of them.
func StripModel(pins ...string) *Model {
	m := JunctionModel(len(pins))
	m.Ports[0].Value.Names = pins
	for i := range m.Strip {
		m.Strip[i].Pin = PinOf(m.Ports[0].Key, pins[i])
	}
	return m
}
