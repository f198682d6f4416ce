package fault

import (
	"slices"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/wiring"
)

// parts lists the parts of every unit open, short, stuck, welded or drifted. Junctions and the 0 V area of a unit are
// pieces of metal; what is inside its electronics beyond inputs, outputs and data lines is not taken apart further.
func (c *lister) parts() {
	for _, d := range c.devices {
		for _, e := range d.Model.Ports {
			if c.ofPort(d, e.Key) && c.inUse(d, e.Key) {
				c.port(d, e.Key, e.Value.Is)
			}
		}
		if d.Door == c.door {
			c.dead(d)
		}
		c.stuckSignals(d)
		c.stuckRelays(d)
	}
}

// inUse says that something is landed on a port. A pin that has no terminal of its own counts with those it has.
func (c *lister) inUse(d *wiring.Device, port string) bool { return len(c.onPort(d, port)) > 0 }

// port lists the faults of what stands behind one port.
func (c *lister) port(d *wiring.Device, port string, is device.PortType) {
	switch is {
	case device.Coil, device.LockCoil:
		c.winding(d, port)
	case device.Contact, device.Changeover:
		c.contact(d, port)
	case device.Resistor:
		c.resistor(d, port)
	case device.Diode:
		c.twoLegs(d, port, "diode")
		c.reversedDiode(d, port)
	case device.Clamp:
		c.twoLegs(d, port, "clamp")
	case device.Fuse:
		c.part(d, port, "link", "open", "fuse is blown", "Find what blew it, then replace the fuse by one of the same rating.",
			opened(d, port, "link"))
	case device.Through:
		c.ways(d, port)
	case device.Earth:
		c.part(d, port, "bond", "open", "bond to earth is lost", "Bond the unit to earth again.", opened(d, port, "bond"))
	case device.Load:
		c.part(d, port, "draw", "short", "its power input is short", "Replace the unit.", shorted(d, port, "draw"))
	case device.Input, device.PulseIn:
		c.pullUps(d, port)
	case device.PulseOut, device.SerialPort, device.Bus:
		c.drivers(d, port)
	case device.Battery:
		c.transfer(d, port)
	}
}

// A part that has less or more of its value than this is open or short, not drifted.
const (
	leastDrift = 0.1
	mostDrift  = 10
)

// part is one fault of one part. How: what it does, as the id has it. Without edits there is none.
func (c *lister) part(d *wiring.Device, port, part, how, says, repair string, edits []Edit) {
	if len(edits) == 0 {
		return
	}
	full := device.PinOf(port, part)
	spread := 0.0
	if f := edits[0].Factor; edits[0].Op == Scale && f > leastDrift && f < mostDrift {
		spread = DriftSpread
	}
	c.put(Fault{
		ID: "part:" + nodeOf(d, full) + ":" + how, Class: Part, Name: d.ID + ": " + says, Where: title(d) + ", " + full,
		Repair: repair, Spread: spread, Edits: edits, At: c.onPort(d, port), Of: []*wiring.Device{d},
	})
}

// partNamed finds a part of a unit.
func partNamed(d *wiring.Device, name string) (device.Part, bool) {
	parts := d.Model.Parts(&d.Settings)
	i := slices.IndexFunc(parts, func(p device.Part) bool { return p.Name == name })
	if i < 0 {
		return device.Part{}, false
	}
	return parts[i], true
}

// opened is a resistance interrupted.
func opened(d *wiring.Device, port, part string) []Edit {
	p, ok := partNamed(d, device.PinOf(port, part))
	if !ok || p.Ohms <= 0 {
		return nil
	}
	return scaled(d, port, part, float64(circuit.OpenOhms/p.Ohms))
}

func scaled(d *wiring.Device, port, part string, factor float64) []Edit {
	return []Edit{{Op: Scale, Device: d, Part: device.PinOf(port, part), Factor: factor}}
}

// shorted is a part with both ends joined.
func shorted(d *wiring.Device, port, part string) []Edit {
	p, ok := partNamed(d, device.PinOf(port, part))
	if !ok {
		return nil
	}
	return []Edit{{Op: Join, A: nodeOf(d, p.A), B: nodeOf(d, p.B), Ohms: BridgeOhms}}
}

func gate(d *wiring.Device, port, part string, on bool) Edit {
	return Edit{Op: Gate, Device: d, Part: device.PinOf(port, part), On: on}
}

// halfShorted is what is left of a winding or resistor of which half has gone.
const halfShorted = 0.5

// winding lists the faults of a coil or lock, and of the suppressor built into it. One that is open changes nothing while
// the current is steady: no meter shows it before the contact that switches the winding is burnt.
func (c *lister) winding(d *wiring.Device, port string) {
	const repair = "Replace the unit."
	c.part(d, port, "winding", "open", "winding is open", repair, opened(d, port, "winding"))
	c.part(d, port, "winding", "half", "half of the winding is short", repair, scaled(d, port, "winding", halfShorted))
	c.part(d, port, "winding", "short", "winding is short", repair, shorted(d, port, "winding"))
	for _, suppressor := range []string{"diode", "clamp"} {
		c.part(d, port, suppressor, "short", "built-in "+suppressor+" is short", repair, shorted(d, port, suppressor))
		if _, ok := partNamed(d, device.PinOf(port, suppressor)); ok {
			c.part(d, port, suppressor, "open", "built-in "+suppressor+" is open",
				"Fit a "+suppressor+" across the terminals; look at the contact that switches it.", []Edit{gate(d, port, suppressor, false)})
		}
	}
}

// resistor lists the faults of a resistor: cracked, bridged, overheated, or one of another value fitted.
func (c *lister) resistor(d *wiring.Device, port string) {
	const repair = "Replace the resistor by one of the value the plan states."
	c.part(d, port, "resistor", "open", "resistor is open", repair, opened(d, port, "resistor"))
	c.part(d, port, "resistor", "short", "resistor is short", repair, shorted(d, port, "resistor"))
	c.part(d, port, "resistor", "x2", "resistor has twice its value", repair, scaled(d, port, "resistor", 2))
	c.part(d, port, "resistor", "x0.5", "resistor has half its value", repair, scaled(d, port, "resistor", halfShorted))
}

// twoLegs lists the faults of a diode or clamp that is a component of its own. Open is one leg off: the component has
// no resistance to be raised.
func (c *lister) twoLegs(d *wiring.Device, port, part string) {
	p, ok := partNamed(d, device.PinOf(port, part))
	if !ok {
		return
	}
	off := cutAll(c.landed[wiring.End{Device: d, Pin: p.A}])
	c.part(d, port, part, "open", part+" is open", "Replace the "+part+".", off)
	c.part(d, port, part, "short", part+" is short", "Replace the "+part+".", shorted(d, port, part))
}

func (c *lister) reversedDiode(d *wiring.Device, port string) {
	if moves := c.reversed(d, device.PinOf(port, "anode"), device.PinOf(port, "cathode")); len(moves) > 0 {
		c.part(d, port, "diode", "reversed", "diode is the wrong way round",
			"Turn the diode round: its ring, the cathode, towards plus; replace it if it has carried the feed.",
			exchanged(moves...))
	}
}

// ways lists the broken ways of a door loop: it bends with every opening.
func (c *lister) ways(d *wiring.Device, port string) {
	for _, p := range d.Model.Parts(&d.Settings) {
		name, part := device.SplitPin(p.Name)
		on := slices.Concat(c.landed[wiring.End{Device: d, Pin: p.A}], c.landed[wiring.End{Device: d, Pin: p.B}])
		if name != port || len(on) == 0 {
			continue
		}
		c.put(Fault{
			ID: "part:" + nodeOf(d, p.Name) + ":open", Class: Part, Name: d.ID + ": " + part + " of the door loop is broken",
			Where: title(d) + ", " + p.Name, Repair: "Replace the door loop.",
			Edits: opened(d, port, part), At: on, Of: []*wiring.Device{d},
		})
	}
}

// transfer lists the faults of what puts the battery of a supply on its output.
func (c *lister) transfer(d *wiring.Device, port string) {
	if _, ok := partNamed(d, device.PinOf(port, "transfer")); !ok {
		return
	}
	c.part(d, port, "transfer", "open", "battery is never put on the output",
		"Look for a blown battery fuse, then replace the supply.", []Edit{gate(d, port, "transfer", false)})
	c.part(d, port, "transfer", "closed", "battery is always on the output", "Replace the supply.",
		[]Edit{gate(d, port, "transfer", true)})
}
