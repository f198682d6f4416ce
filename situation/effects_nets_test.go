package situation_test

import (
	"doorwright/device"
	"doorwright/situation"
	"doorwright/wiring"
)

// nets is which terminals conductors and junctions join.
type nets map[string]string

// netsOf joins the ends of conductors, and the ways of whatever passes them on.
func netsOf(devices []*wiring.Device, conductors []*wiring.Conductor) nets {
	n := nets{}
	for _, d := range devices {
		for _, e := range d.Model.Ports {
			pin := func(name string) string { return wiring.End{Device: d, Pin: device.PinOf(e.Key, name)}.String() }
			pins := device.Pins(e.Value)
			switch e.Value.Is {
			case device.Bar:
				for _, p := range pins[1:] {
					n.join(pin(pins[0]), pin(p))
				}
			case device.Through:
				for i := 0; i+1 < len(pins); i += 2 {
					n.join(pin(pins[i]), pin(pins[i+1]))
				}
			}
		}
	}
	for _, c := range conductors {
		if c.B.Device != nil {
			n.join(c.A.String(), c.B.String())
		}
	}
	return n
}

func (n nets) root(pin string) string {
	for n[pin] != "" {
		pin = n[pin]
	}
	return pin
}

func (n nets) join(a, b string) {
	if a, b = n.root(a), n.root(b); a != b {
		n[a] = b
	}
}

// looseScreens lists the screens of runs in use that no conductor joins with an earth terminal.
func looseScreens(p *wiring.Plan) []string {
	n := netsOf(p.Devices, p.Conductors)
	earthed := map[string]bool{}
	for _, d := range p.Devices {
		for _, port := range d.Model.PortsOf(device.Earth) {
			earthed[n.root(wiring.End{Device: d, Pin: device.PinOf(port, "earth")}.String())] = true
		}
	}
	tied, used := map[string]bool{}, map[string]bool{}
	for _, c := range p.Conductors {
		switch {
		case c.Kind == wiring.Screen && earthed[n.root(c.A.String())]:
			tied[c.Run.ID] = true
		case c.Kind == wiring.Core && len(c.Run.Type.Screens()) > 0:
			used[c.Run.ID] = true
		}
	}
	var loose []string
	for _, id := range sortedKeys(used) {
		if !tied[id] {
			loose = append(loose, id)
		}
	}
	return loose
}

// firstFree names a winding of an island that has neither a suppressor built in nor its own one across it, with one
// conductor cut. That of another winding on the same feed is too far away to count.
func firstFree(is *situation.Island, cut *wiring.Conductor) string {
	var devices []*wiring.Device
	for _, u := range is.Units {
		devices = append(devices, u.Device)
	}
	var conductors []*wiring.Conductor
	for _, c := range is.Conductors {
		if c != cut {
			conductors = append(conductors, c)
		}
	}
	n := netsOf(devices, conductors)
	type ends struct{ id, a, b string }
	across := map[ends]bool{}
	for _, d := range devices {
		for _, e := range d.Model.Ports {
			if is := e.Value.Is; is == device.Diode || is == device.Clamp {
				pins := device.Pins(e.Value)
				a := n.root(wiring.End{Device: d, Pin: device.PinOf(e.Key, pins[0])}.String())
				b := n.root(wiring.End{Device: d, Pin: device.PinOf(e.Key, pins[1])}.String())
				across[ends{d.ID, a, b}], across[ends{d.ID, b, a}] = true, true
			}
		}
	}
	for _, d := range devices {
		for _, e := range d.Model.Ports {
			if is := e.Value.Is; is != device.LockCoil && is != device.Coil || e.Value.Suppressor != "none" && e.Value.Suppressor != "" {
				continue
			}
			plus := n.root(wiring.End{Device: d, Pin: device.PinOf(e.Key, "plus")}.String())
			minus := n.root(wiring.End{Device: d, Pin: device.PinOf(e.Key, "minus")}.String())
			if !across[ends{d.ID + ".diode", plus, minus}] && !across[ends{d.ID + ".clamp", plus, minus}] {
				return d.ID
			}
		}
	}
	return ""
}
