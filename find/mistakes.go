package find

import (
	"fmt"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// Wiring is the class of mistakes made while wiring and fitting, beyond two cores exchanged.
const Wiring fault.Class = "wiring"

// mistakes lists what is wired or fitted otherwise than planned at a door and is in no catalogue of single faults.
func mistakes(plan *wiring.Plan, d *job.Door) []fault.Fault {
	m := &mistaken{plan: plan, door: d}
	m.otherThrow()
	m.otherLock()
	m.resistors()
	m.lines()
	m.charger()
	return m.all
}

type mistaken struct {
	plan *wiring.Plan
	door *job.Door
	all  []fault.Fault
}

func (m *mistaken) put(f fault.Fault) {
	f.Class, f.Door = Wiring, m.door.ID
	m.all = append(m.all, f)
}

// moved takes everything that is landed on one terminal to another node.
func (m *mistaken) moved(from wiring.End, to string) ([]fault.Edit, []*wiring.Conductor) {
	var edits []fault.Edit
	var on []*wiring.Conductor
	for _, w := range m.plan.Conductors {
		other := w.B
		switch {
		case w.A == from:
		case w.B == from:
			other = w.A
		default:
			continue
		}
		if other.Device == nil {
			continue
		}
		on = append(on, w)
		edits = append(edits, fault.Edit{Op: fault.Resist, Conductor: w, Ohms: circuit.OpenOhms},
			fault.Edit{Op: fault.Join, A: other.String(), B: to, Ohms: w.Ohms(20).Nominal})
	}
	return edits, on
}

// otherThrow is the lock on the other contact of its relay.
func (m *mistaken) otherThrow() {
	d := m.plan.Device(m.door.Controller.ID)
	port, ok := d.Model.FindPort(device.Changeover, "lock", m.door.Channel, "")
	if !ok {
		return
	}
	for _, x := range []struct{ from, to string }{{"nc", "no"}, {"no", "nc"}} {
		from, to := wiring.End{Device: d, Pin: device.PinOf(port, x.from)}, wiring.End{Device: d, Pin: device.PinOf(port, x.to)}
		edits, on := m.moved(from, to.String())
		if len(on) == 0 {
			continue
		}
		m.put(fault.Fault{
			ID: "wiring:" + from.String() + "@" + x.to, Edits: edits, At: on, Of: []*wiring.Device{d},
			Name:  fmt.Sprintf("the lock feed is landed on %s in place of %s", to.Label(), from.Label()),
			Where: d.ID + ", terminals " + from.Label() + " and " + to.Label(), Repair: "Move the core to " + from.Label() + ".",
		})
	}
}

// otherLock is a lock made for twice or half the voltage: the same power at twice the voltage takes four times the
// resistance (Ohm's law).
func (m *mistaken) otherLock() {
	for _, l := range m.door.Locks {
		d := m.plan.Device(l.ID)
		for _, port := range d.Model.PortsOf(device.LockCoil) {
			for _, x := range []struct {
				id, says string
				by       float64
			}{{"double", "twice", 4}, {"half", "half", 0.25}} {
				m.put(fault.Fault{
					ID: "wiring:" + d.ID + ":" + x.id, Of: []*wiring.Device{d}, Where: d.ID,
					Name:   d.ID + " is a unit for " + x.says + " the voltage",
					Repair: "Fit the unit that the plan states.",
					Spread: fault.DriftSpread,
					Edits:  []fault.Edit{{Op: fault.Scale, Device: d, Part: device.PinOf(port, "winding"), Factor: x.by}},
				})
			}
		}
	}
}

// resistors are the two end-of-line resistors with their places exchanged: the one that belongs across the contact lies
// across contact and series resistor together.
func (m *mistaken) resistors() {
	for _, across := range m.plan.Devices {
		if across.Door != m.door.ID || len(across.ID) < 7 || across.ID[len(across.ID)-7:] != ".across" {
			continue
		}
		series := m.plan.Device(across.ID[:len(across.ID)-7] + ".series")
		if series == nil {
			continue
		}
		a := wiring.End{Device: across, Pin: "resistor.a"}
		edits, on := []fault.Edit(nil), []*wiring.Conductor(nil)
		var loose []string
		for _, w := range m.plan.Conductors {
			if w.A == a && w.B.Device != nil || w.B == a && w.A.Device != nil {
				other := w.A
				if w.A == a {
					other = w.B
				}
				edits = append(edits, fault.Edit{Op: fault.Resist, Conductor: w, Ohms: circuit.OpenOhms})
				on, loose = append(on, w), append(loose, other.String())
			}
		}
		if len(loose) != 2 {
			continue
		}
		outer := wiring.End{Device: series, Pin: "resistor.b"}
		edits = append(edits, fault.Edit{Op: fault.Join, A: loose[0], B: loose[1], Ohms: jointOhms},
			fault.Edit{Op: fault.Join, A: a.String(), B: outer.String(), Ohms: jointOhms})
		m.put(fault.Fault{
			ID: "wiring:" + across.ID + ":outside", Edits: edits, At: on, Of: []*wiring.Device{across},
			Name:  across.ID + " lies across contact and series resistor together, not across the contact alone",
			Where: across.ID + " and " + series.ID, Repair: "Land " + across.ID + " on the two terminals of the contact.",
		})
	}
}

// jointOhms is a joint made by hand.
const jointOhms unit.Ohm = 2 * wiring.TerminationOhms

// lines are mistakes of buses: no bias, and a driver that a surge has shorted to its common.
func (m *mistaken) lines() {
	for _, d := range m.plan.Devices {
		if d.Door != m.door.ID && d.ID != m.door.Controller.ID {
			continue
		}
		for _, port := range d.Model.PortsOf(device.Bus) {
			if !m.landed(d, device.PinOf(port, "a")) {
				continue
			}
			if d.Model.Port(port).Bias {
				m.put(fault.Fault{
					ID: "wiring:" + d.ID + "." + port + ":no-bias", Of: []*wiring.Device{d}, Where: d.ID + ", its settings",
					Name: d.ID + ": the bias of the line is off", Repair: "Switch the bias on at this unit, and only here.",
					Edits: []fault.Edit{
						{Op: fault.Gate, Device: d, Part: device.PinOf(port, "b-bias")},
						{Op: fault.Gate, Device: d, Part: device.PinOf(port, "a-bias")},
					},
				})
			}
			for _, line := range []string{"a", "b"} {
				end := wiring.End{Device: d, Pin: device.PinOf(port, line)}
				m.put(fault.Fault{
					ID: "wiring:" + end.String() + ":shorted", Of: []*wiring.Device{d}, Where: d.ID + " " + end.Label(),
					Name:   d.ID + ": line driver " + end.Label() + " is short to its common",
					Repair: "Replace the unit, and fit surge protection where the line goes outside.",
					Edits:  []fault.Edit{{Op: fault.Join, A: end.String(), B: d.ID + "." + device.PinOf(port, "common"), Ohms: burntOhms}},
				})
			}
		}
	}
}

// burntOhms is what a surge leaves of a driver: a few ohm (common practice, no source).
const burntOhms unit.Ohm = 10

func (m *mistaken) landed(d *wiring.Device, pin string) bool {
	for _, w := range m.plan.Conductors {
		if w.A.Device == d && w.A.Pin == pin || w.B.Device == d && w.B.Pin == pin {
			return true
		}
	}
	return false
}

// charger is a supply set a tenth too high: 15 V on 12 V gear.
func (m *mistaken) charger() {
	for _, s := range m.door.Supplies() {
		d := m.plan.Device(s.ID)
		for _, port := range d.Model.PortsOf(device.Source) {
			m.put(fault.Fault{
				ID: "wiring:" + d.ID + ":high", Of: []*wiring.Device{d}, Where: d.ID, Name: d.ID + " is set a tenth too high",
				Repair: "Set its output with the battery off; replace it where it cannot be set.",
				Edits:  []fault.Edit{{Op: fault.Scale, Device: d, Part: device.PinOf(port, "supply"), Factor: 1.1}},
			})
		}
	}
}
