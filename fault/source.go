package fault

import (
	"slices"

	"doorwright/device"
	"doorwright/wiring"
)

// lowShare is what a supply or battery that is failing still gives: four fifths of its voltage, below what most units
// are specified for (common practice, no source).
const lowShare = 0.8

// sources lists every supply and battery off, low and reversed, and every power output of a unit off.
func (c *lister) sources() {
	for _, d := range c.devices {
		for _, e := range d.Model.Ports {
			if !c.ofPort(d, e.Key) {
				continue
			}
			switch {
			case e.Value.Is == device.Source:
				c.source(d, e.Key, "supply", "Replace the supply.")
			case e.Value.Is == device.Battery && e.Value.From == "":
				c.source(d, e.Key, "cells", "Replace the battery.")
			case e.Value.Is == device.Output:
				c.outputOff(d, e.Key)
			}
		}
	}
}

func (c *lister) source(d *wiring.Device, port, part, repair string) {
	full := device.PinOf(port, part)
	on := c.onPort(d, port)
	c.put(Fault{
		ID: "source:" + nodeOf(d, full) + ":off", Class: Source, Name: title(d) + " gives nothing",
		Where: d.ID, Repair: repair, Edits: []Edit{{Op: Gate, Device: d, Part: full}}, At: on, Of: []*wiring.Device{d},
	}, Fault{
		ID: "source:" + nodeOf(d, full) + ":low", Class: Source, Name: title(d) + " gives four fifths of its voltage",
		Where: d.ID, Repair: repair, Spread: sourceSpread, Edits: []Edit{{Op: Scale, Device: d, Part: full, Factor: lowShare}},
		At: on, Of: []*wiring.Device{d},
	})
	if moves := c.reversed(d, device.PinOf(port, "plus"), device.PinOf(port, "minus")); len(moves) > 0 {
		c.put(Fault{
			ID: "source:" + nodeOf(d, full) + ":reversed", Class: Source,
			Name:   title(d) + " is connected the wrong way round",
			Where:  d.ID + ", its two terminals",
			Repair: "Exchange the conductors of its two terminals; look for what the wrong polarity has damaged.",
			Edits:  exchanged(moves...), At: on, Of: []*wiring.Device{d},
		})
	}
}

// reversed takes everything that is landed on one of two terminals to the other. Empty when one of them is bare.
func (c *lister) reversed(d *wiring.Device, pin, other string) []landing {
	a, b := wiring.End{Device: d, Pin: pin}, wiring.End{Device: d, Pin: other}
	if len(c.landed[a]) == 0 || len(c.landed[b]) == 0 {
		return nil
	}
	var moves []landing
	for _, w := range c.landed[a] {
		moves = append(moves, landing{w, a, b})
	}
	for _, w := range c.landed[b] {
		moves = append(moves, landing{w, b, a})
	}
	return moves
}

// outputOff is a power output in use that gives nothing: by its own switch, or without one by its conductors.
func (c *lister) outputOff(d *wiring.Device, port string) {
	plus := wiring.End{Device: d, Pin: device.PinOf(port, "plus")}
	on := c.landed[plus]
	if len(on) == 0 {
		return
	}
	edits := cutAll(on)
	part := device.PinOf(port, "pass")
	if gated(d, part) {
		edits = []Edit{{Op: Gate, Device: d, Part: part}}
	}
	c.put(Fault{
		ID: "source:" + nodeOf(d, port) + ":off", Class: Source, Name: "output " + spot(plus) + " gives nothing",
		Where: spot(plus), Repair: "Find what overloaded the output or blew its fuse, then replace the fuse or the unit.",
		Edits: edits, At: slices.Clone(on), Of: []*wiring.Device{d},
	})
}

// gated says that a unit has a part of that name which its signals switch.
func gated(d *wiring.Device, name string) bool {
	for _, p := range d.Model.Parts(&d.Settings) {
		if p.Name == name {
			return len(p.When) > 0
		}
	}
	return false
}
