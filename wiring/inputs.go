package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// line is one input line of a controller: contacts to be read, and how it is supervised.
type line struct {
	device   *Device // the unit whose input reads
	port     string
	contacts []contactEnds // in parallel when open at rest, in series when closed at rest
	scheme   device.Scheme
	ohms     unit.Ohm
	why      Reason
	id       string // for the resistors added
}

// inputs wires the exit requests, contacts, monitors and further inputs of a door.
func (p *planner) inputs(d *job.Door) {
	p.exitLine(d)
	p.contactLine(d)
	p.handFeeds(d)
	for i, a := range d.Aux {
		p.auxLine(d, p.of(&a.Fitted), fmt.Sprintf("aux input %d", i+1), whyAux, a.Supervision, a.Resistor)
	}
	for _, r := range d.Releases {
		p.releaseMonitor(d, r)
	}
}

// exitLine wires all exit devices of a door, and releases that only tell the controller, to its exit input.
func (p *planner) exitLine(d *job.Door) {
	var contacts []contactEnds
	rest := exitRest(d)
	add := func(dev *Device, use string) {
		if c, ok := p.contact(dev, use, rest == device.RestClosed); ok {
			contacts = append(contacts, c)
		}
	}
	for _, e := range d.Exits {
		add(p.of(&e.Fitted), "exit")
	}
	for _, l := range d.Locks {
		if dev := p.of(&l.Fitted); handleContact(dev) {
			add(dev, "exit")
		}
	}
	for _, r := range d.Releases {
		if !r.InFeed {
			add(p.of(&r.Fitted), "release")
		}
	}
	if len(contacts) == 0 {
		return
	}
	c := p.of(&d.Controller.Fitted)
	port, ok := p.port(c, device.Input, "exit", d.Channel, "", "exit input")
	if ok {
		p.layLine(line{c, port, contacts, d.Supervision, d.Resistor, whyExit, d.ID + ".exit"})
	}
}

// exitRest is the position that the controller expects of the exit contacts while nothing happens.
func exitRest(d *job.Door) string {
	if ch := d.Controller.Settings.Channels; d.Channel <= len(ch) && ch[d.Channel-1].Exit.Rest != "" {
		return ch[d.Channel-1].Exit.Rest
	}
	return device.RestOpen
}

// handleContact says that a lock tells when its inside handle is used.
func handleContact(d *Device) bool {
	for _, e := range d.Model.Ports {
		if e.Value.Use == "exit" && (e.Value.Is == device.Contact || e.Value.Is == device.Changeover) {
			return true
		}
	}
	return false
}

func (p *planner) contactLine(d *job.Door) {
	var contacts []contactEnds
	for _, f := range d.Contacts {
		if c, ok := p.contact(p.of(f), "contact", true); ok {
			contacts = append(contacts, c)
		}
	}
	if len(contacts) == 0 {
		return
	}
	c := p.of(&d.Controller.Fitted)
	port, ok := p.port(c, device.Input, "contact", d.Channel, "", "door contact input")
	if ok {
		p.layLine(line{c, port, contacts, d.Supervision, d.Resistor, whyContact, d.ID + ".contact"})
	}
}

// auxLine wires one more contact to a free auxiliary input of the door's channel.
func (p *planner) auxLine(d *job.Door, dev *Device, what string, why Reason, scheme device.Scheme, ohms unit.Ohm) {
	contact, ok := anyContact(dev)
	if !ok {
		p.problem(dev.ID, dev.ID+" ("+dev.ModelID+") has no contact", "fit a model that has one")
		return
	}
	c := p.of(&d.Controller.Fitted)
	port, ok := p.freeInput(c, d.Channel)
	if !ok {
		p.problem(d.ID, fmt.Sprintf("%s: %s has no free auxiliary input for door channel %d", what, c.ID, d.Channel),
			"fit a controller with more inputs, or drop this one")
		return
	}
	p.layLine(line{c, port, []contactEnds{contact}, scheme, ohms, why, dev.ID})
}

// anyContact is the first contact of a device, whatever it is meant for.
func anyContact(d *Device) (contactEnds, bool) {
	for _, e := range d.Model.Ports {
		for _, closed := range []bool{true, false} {
			if c, ok := contactOf(d, e.Key, e.Value, closed); ok {
				return c, true
			}
		}
	}
	return contactEnds{}, false
}

// freeInput is an auxiliary input of a channel, or of no channel, that nothing uses yet.
func (p *planner) freeInput(c *Device, channel int) (string, bool) {
	for _, name := range c.Model.PortsOf(device.Input) {
		port := c.Model.Port(name)
		key := c.ID + "." + name
		if port.Use == "aux" && (port.Channel == channel || port.Channel == 0) && !p.taken[key] {
			p.taken[key] = true
			return name, true
		}
	}
	return "", false
}

// releaseMonitor tells the controller that a release was operated, where the release has a contact for it and the
// controller an input free. Without either it is left out: nothing depends on it.
func (p *planner) releaseMonitor(d *job.Door, r *job.Release) {
	dev := p.of(&r.Fitted)
	contact, ok := monitor(dev)
	if !ok {
		return
	}
	c := p.of(&d.Controller.Fitted)
	if port, ok := p.freeInput(c, d.Channel); ok {
		p.layLine(line{c, port, []contactEnds{contact}, d.Supervision, d.Resistor, whyReleaseSeen, dev.ID})
	}
}

// monitor is the contact by which a release tells that it was operated.
func monitor(d *Device) (contactEnds, bool) {
	for _, e := range d.Model.Ports {
		if e.Value.Use != "signal" {
			continue
		}
		for _, closed := range []bool{true, false} {
			if c, ok := contactOf(d, e.Key, e.Value, closed); ok {
				return c, true
			}
		}
	}
	return contactEnds{}, false
}

// layLine joins an input to its contacts, with the end-of-line resistors at the device farthest out.
func (p *planner) layLine(l line) {
	in, common := End{l.device, device.PinOf(l.port, "in")}, End{l.device, device.PinOf(l.port, "common")}
	last := l.contacts[len(l.contacts)-1]
	series := l.scheme == device.SchemeDouble || l.scheme == device.SchemeSingle && last.closed
	across := l.scheme == device.SchemeDouble || l.scheme == device.SchemeSingle && !last.closed
	a, b := p.joinContacts(l)
	if across {
		r := p.resistor(l.id+".across", l.ohms, last.a.Device, whyParallel)
		p.newGroup()
		p.join(lone(r, "a"), a, Signal, whyParallel)
		p.join(lone(r, "b"), b, Signal, whyParallel)
	}
	if series {
		r := p.resistor(l.id+".series", l.ohms, last.a.Device, whySeries)
		p.newGroup()
		p.join(lone(r, "a"), a, Signal, whySeries)
		a = lone(r, "b")
	}
	p.newGroup()
	p.join(in, a, Signal, l.why)
	p.join(common, b, Signal, l.why)
}

// joinContacts joins several contacts of one line and gives its two ends. Contacts closed at rest stand in series,
// others in parallel. The resistors sit at the last one; a line of several is entered there too, so that all of it
// lies between the resistors and the contacts.
func (p *planner) joinContacts(l line) (a, b End) {
	n := len(l.contacts) - 1
	for i := range n {
		here, next := l.contacts[i], l.contacts[i+1]
		p.newGroup()
		if here.closed {
			p.join(here.b, next.a, Signal, l.why)
			continue
		}
		p.join(here.a, next.a, Signal, l.why)
		p.join(here.b, next.b, Signal, l.why)
	}
	if l.contacts[0].closed {
		return l.contacts[0].a, l.contacts[n].b
	}
	return l.contacts[n].a, l.contacts[n].b
}

// handFeeds brings power to exit devices that need it, such as a motion sensor.
func (p *planner) handFeeds(d *job.Door) {
	controller := p.of(&d.Controller.Fitted)
	for _, e := range d.Exits {
		dev := p.of(&e.Fitted)
		in, ok := dev.Model.FindPort(device.Load, "", 0, "")
		if !ok {
			continue
		}
		var from pair
		if e.Feed != nil {
			from, ok = p.feedEnds(*e.Feed, controller, d.Channel)
		} else {
			from, ok = p.devicePower(controller, d.Channel)
		}
		if ok {
			p.joinPair(from, ends(dev, in), Power, whyDeviceFeed)
		}
	}
}

// devicePower is where a controller feeds small devices from: its device-power output, else its own supply terminals.
func (p *planner) devicePower(controller *Device, channel int) (pair, bool) {
	if port, ok := findPort(controller.Model, device.Output, "aux", channel, ""); ok {
		return ends(controller, port), true
	}
	port, ok := p.port(controller, device.Load, "", 0, "", "supply input")
	return ends(controller, port), ok
}
