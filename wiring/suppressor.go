package wiring

import (
	"doorwright/device"
	"doorwright/unit"
)

// suppress fits a suppressor across a winding when its model has none and the job names or refuses none. A clamp is
// chosen for a fail-safe lock, since a plain diode keeps the current flowing and slows release several times over; a
// diode, which wears contacts least, does for the others.
func (p *planner) suppress(d *Device, is device.PortType, named string) {
	name, ok := d.Model.FindPort(is, "", 0, "")
	if !ok {
		return
	}
	port := d.Model.Port(name)
	if named == "" && (port.Suppressor == "" || port.Suppressor == "none") {
		named = "diode"
		if port.Action == device.FailSafe {
			named = "clamp"
		}
	}
	winding := ends(d, name)
	switch named {
	case "clamp":
		clamp := device.ClampModel(clampFor(port.Nominal))
		s := p.addBeside(d, p.doorID(), part{d.ID + ".clamp", "clamp", clamp, whySuppressor})
		p.across(winding, lone(s, "a"), lone(s, "b"))
	case "diode":
		s := p.addBeside(d, p.doorID(), part{d.ID + ".diode", "diode", device.DiodeModel(), whySuppressor})
		p.across(winding, lone(s, "cathode"), lone(s, "anode"))
	}
}

// across lands a suppressor on a winding.
func (p *planner) across(winding pair, plus, minus End) {
	p.join(plus, winding.plus, Power, whySuppressor)
	p.join(minus, winding.minus, Power, whySuppressor)
}

// clampFor is the clamp voltage for a winding of a nominal voltage: above the highest float voltage of a lead-acid
// system (14.1 V for 12 V, 28.2 V for 24 V, cold; from memory) with room to spare, so that it idles at rest.
func clampFor(nominal unit.Volt) unit.Volt {
	if nominal > 18 {
		return 39
	}
	return 22
}
