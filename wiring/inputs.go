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
	for i, a := range d.Aux {
		p.auxLine(d, a, fmt.Sprintf("auxiliary input %d", i+1))
	}
	if d.Told != nil {
		p.fuseLine(d)
		return // the auxiliary inputs of a channel are set alike
	}
	for _, r := range d.Releases {
		p.releaseMonitor(d, r)
	}
}

// fuseLine brings the fail contact of a board to an auxiliary input of the door, in line with the resistor there, so that
// a fuse that opens reads as a cut.
func (p *planner) fuseLine(d *job.Door) {
	board, c := p.of(d.Told.Board), p.of(&d.Controller.Fitted)
	contact, ok := p.contact(board, "trouble", true)
	if !ok {
		return
	}
	port, ok := p.freeInput(c, d.Channel)
	if !ok {
		p.problem(d.ID, fmt.Sprintf("the fail contact of %s: %s has no auxiliary input left for door channel %d", board.ID, named(c), d.Channel),
			"let it tell another door")
		return
	}
	p.layLine(line{c, port, []contactEnds{contact}, device.SchemeSingle, d.Resistor, whyFuseSeen, board.ID})
}

// exitLine wires all exit devices of a door, handle contacts of locks, and releases that only tell the controller, to
// its exit input.
func (p *planner) exitLine(d *job.Door) {
	var contacts []contactEnds
	closed := settings(d).Exit.Rest == device.RestClosed
	add := func(f *job.Fitted, use string) {
		c, ok := findContact(p.of(f), use, closed)
		if !ok {
			p.problem(d.ID, lacks(p.of(f), use, closed)+", as the exit input expects",
				"fit exit devices that rest alike, or set the input to what they are")
			return
		}
		contacts = append(contacts, c)
	}
	for _, e := range d.Exits {
		add(&e.Fitted, "exit")
	}
	for _, r := range d.Releases {
		if !r.InFeed {
			add(&r.Fitted, "release")
		}
	}
	for _, l := range d.Locks {
		if handleContact(l) {
			add(&l.Fitted, "exit")
		}
	}
	p.doorLine(d, "exit", contacts, whyExit)
}

// handleContact says that a lock tells when its inside handle is used.
func handleContact(l *job.Lock) bool {
	for _, e := range l.Model.Ports {
		if e.Value.Use == "exit" && (e.Value.Is == device.Contact || e.Value.Is == device.Changeover) {
			return true
		}
	}
	return false
}

// contactLine wires the contacts of all leaves to the contact input.
func (p *planner) contactLine(d *job.Door) {
	var contacts []contactEnds
	for _, f := range d.Contacts {
		if c, ok := p.contact(p.of(f), "contact", settings(d).Contact.Rest != device.RestOpen); ok {
			contacts = append(contacts, c)
		}
	}
	p.doorLine(d, "contact", contacts, whyContact)
}

// doorLine lays the line of the exit or contact input of a door.
func (p *planner) doorLine(d *job.Door, use string, contacts []contactEnds, why Reason) {
	if len(contacts) == 0 {
		return
	}
	c := p.of(&d.Controller.Fitted)
	port, ok := p.port(c, device.Input, use, d.Channel, "", fmt.Sprintf("%s input for door channel %d", use, d.Channel))
	if ok {
		p.layLine(line{c, port, contacts, d.Supervision, d.Resistor, why, d.ID + "." + use})
	}
}

// auxLine wires one more contact to a free auxiliary input of the door's channel.
func (p *planner) auxLine(d *job.Door, a *job.Aux, what string) {
	dev, c := p.of(&a.Fitted), p.of(&d.Controller.Fitted)
	closed := settings(d).Aux.Rest != device.RestOpen
	contact, ok := anyContact(dev, "aux", closed)
	if !ok {
		p.problem(dev.ID, lacks(dev, "", closed), "fit a model that has one")
		return
	}
	port, ok := p.freeInput(c, d.Channel)
	if !ok {
		p.problem(d.ID, fmt.Sprintf("%s (%s): %s has no auxiliary input left for door channel %d",
			what, dev.ID, named(c), d.Channel), "fit a controller with more inputs, or leave this one out")
		return
	}
	p.layLine(line{c, port, []contactEnds{contact}, a.Supervision, a.Resistor, whyAux, dev.ID})
}

// freeInput is an auxiliary input of a channel, or of no channel, that nothing uses yet.
func (p *planner) freeInput(c *Device, channel int) (string, bool) {
	for _, name := range c.Model.PortsOf(device.Input) {
		port, in := c.Model.Port(name), pinOf(c, name, "in")
		if port.Use == "aux" && (port.Channel == channel || port.Channel == 0) && !p.taken[in] {
			p.taken[in] = true
			return name, true
		}
	}
	return "", false
}

// releaseMonitor tells the controller that a release was operated, where the release has a contact for it and the
// controller an input free that expects such a one. Else it is left out: nothing depends on it.
func (p *planner) releaseMonitor(d *job.Door, r *job.Release) {
	dev, c := p.of(&r.Fitted), p.of(&d.Controller.Fitted)
	scheme, ohms := d.Supervision, d.Resistor
	if len(d.Aux) > 0 { // all auxiliary inputs of a channel are set alike, to what the first has fitted
		scheme, ohms = d.Aux[0].Supervision, d.Aux[0].Resistor
	}
	contact, ok := monitor(dev, settings(d).Aux.Rest != device.RestOpen)
	if !ok || !r.InFeed {
		return
	}
	if port, ok := p.freeInput(c, d.Channel); ok {
		p.layLine(line{c, port, []contactEnds{contact}, scheme, ohms, whyReleaseSeen, dev.ID})
	}
}

// monitor is the contact by which a release tells that it was operated.
func monitor(d *Device, closed bool) (contactEnds, bool) {
	for _, e := range d.Model.Ports {
		if e.Value.Use == "signal" {
			if c, ok := contactOf(d, e.Key, e.Value, closed); ok {
				return c, true
			}
		}
	}
	return contactEnds{}, false
}

// layLine joins an input to its contacts and puts the end-of-line resistors at the devices.
func (p *planner) layLine(l line) {
	switch {
	case l.contacts[0].closed:
		p.layClosed(l)
	case l.scheme == device.SchemeSingle || l.scheme == device.SchemeDouble:
		p.layOpen(l)
	default:
		p.layStar(l)
	}
}

// layClosed lays a line of contacts that are closed at rest: they stand in series, with the resistors at the last, and
// all of them lie between the two legs of the one across.
func (p *planner) layClosed(l line) {
	first, last := l.contacts[0], l.contacts[len(l.contacts)-1]
	for i, c := range l.contacts[1:] {
		p.join(l.contacts[i].b, c.a, Signal, l.why)
	}
	a := first.a
	if l.scheme == device.SchemeDouble {
		a = p.acrossContact(l, last.a.Device, first.a, last.b)
	}
	if l.scheme == device.SchemeDouble || l.scheme == device.SchemeSingle {
		a = p.inSeries(l, last.a.Device, a)
	}
	p.toInput(l, a, last.b)
}

// layOpen lays a supervised line of contacts that are open at rest: it goes from device to device, with the resistor
// across the last of them and the one in series at the first, so that a cut anywhere shows.
func (p *planner) layOpen(l line) {
	first, last := l.contacts[0], l.contacts[len(l.contacts)-1]
	for i, c := range l.contacts[1:] {
		p.parallel(l, l.contacts[i], c)
	}
	a := first.a
	leg := p.acrossContact(l, last.a.Device, last.a, last.b)
	if l.scheme == device.SchemeDouble {
		if len(l.contacts) == 1 {
			a = leg
		}
		a = p.inSeries(l, first.a.Device, a)
	}
	p.toInput(l, a, first.b)
}

// layStar lays a line of contacts that are open at rest and that nothing supervises: each place has its own pair of
// cores from the input, which takes the fewest.
func (p *planner) layStar(l line) {
	at := map[*job.Place]contactEnds{}
	for _, c := range l.contacts {
		if here, ok := at[c.a.Device.Place]; ok {
			p.parallel(l, here, c)
		} else {
			p.toInput(l, c.a, c.b)
		}
		at[c.a.Device.Place] = c
	}
}

// parallel joins two contacts side by side.
func (p *planner) parallel(l line, one, two contactEnds) {
	sideBySide(p.join(one.a, two.a, Signal, l.why), p.join(one.b, two.b, Signal, l.why))
}

// acrossContact adds the resistor across a contact, or across several in series, and gives the leg that lies on a: the
// other resistor is spliced to it.
func (p *planner) acrossContact(l line, at *Device, a, b End) End {
	r := p.addBeside(at, p.doorID(), resistor(l.id+".across", l.ohms, whyParallel))
	p.join(lone(r, "a"), a, Signal, whyParallel)
	p.join(lone(r, "b"), b, Signal, whyParallel)
	return lone(r, "a")
}

// inSeries adds the resistor in series before a and gives its other leg.
func (p *planner) inSeries(l line, at *Device, a End) End {
	r := p.addBeside(at, p.doorID(), resistor(l.id+".series", l.ohms, whySeries))
	p.join(lone(r, "a"), a, Signal, whySeries)
	return lone(r, "b")
}

// toInput joins the two ends of a line to its input.
func (p *planner) toInput(l line, a, b End) {
	sideBySide(
		p.join(pinOf(l.device, l.port, "in"), a, Signal, l.why),
		p.join(pinOf(l.device, l.port, "common"), b, Signal, l.why))
}

// exitFeeds brings power to exit devices that need it, such as a motion sensor.
func (p *planner) exitFeeds(d *job.Door) {
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
			p.joinPair(from, ends(dev, in), whyDeviceFeed)
		}
	}
}

// devicePower is where a controller feeds small devices from: its device-power output, else its own supply terminals.
func (p *planner) devicePower(controller *Device, channel int) (pair, bool) {
	if port, ok := controller.Model.FindPort(device.Output, "aux", channel, ""); ok {
		return ends(controller, port), true
	}
	port, ok := p.port(controller, device.Load, "", 0, "", "supply input")
	return ends(controller, port), ok
}

// sounder wires the sounder to the controller's sounder output.
func (p *planner) sounder(d *job.Door) {
	if d.Sounder == nil {
		return
	}
	dev, controller := p.of(d.Sounder), p.of(&d.Controller.Fitted)
	in, ok := p.port(dev, device.Load, "", 0, "", "supply input")
	if !ok {
		return
	}
	what := fmt.Sprintf("sounder output for door channel %d", d.Channel)
	out, ok := p.port(controller, device.Output, "sounder", d.Channel, "", what)
	if ok {
		p.joinPair(ends(controller, out), ends(dev, in), whySounder)
	}
}
