package fault

import (
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// pullUps lists the pull-ups of an input or data port lost.
func (c *lister) pullUps(d *wiring.Device, port string) {
	for _, p := range d.Model.Parts(&d.Settings) {
		name, part := device.SplitPin(p.Name)
		if name == port && strings.HasSuffix(part, "-pull-up") && len(p.When) > 0 {
			c.part(d, port, part, "open", "input "+wiring.End{Device: d, Pin: p.A}.Label()+" has lost its pull-up",
				"Use another input, or replace the unit.", []Edit{gate(d, port, part, false)})
		}
	}
}

// drivers lists what sends on a data line dead, and stuck sending.
func (c *lister) drivers(d *wiring.Device, port string) {
	var dead []Edit
	for _, p := range d.Model.Parts(&d.Settings) {
		name, part := device.SplitPin(p.Name)
		if name != port || !sends(p, port) {
			continue
		}
		dead = append(dead, gate(d, port, part, false))
		c.part(d, port, part, "on", "port "+port+" sends without end ("+part+")", "Replace the unit.",
			[]Edit{gate(d, port, part, true)})
	}
	c.part(d, port, "driver", "dead", "port "+port+" sends nothing", "Replace the unit.", dead)
}

// sends says that a part is switched by a signal of its own port.
func sends(p device.Part, port string) bool {
	for _, w := range p.When {
		if strings.HasPrefix(w.Signal, port+".") {
			return true
		}
	}
	return false
}

// dead is a unit that takes power and does nothing: a reader, a sensor, a sounder. It draws nothing, sends nothing and
// lets go of what its electronics hold. A controller or board without power is a matter of its supply.
func (c *lister) dead(d *wiring.Device) {
	running := d.Model.Running()
	if running == "" || !c.inUse(d, running) || d.Role == job.RoleController || d.Role == job.RoleBoard {
		return
	}
	var edits []Edit
	for _, p := range d.Model.Parts(&d.Settings) {
		if len(p.When) > 0 && p.Is != device.PartContact || sendsAny(d.Model, p) {
			edits = append(edits, Edit{Op: Gate, Device: d, Part: p.Name})
		}
	}
	if k := device.KindOf(d.Model.Kind); k != nil {
		for _, signal := range k.Signals {
			edits = append(edits, Edit{Op: Force, Device: d, Signal: signal})
		}
	}
	c.put(Fault{
		ID: "part:" + d.ID + ":dead", Class: Part, Name: title(d) + " is dead", Where: d.ID, Repair: "Replace the unit.",
		Edits: edits, At: c.onPort(d, running), Of: []*wiring.Device{d},
	})
}

// sendsAny says that a part sends on a data line of its own port.
func sendsAny(m *device.Model, p device.Part) bool {
	port, _ := device.SplitPin(p.Name)
	q := m.Port(port)
	return q != nil && sends(p, port)
}
