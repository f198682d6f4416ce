package wiring

import (
	"fmt"
	"slices"

	"doorwright/device"
)

// contactEnds are the two terminals of a contact, and whether it is closed while nothing happens.
type contactEnds struct {
	a, b   End
	closed bool
}

// contact finds the contact of a device for a use: one that is closed, or open, while nothing happens, and which a coil
// or a healthy device holds so.
func (p *planner) contact(d *Device, use string, closed bool) (contactEnds, bool) {
	c, ok := findContact(d, use, closed)
	if !ok {
		p.problem(d.ID, lacks(d, use, closed), "fit a model that has one")
	}
	return c, ok
}

// lacks says that a device has no contact for a use that rests so.
func lacks(d *Device, use string, closed bool) string {
	what, rest := "contact", device.RestOpen
	if use != "" {
		what = use + " contact"
	}
	if closed {
		rest = device.RestClosed
	}
	return fmt.Sprintf("%s has no %s that is %s at rest", named(d), what, rest)
}

// findContact takes a contact that is meant for the use, else one that is meant for nothing in particular.
func findContact(d *Device, use string, closed bool) (contactEnds, bool) {
	for _, want := range []string{use, ""} {
		for _, e := range d.Model.Ports {
			if e.Value.Use != want {
				continue
			}
			if c, ok := contactOf(d, e.Key, e.Value, closed); ok {
				return c, true
			}
		}
	}
	return contactEnds{}, false
}

// anyContact is a contact of a device for a use, else whatever contact it has.
func anyContact(d *Device, use string, closed bool) (contactEnds, bool) {
	if c, ok := findContact(d, use, closed); ok {
		return c, true
	}
	for _, e := range d.Model.Ports {
		if c, ok := contactOf(d, e.Key, e.Value, closed); ok {
			return c, true
		}
	}
	return contactEnds{}, false
}

// contactOf gives the contact of one port that is closed (or open) while nothing happens, if it has such a one.
func contactOf(d *Device, name string, port device.Port, closed bool) (contactEnds, bool) {
	if port.Is != device.Contact && port.Is != device.Changeover {
		return contactEnds{}, false
	}
	on := undisturbed(d.Model, d.Model.SignalOf(name))
	if port.Is == device.Contact {
		rests := (port.Rest == device.RestClosed) != on
		return contactEnds{pinOf(d, name, "a"), pinOf(d, name, "b"), closed}, rests == closed
	}
	pin := "nc"
	if closed == on {
		pin = "no"
	}
	c := contactEnds{pinOf(d, name, "common"), pinOf(d, name, pin), closed}
	return c, d.Model.Terminal(c.b.Pin) != nil
}

// undisturbed is the value of a signal while nothing happens: coils are pulled in, since a relay in a lock feed is held
// in while all is well.
func undisturbed(m *device.Model, signal string) bool {
	if p := m.Port(signal); p != nil && p.Is == device.Coil {
		return true
	}
	k := device.KindOf(m.Kind)
	return k != nil && (slices.Contains(k.Wakes, signal) || slices.Contains(k.Quiet, signal))
}

// poles lists the contacts of a manual release that stand in the lock feed.
func (p *planner) poles(d *Device) []contactEnds {
	var all []contactEnds
	for _, e := range d.Model.Ports {
		if e.Value.Use != "release" {
			continue
		}
		if c, ok := contactOf(d, e.Key, e.Value, true); ok {
			all = append(all, c)
		}
	}
	if len(all) == 0 {
		p.problem(d.ID, named(d)+" has no contact for the lock feed", "fit a release that has one")
	}
	return all
}
