package wiring

import (
	"doorwright/device"
	"doorwright/job"
)

// reader is one reader of a door and what it talks to.
type reader struct {
	*job.Reader
	device     *Device
	controller *Device
	supply     *job.Supply // of the controller
	channel    int
	side       string
}

// readersOf lists the readers of a door.
func (p *planner) readersOf(d *job.Door) []reader {
	var all []reader
	for _, r := range []struct {
		fitted *job.Reader
		side   string
	}{{d.Entry, "entry"}, {d.ExitReader, "exit"}} {
		if r.fitted != nil {
			all = append(all, reader{
				r.fitted, p.of(&r.fitted.Fitted), p.of(&d.Controller.Fitted), d.Controller.Feed.Supply, d.Channel, r.side,
			})
		}
	}
	return all
}

// readers wires the readers of a door: data lines by the kind of port, supply, lamp. All of it goes into one sheath
// where that has the cores: the data lines are measured against the 0 V that comes with the supply. Bus readers get
// their line in buses, since one line serves several doors.
func (p *planner) readers(d *job.Door) {
	for _, r := range p.readersOf(d) {
		first := len(p.wishes)
		switch {
		case has(r.device, device.PulseOut):
			p.pulse(r)
		case has(r.device, device.SerialPort):
			p.serial(r)
		case has(r.device, device.Bus):
			p.port(r.controller, device.Bus, "", r.channel, r.side, "RS-485 port for the "+r.side+" reader")
		default:
			p.problem(r.ID, named(r.device)+" has no data port", "fit a reader")
		}
		p.readerFeed(r)
		p.readerLamp(r)
		for _, w := range p.wishes[first:] {
			w.reader = r.device
		}
	}
}

func has(d *Device, is device.PortType) bool { return len(d.Model.PortsOf(is)) > 0 }

// readerFeed brings power to a reader.
func (p *planner) readerFeed(r reader) {
	in, ok := p.port(r.device, device.Load, "", 0, "", "supply input")
	if !ok {
		return
	}
	if r.Feed == nil {
		if from, ok := p.readerPower(r); ok {
			p.joinPair(from, ends(r.device, in), whyReaderFeed)
		}
		return
	}
	if from, ok := p.feedEnds(*r.Feed, r.controller, r.channel); ok {
		p.joinPair(from, ends(r.device, in), whyDeviceFeed)
	}
}

// readerPower is the supply output of a controller's reader port.
func (p *planner) readerPower(r reader) (pair, bool) {
	if port, ok := r.controller.Model.FindPort(device.Output, "signal", r.channel, r.side); ok {
		return ends(r.controller, port), true
	}
	return p.devicePower(r.controller, r.channel)
}

// pulse joins D0 and D1, and the 0 V they are measured against where nothing else brings it.
func (p *planner) pulse(r reader) {
	from := r.device.Model.PortsOf(device.PulseOut)[0]
	to, ok := p.port(r.controller, device.PulseIn, "", r.channel, r.side, "pulse reader port for the "+r.side+" reader")
	if !ok {
		return
	}
	var line []*wish
	for _, l := range []struct{ pin, colour string }{{"d0", zeroColour}, {"d1", oneColour}} {
		why := whyPulse
		why.Purpose = "data line " + l.pin
		w := p.join(pinOf(r.controller, to, l.pin), pinOf(r.device, from, l.pin), Data, why)
		w.colour = l.colour
		line = append(line, w)
	}
	sideBySide(append(line, p.commonZero(r, from, to)...)...)
}

// serial joins a transmitter to the receiver at the other end, both ways.
func (p *planner) serial(r reader) {
	from := r.device.Model.PortsOf(device.SerialPort)[0]
	to, ok := p.port(r.controller, device.SerialPort, "", r.channel, r.side, "serial port for the "+r.side+" reader")
	if !ok {
		return
	}
	line := []*wish{
		p.join(pinOf(r.controller, to, "tx"), pinOf(r.device, from, "rx"), Data, whyCrossed),
		p.join(pinOf(r.controller, to, "rx"), pinOf(r.device, from, "tx"), Data, whyCrossed),
	}
	sideBySide(append(line, p.commonZero(r, from, to)...)...)
}

// commonZero joins the 0 V of a reader's data port and its controller's where they hang on different supplies. Two
// supplies are joined once: a second common would close a ring in which currents flow that nobody ordered.
func (p *planner) commonZero(r reader, from, to string) []*wish {
	if r.Feed == nil || r.Feed.Controller || !p.firstCommon(r.Feed.Supply, r.supply) {
		return nil
	}
	return []*wish{p.join(pinOf(r.controller, to, "common"), pinOf(r.device, from, "common"), Data, whyCommon)}
}

// firstCommon says that the 0 V of two supplies are not joined yet, and takes them as joined from now on.
func (p *planner) firstCommon(a, b *job.Supply) bool {
	root := func(s *job.Supply) *job.Supply {
		for p.zeros[s] != nil {
			s = p.zeros[s]
		}
		return s
	}
	a, b = root(a), root(b)
	if a == b {
		return false
	}
	p.zeros[a] = b
	return true
}

// readerLamp joins the lamp line where both sides have one. A lamp contact with two terminals is linked to the 0 V of
// the reader port; one with a single terminal switches to 0 V inside the controller.
func (p *planner) readerLamp(r reader) {
	in, ok := r.device.Model.FindPort(device.Input, "led", 0, "")
	out, ok2 := r.controller.Model.FindPort(device.Contact, "led", r.channel, r.side)
	if !ok || !ok2 {
		return
	}
	p.join(pinOf(r.controller, out, "a"), pinOf(r.device, in, "in"), Signal, whyLamp).colour = lampColour
	b := pinOf(r.controller, out, "b")
	if r.controller.Model.Terminal(b.Pin) == nil || p.taken[b] {
		return
	}
	p.taken[b] = true
	if zero, ok := p.readerPower(r); ok {
		p.join(zero.minus, b, Signal, whyLamp)
	}
}
