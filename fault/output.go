package fault

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// outputs lists every output of a controller or board stuck either way, and every one of them hung.
func (c *lister) outputs() {
	for _, d := range c.devices {
		if d.Role != job.RoleController && d.Role != job.RoleBoard {
			continue
		}
		var moved []string
		for _, e := range d.Model.Ports {
			signal := d.Model.SignalOf(e.Key)
			if signal == "" || slices.Contains(moved, signal) || len(c.onPort(d, e.Key)) == 0 || !c.ofPort(d, e.Key) {
				continue
			}
			moved = append(moved, signal)
			c.stuckOutput(d, e.Key, signal)
		}
		c.hung(d)
	}
}

func (c *lister) stuckOutput(d *wiring.Device, port, signal string) {
	for _, way := range []struct {
		id, word string
		on       bool
	}{{"on", "on", true}, {"off", "off", false}} {
		c.put(Fault{
			ID: fmt.Sprintf("output:%s:%s", nodeOf(d, signal), way.id), Class: Output,
			Name:  fmt.Sprintf("output %s of %s is stuck %s", port, d.ID, way.word),
			Where: d.ID + ", " + labels(d, port), Repair: "Replace the unit.",
			Edits: []Edit{{Op: Force, Device: d, Signal: signal, On: way.on}},
			At:    c.onPort(d, port), Of: []*wiring.Device{d},
		})
	}
}

// hung is a unit with a program that stands still. One that several doors share is a fault of all of them.
func (c *lister) hung(d *wiring.Device) {
	if d.Door != c.door || !slices.Contains(d.Model.World(), "hung") || !programmed(d.Model) {
		return
	}
	c.put(Fault{
		ID: "output:" + d.ID + ":hung", Class: Output, Name: title(d) + " hangs", Where: d.ID,
		Repair: "Take its supply away for a minute; when it hangs again, replace it.",
		Edits:  []Edit{{Op: Force, Device: d, Signal: "hung", On: true}}, Of: []*wiring.Device{d},
	})
}

// programmed says that something of the unit hangs on a program: not so where relay contacts in the circuit of the fire
// line switch all its outputs.
func programmed(m *device.Model) bool {
	for _, name := range m.PortsOf(device.Output) {
		if p := m.Port(name); p.Driven != "" && p.By == device.ByElectronics {
			return true
		}
	}
	return m.Channels() > 0
}

// labels are the labels of the terminals of a port: "terminals C and NO".
func labels(d *wiring.Device, port string) string {
	var all string
	for i, pin := range pinsOf(d, port) {
		if i > 0 {
			all += ", "
		}
		all += wiring.End{Device: d, Pin: pin}.Label()
	}
	return "terminals " + all
}
