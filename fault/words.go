package fault

import (
	"fmt"
	"strings"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/wiring"
)

// typable makes an id that can be typed in a shell without quotes: what a person wrote in a name and a shell would take
// apart becomes a hyphen.
func typable(id string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(" \t\n\"'`$&|;<>()[]{}*?!#~\\^%", r) {
			return '-'
		}
		return r
	}, id)
}

// spot names a terminal as it is written on the unit: "C3 0V".
func spot(e wiring.End) string {
	if e.Device == nil {
		return e.Label()
	}
	return e.Device.ID + " " + e.Label()
}

// fromTo names both ends of a conductor.
func fromTo(w *wiring.Conductor) string { return spot(w.A) + " to " + spot(w.B) }

// coreName names a core in its run: "core 2 black of W3".
func coreName(w *wiring.Conductor) string {
	return fmt.Sprintf("core %d %s of %s", w.Core.Index, cable.ColourName(w.Core.Colour), w.Run.ID)
}

// NameOf names a conductor: "core 2 black of W3 (PS2.board 3- to C3 0V)".
func NameOf(w *wiring.Conductor) string {
	switch w.Kind {
	case wiring.Core:
		return fmt.Sprintf("%s (%s)", coreName(w), fromTo(w))
	case wiring.Screen:
		return fmt.Sprintf("screen of %s (%s)", w.Run.ID, fromTo(w))
	}
	return fmt.Sprintf("%s from %s", w.Kind, fromTo(w))
}

// title names a device with what it is: "visitor.lock1 (Surface magnet, 12 V)".
func title(d *wiring.Device) string {
	if d.Title != "" {
		return fmt.Sprintf("%s (%s)", d.ID, d.Title)
	}
	return fmt.Sprintf("%s (%s)", d.ID, d.Model.Title)
}

// pinsOf are the full names of the pins of a port that are brought out on terminals.
func pinsOf(d *wiring.Device, port string) []string {
	var pins []string
	for _, t := range d.Model.Strip {
		if name, _ := device.SplitPin(t.Pin); name == port {
			pins = append(pins, t.Pin)
		}
	}
	return pins
}
