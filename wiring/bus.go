package wiring

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// buses lays each RS-485 line of a controller from unit to unit, in the order of the doors, with a terminator at its
// two physical ends: switched on where the unit has one, else added as a resistor.
func (p *planner) buses(c *job.Controller) {
	controller := p.of(&c.Fitted)
	for _, port := range controller.Model.PortsOf(device.Bus) {
		if on := p.busReaders(c, controller, port); len(on) > 0 {
			p.bus(controller, port, on)
		}
	}
}

// bus lays one line.
func (p *planner) bus(controller *Device, port string, on []reader) {
	here, herePort, door := controller, port, doorOf(on)
	for i, r := range on {
		next := r.device.Model.PortsOf(device.Bus)[0]
		var line []*wish
		for _, pin := range []string{"a", "b"} {
			why := whyBus
			why.Purpose = "RS-485 line " + pin
			from, to := pinOf(here, herePort, pin), pinOf(r.device, next, pin)
			line = append(line, p.join(from, to, Data, why))
		}
		line = append(line, p.commonZero(r, next, port)...)
		sideBySide(line...)
		for _, w := range line {
			w.reader, w.door = r.device, door
		}
		here, herePort = r.device, next
		p.terminate(r.device, next, r.Ends, i == len(on)-1)
	}
	p.terminate(controller, port, "", true)
}

// doorOf is the door that all readers of a line belong to; empty when there are several.
func doorOf(on []reader) string {
	for _, r := range on {
		if r.device.Door != on[0].device.Door {
			return ""
		}
	}
	return on[0].device.Door
}

// busReaders lists the readers on a bus port of a controller, door by door.
func (p *planner) busReaders(c *job.Controller, controller *Device, port string) []reader {
	var on []reader
	for _, d := range p.doors[c] {
		for _, r := range p.readersOf(d) {
			if !has(r.device, device.Bus) {
				continue
			}
			if at, ok := controller.Model.FindPort(device.Bus, "", r.channel, r.side); ok && at == port {
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
	r := p.addBeside(dev, dev.Door, resistor(dev.ID+".terminator", lineOhms, whyTerminator))
	p.join(lone(r, "a"), pinOf(dev, port, "a"), Data, whyTerminator)
	p.join(lone(r, "b"), pinOf(dev, port, "b"), Data, whyTerminator)
}
