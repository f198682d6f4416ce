package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
)

// leaf finds what is in the leaf of a door: its loop is the only way there. A lock with handles is in the leaf, and so
// is an exit device that is said to be on one and is wired at the loop.
func (p *planner) leaf(d *job.Door) {
	var loop *Device
	if d.Loop != nil {
		loop = p.of(d.Loop)
	}
	for _, l := range d.Locks {
		if l.Model.Kind != "handle-lock" {
			continue
		}
		if loop == nil || loop.Leaf != l.Leaf {
			p.problem(d.ID, fmt.Sprintf("%s is in leaf %d, and no door loop goes there", l.ID, l.Leaf),
				"add a door loop to that leaf")
			continue
		}
		p.of(&l.Fitted).over = loop
	}
	for _, e := range d.Exits {
		if loop != nil && e.Leaf == loop.Leaf && e.Place == loop.Place {
			p.of(&e.Fitted).over = loop
		}
	}
}

// crossing is the door loop between two devices; nil when both are on the
// frame or in the leaf.
func crossing(a, b *Device) *Device {
	switch {
	case a.over == b.over, a == b.over, b == a.over: // the loop itself is at home on both
		return nil
	case a.over != nil:
		return a.over
	}
	return b.over
}

// nextWay takes the next way of a door loop: its ends on the frame and on the leaf.
func (p *planner) nextWay(loop *Device) (frame, leaf End, ok bool) {
	n := p.ways[loop]
	p.ways[loop]++
	for _, name := range loop.Model.PortsOf(device.Through) {
		ways := loop.Model.Port(name).Ways
		if n < ways {
			way := func(side string) End { return End{loop, device.PinOf(name, fmt.Sprint(n+1)+side)} }
			return way("a"), way("b"), true
		}
		n -= ways
	}
	return End{}, End{}, false
}

// loop reports a door loop that has too few ways.
func (p *planner) loop(d *job.Door) {
	if d.Loop == nil {
		return
	}
	loop, has := p.of(d.Loop), 0
	for _, name := range loop.Model.PortsOf(device.Through) {
		has += loop.Model.Port(name).Ways
	}
	if needs := p.ways[loop]; needs > has {
		p.problem(d.ID, fmt.Sprintf("%s has %d ways, and what is in the leaf needs %d", named(loop), has, needs),
			"fit a door loop with more ways")
	}
}
