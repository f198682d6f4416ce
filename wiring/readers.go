package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// readers wires the readers of a door: supply, data lines by the kind of port, and a common 0 V where the reader
// hangs on another supply. Bus readers get their line in buses, since one line serves several doors.
func (p *planner) readers(d *job.Door) {
	p.reader(d, d.Entry, "entry")
	p.reader(d, d.ExitReader, "exit")
}

func (p *planner) reader(d *job.Door, r *job.Reader, side string) {
	if r == nil {
		return
	}
	dev, controller := p.of(&r.Fitted), p.of(&d.Controller.Fitted)
	p.readerData(d, dev, controller, side)
	p.readerFeed(d, r, dev, controller, side)
	p.readerLamp(d, dev, controller, side)
}

// readerFeed brings power to a reader. A reader on another supply shares a 0 V with the controller, joined once.
func (p *planner) readerFeed(d *job.Door, r *job.Reader, dev, controller *Device, side string) {
	in, ok := p.port(dev, device.Load, "", 0, "", "supply input")
	if !ok {
		return
	}
	to := ends(dev, in)
	if r.Feed == nil {
		from, ok := p.readerPower(controller, d.Channel, side)
		if ok {
			p.joinPair(from, to, Power, whyReaderFeed)
		}
		return
	}
	from, ok := p.feedEnds(*r.Feed, controller, d.Channel)
	if !ok {
		return
	}
	p.joinPair(from, to, Power, whyReaderFeed)
	if !sameSupply(*r.Feed, d.Controller.Feed) {
		p.commonZero(d, dev, controller, side)
	}
}

// commonZero joins the 0 V of a reader and its controller, once, since their data line is measured against it.
func (p *planner) commonZero(d *job.Door, dev, controller *Device, side string) {
	for _, is := range []struct{ reader, controller device.PortType }{
		{device.PulseOut, device.PulseIn}, {device.SerialPort, device.SerialPort}, {device.Bus, device.Bus},
	} {
		from, ok := dev.Model.FindPort(is.reader, "", 0, "")
		to, ok2 := findPort(controller.Model, is.controller, "", d.Channel, side)
		if !ok || !ok2 {
			continue
		}
		p.newGroup()
		p.join(End{controller, device.PinOf(to, "common")}, End{dev, device.PinOf(from, "common")}, Data, whyCommon)
		return
	}
}

// sameSupply says that a reader's feed and its controller's share their 0 V already.
func sameSupply(reader, controller job.Feed) bool {
	return reader.Controller || reader.Supply == controller.Supply
}

// readerPower is the supply output of a controller's reader port.
func (p *planner) readerPower(controller *Device, channel int, side string) (pair, bool) {
	if port, ok := findPort(controller.Model, device.Output, "signal", channel, side); ok {
		return ends(controller, port), true
	}
	return p.devicePower(controller, channel)
}

// readerData joins the data lines of readers that have a port of their own at the controller.
func (p *planner) readerData(d *job.Door, dev, controller *Device, side string) {
	switch {
	case len(dev.Model.PortsOf(device.PulseOut)) > 0:
		p.pulse(d, dev, controller, side)
	case len(dev.Model.PortsOf(device.SerialPort)) > 0:
		p.serial(d, dev, controller, side)
	case len(dev.Model.PortsOf(device.Bus)) == 0:
		p.problem(dev.ID, dev.ID+" ("+dev.ModelID+") has no data port", "fit a reader")
	}
}

func (p *planner) pulse(d *job.Door, dev, controller *Device, side string) {
	from := dev.Model.PortsOf(device.PulseOut)[0]
	to, ok := p.port(controller, device.PulseIn, "", d.Channel, side, "pulse reader port for the "+side+" reader")
	if !ok {
		return
	}
	p.newGroup()
	for _, pin := range []string{"d0", "d1"} {
		why := whyPulse
		why.Purpose = "data line " + pin
		p.join(End{controller, device.PinOf(to, pin)}, End{dev, device.PinOf(from, pin)}, Data, why)
	}
}

func (p *planner) serial(d *job.Door, dev, controller *Device, side string) {
	from := dev.Model.PortsOf(device.SerialPort)[0]
	to, ok := p.port(controller, device.SerialPort, "", d.Channel, side, "serial port for the "+side+" reader")
	if !ok {
		return
	}
	p.newGroup()
	p.join(End{controller, device.PinOf(to, "tx")}, End{dev, device.PinOf(from, "rx")}, Data, whyCrossed)
	p.join(End{controller, device.PinOf(to, "rx")}, End{dev, device.PinOf(from, "tx")}, Data, whyCrossed)
}

// readerLamp joins the lamp line where both sides have one.
func (p *planner) readerLamp(d *job.Door, dev, controller *Device, side string) {
	in, ok := dev.Model.FindPort(device.Input, "led", 0, "")
	out, ok2 := controller.Model.FindPort(device.Contact, "led", d.Channel, side)
	if !ok || !ok2 {
		return
	}
	p.newGroup()
	why := whyDeviceFeed
	why.Purpose, why.Effect = "reader lamp", OutputAway
	p.join(End{controller, device.PinOf(out, "a")}, End{dev, device.PinOf(in, "in")}, Signal, why)
}

// buses lays each RS-485 line of a controller from unit to unit, in the order of the doors, with a terminator at its
// two physical ends: switched on where the unit has one, else added as a resistor.
func (p *planner) buses(c *job.Controller) {
	controller := p.of(&c.Fitted)
	on := p.busReaders(c)
	if len(on) == 0 {
		return
	}
	port, ok := p.port(controller, device.Bus, "", 0, "", "RS-485 port")
	if !ok {
		return
	}
	here, herePort := controller, port
	for i, r := range on {
		dev := p.of(&r.Fitted)
		next := dev.Model.PortsOf(device.Bus)[0]
		p.newGroup()
		for _, pin := range []string{"a", "b"} {
			why := whyBus
			why.Purpose = "RS-485 line " + pin
			p.join(End{here, device.PinOf(herePort, pin)}, End{dev, device.PinOf(next, pin)}, Data, why)
		}
		here, herePort = dev, next
		p.terminate(dev, next, r.Ends, i == len(on)-1)
	}
	p.terminate(controller, port, "", true)
}

// busReaders lists the bus readers of a controller's doors, door by door.
func (p *planner) busReaders(c *job.Controller) []*job.Reader {
	var on []*job.Reader
	for _, d := range p.plan.Job.Doors {
		if d.Controller != c {
			continue
		}
		for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
			if r != nil && len(r.Model.PortsOf(device.Bus)) > 0 {
				on = append(on, r)
			}
		}
	}
	return on
}

// lineOhms is the characteristic impedance that TIA-485 lines are terminated with, typically 120 ohm.
const lineOhms unit.Ohm = 120

// terminate sets the terminator of one unit on a line. As written beats what would be right: proof judges it.
func (p *planner) terminate(dev *Device, port, written string, end bool) {
	on := written == "on" || written == "" && end
	if dev.Model.Port(port).Terminator {
		dev.Settings.Terminator = on
		return
	}
	if !on {
		return
	}
	r := p.add(dev.ID+".terminator", "resistor "+lineOhms.String(), device.ResistorModel(lineOhms, endOfLineTolerance),
		dev.Place, dev.Door, whyTerminator)
	p.newGroup()
	p.join(lone(r, "a"), End{dev, device.PinOf(port, "a")}, Data, whyTerminator)
	p.join(lone(r, "b"), End{dev, device.PinOf(port, "b")}, Data, whyTerminator)
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
	out, ok := p.port(controller, device.Output, "sounder", d.Channel, "", fmt.Sprintf("sounder output for door channel %d", d.Channel))
	if ok {
		p.joinPair(ends(controller, out), ends(dev, in), Power, whySounder)
	}
}
