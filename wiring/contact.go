package wiring

import (
	"slices"

	"doorwright/device"
	"doorwright/unit"
)

// contactEnds are the two terminals of a contact, and whether it is closed while nothing happens.
type contactEnds struct {
	a, b   End
	closed bool
}

// contact finds the contact of a device for a use: one that is closed, or open, while nothing happens. A contact of
// no stated use serves any.
func (p *planner) contact(d *Device, use string, closed bool) (contactEnds, bool) {
	if c, ok := findContact(d, use, closed); ok {
		return c, true
	}
	what := "contact that is open at rest"
	if closed {
		what = "contact that is closed at rest"
	}
	p.problem(d.ID, d.ID+" ("+d.ModelID+") has no "+what, "fit a model that has one")
	return contactEnds{}, false
}

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

// contactOf gives the contact of one port that is closed (or open) while nothing happens, if it has such a one.
func contactOf(d *Device, name string, port device.Port, closed bool) (contactEnds, bool) {
	end := func(pin string) End { return End{d, device.PinOf(name, pin)} }
	on := undisturbed(d.Model, d.Model.SignalOf(name))
	switch port.Is {
	case device.Contact:
		if ((port.Rest == device.RestClosed) != on) == closed {
			return contactEnds{end("a"), end("b"), closed}, true
		}
	case device.Changeover:
		pin := "nc"
		if closed == on {
			pin = "no"
		}
		return contactEnds{end("common"), end(pin), closed}, d.Model.Terminal(device.PinOf(name, pin)) != nil
	}
	return contactEnds{}, false
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

// workingContact is the contact of a relay, or of a device that is held in while healthy, which closes when the coil
// pulls in and opens when power is lost.
func (p *planner) workingContact(d *Device, use string) (contactEnds, bool) {
	return p.contact(d, use, true)
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
		p.problem(d.ID, d.ID+" ("+d.ModelID+") has no contact for the lock feed", "fit a release with such a contact")
	}
	return all
}

// clampFor is the clamp voltage for a lock of a nominal voltage: above the highest float voltage of a lead-acid
// system (14.1 V for 12 V, 28.2 V for 24 V, cold; from memory) with room to spare, so that it idles at rest.
func clampFor(nominal unit.Volt) unit.Volt {
	if nominal > 18 {
		return 39
	}
	return 22
}
