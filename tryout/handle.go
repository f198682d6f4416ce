package tryout

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/situation"
	"doorwright/wiring"
)

// handle is something the world does to a unit, in words. %s is the unit.
type handle struct {
	signal  string
	on, off string
	life    bool // it bears on getting out
}

// handles are all that a person, the fire alarm, the mains or bad luck can do. A test holds them against the kinds.
func handles() []handle {
	return []handle{
		{"pressed", "Press %s", "Let go of %s", false},
		{"sees", "Walk up to %s", "Walk away from %s", false},
		{"handle", "Turn the inside handle of %s", "Let go of the handle of %s", true},
		{"operated", "Operate %s", "Reset %s", true},
		{"door-closed", "Close the door at %s", "Open the door at %s", false},
		{"fire", "Give the fire signal at %s", "Take the fire signal from %s", true},
		{"line-lost", "Break the fire signal's line at %s", "Mend the fire signal's line at %s", true},
		{"turned", "Turn %s", "Turn %s back", false},
		{"mains", "Bring the mains back to %s", "Drop the mains of %s", true},
		{"connected", "Connect %s", "Take %s off", false},
		{"hung", "Make %s hang (it stops working)", "Let %s run again", false},
		{situation.Unfed, "Take the supply from %s", "Give %s its supply again", true},
	}
}

// handleOf is the handle of a unit for a signal; nil when the world cannot set that there.
func handleOf(d *wiring.Device, signal string) *handle {
	if !slices.Contains(worldOf(d), signal) {
		return nil
	}
	for _, h := range handles() {
		if h.signal == signal {
			return &h
		}
	}
	return nil
}

// worldOf are the signals that the world sets on a unit.
func worldOf(d *wiring.Device) []string {
	k := device.KindOf(d.Model.Kind)
	if k == nil {
		return nil
	}
	if k.Name == "controller" {
		return append(slices.Clone(k.World), situation.Unfed)
	}
	return k.World
}

func (h *handle) says(d *wiring.Device, on bool) string {
	if on {
		return fmt.Sprintf(h.on, name(d))
	}
	return fmt.Sprintf(h.off, name(d))
}

// Control is one thing that can be done now.
type Control struct {
	Act  Act
	Says string
	On   bool // what it acts on is away from rest: the act takes it back
	Life bool // it bears on getting out
}

// controls lists what can be done to the door now: cards first, then unit by unit.
func (v *viewer) controls() []Control {
	var all []Control
	for _, r := range []*wiring.Device{v.reader(true), v.reader(false)} {
		if r != nil {
			all = append(all, Control{Act: Act{Verb: Card, Device: r.ID}, Says: "Show a valid card at " + name(r)})
		}
	}
	for _, u := range v.try.near {
		for _, signal := range worldOf(u.Device) {
			h := handleOf(u.Device, signal)
			if h == nil {
				continue
			}
			here := v.island.Unit(u.Device.ID)
			on := v.bench.Signal(here, signal)
			verb := On
			if on {
				verb = Off
			}
			k := device.KindOf(u.Device.Model.Kind)
			all = append(all, Control{
				Act: Act{Verb: verb, Device: u.Device.ID, Signal: signal}, Says: h.says(u.Device, !on),
				On: on != slices.Contains(k.Wakes, signal), Life: h.life,
			})
		}
	}
	return all
}

// reader is the entry or the exit reader of the door; nil when it has none.
func (v *viewer) reader(entry bool) *wiring.Device {
	r := v.try.door.ExitReader
	if entry {
		r = v.try.door.Entry
	}
	if r == nil {
		return nil
	}
	return v.try.site.Plan.Device(r.ID)
}
