package fault

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// contact lists the contacts of a port welded and stuck open. A changeover contact that is welded on one side cannot
// close on the other.
func (c *lister) contact(d *wiring.Device, port string) {
	repair := "Replace the unit, and look for what has overloaded the contact."
	for _, part := range c.contactsInUse(d, port) {
		welded := []Edit{gate(d, port, part, true)}
		for _, other := range contactParts(d, port) {
			if other != part {
				welded = append(welded, gate(d, port, other, false))
			}
		}
		which := contactName(d, port, part)
		c.part(d, port, part, "welded", which+" is welded", repair, welded)
		c.part(d, port, part, "open", which+" does not close", repair, []Edit{gate(d, port, part, false)})
	}
}

// contactParts are the contacts of a port: one, or the two halves of a changeover contact.
func contactParts(d *wiring.Device, port string) []string {
	var names []string
	for _, p := range d.Model.Parts(&d.Settings) {
		if name, part := device.SplitPin(p.Name); name == port && p.Is == device.PartContact {
			names = append(names, part)
		}
	}
	return names
}

// contactsInUse are those that have something landed on both sides. The 0 V side of an output with one terminal is
// landed inside the unit.
func (c *lister) contactsInUse(d *wiring.Device, port string) []string {
	var names []string
	for _, part := range contactParts(d, port) {
		p, _ := partNamed(d, device.PinOf(port, part))
		if c.reached(d, p.A) && c.reached(d, p.B) {
			names = append(names, part)
		}
	}
	return names
}

// reached says that a pin is landed, or is on no terminal and therefore joined inside the unit.
func (c *lister) reached(d *wiring.Device, pin string) bool {
	return d.Model.Terminal(pin) == nil || len(c.landed[wiring.End{Device: d, Pin: pin}]) > 0
}

// contactName says which contact, by its terminals: "contact C to NO".
func contactName(d *wiring.Device, port, part string) string {
	p, _ := partNamed(d, device.PinOf(port, part))
	a, b := wiring.End{Device: d, Pin: p.A}, wiring.End{Device: d, Pin: p.B}
	if d.Model.Terminal(p.B) == nil {
		return fmt.Sprintf("contact %s to 0 V", a.Label())
	}
	return fmt.Sprintf("contact %s to %s", a.Label(), b.Label())
}

// stuckSignals lists what moves the contacts of a unit stuck either way: a button jammed, the magnet of a door contact
// gone, the relay of a fire interface held in. Outputs of controllers and boards are a class of their own.
func (c *lister) stuckSignals(d *wiring.Device) {
	if d.Role == job.RoleController || d.Role == job.RoleBoard {
		return
	}
	var done []string
	for _, e := range d.Model.Ports {
		signal := d.Model.SignalOf(e.Key)
		if signal == "" || slices.Contains(done, signal) || senses(d.Model, signal) {
			continue
		}
		if len(c.contactsInUse(d, e.Key)) == 0 || !c.ofPort(d, e.Key) {
			continue
		}
		done = append(done, signal)
		for _, on := range []bool{true, false} {
			c.put(Fault{
				ID: fmt.Sprintf("part:%s:%s", nodeOf(d, signal), onOff(on)), Class: Part,
				Name: d.ID + ": " + stuckWords(signal, on), Where: title(d),
				Repair: "Free or align what moves the contact; where that does not help, replace the unit.",
				Edits:  []Edit{{Op: Force, Device: d, Signal: signal, On: on}},
				At:     c.onPort(d, e.Key), Of: []*wiring.Device{d},
			})
		}
	}
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

// senses says that a signal follows a voltage of the unit.
func senses(m *device.Model, signal string) bool {
	return slices.ContainsFunc(m.Senses(), func(s device.Sense) bool { return s.Signal == signal })
}

// stuckWords says in plain words what it looks like when a signal is stuck.
func stuckWords(signal string, on bool) string {
	for _, w := range []struct{ signal, on, off string }{
		{"pressed", "button is jammed as if pressed", "button does not reach its contact"},
		{"clear", "relay is stuck as if nobody were there", "relay is stuck as if somebody were there"},
		{"operated", "release is stuck as if operated", "release is jammed and cannot be operated"},
		{"turned", "key switch is stuck as if turned", "key switch does not reach its contact"},
		{
			"door-closed", "contact tells closed whatever the leaf does",
			"contact tells open: its magnet is gone or too far away",
		},
		{
			"handle", "handle contact is stuck as if the handle were turned",
			"handle contact does not tell when the handle is turned",
		},
		{"healthy", "relay is stuck as if healthy", "relay is stuck as if there were an alarm"},
	} {
		switch {
		case w.signal != signal:
		case on:
			return w.on
		default:
			return w.off
		}
	}
	return fmt.Sprintf("%s is stuck %s", signal, onOff(on))
}

// stuckRelays lists relays whose armature is stuck: all contacts that the coil drives stay as they are.
func (c *lister) stuckRelays(d *wiring.Device) {
	for _, coil := range d.Model.PortsOf(device.Coil) {
		if !c.ofPort(d, coil) || !c.inUse(d, coil) {
			continue
		}
		for _, in := range []bool{true, false} {
			var edits []Edit
			for _, p := range d.Model.Parts(&d.Settings) {
				if p.Is == device.PartContact && len(p.When) == 1 && p.When[0].Signal == coil {
					edits = append(edits, Edit{Op: Gate, Device: d, Part: p.Name, On: p.When[0].Is == in})
				}
			}
			how, says := "dropped-out", "relay does not pull in"
			if in {
				how, says = "pulled-in", "relay is stuck pulled in"
			}
			c.part(d, coil, "armature", how, says, "Replace the relay.", edits)
		}
	}
}
