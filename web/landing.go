package web

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// landing is one end of a conductor on a terminal, for a door.
type landing struct {
	device   *wiring.Device
	terminal device.Terminal
	wire     *wiring.Conductor
	far      wiring.End
}

// landingsOf lists what lands for a door, device by device in the order of the strips: what serves it, and what serves its
// controller for whatever door.
func landingsOf(plan *wiring.Plan, d *job.Door) []landing {
	type key struct{ device, pin string }
	on := map[key][]landing{}
	for _, c := range plan.Conductors {
		if c.Door != d.ID && (c.Door != "" || !nearDoor(c.A.Device, d) && !nearDoor(c.B.Device, d)) {
			continue
		}
		for _, ends := range [][2]wiring.End{{c.A, c.B}, {c.B, c.A}} {
			if x := ends[0].Device; x != nil {
				k := key{x.ID, ends[0].Pin}
				on[k] = append(on[k], landing{device: x, wire: c, far: ends[1]})
			}
		}
	}
	var all []landing
	for _, x := range plan.Devices {
		for _, t := range x.Model.Strip {
			for _, l := range on[key{x.ID, t.Pin}] {
				l.terminal = t
				all = append(all, l)
			}
		}
	}
	return all
}

// nearDoor says that a device is of the door or of its controller.
func nearDoor(x *wiring.Device, d *job.Door) bool {
	return x != nil && (x.Door == d.ID || x.ID == d.Controller.ID || strings.HasPrefix(x.ID, d.Controller.ID+"."))
}

// wireName names a conductor as it is found on site: run, core and colour.
func wireName(c *wiring.Conductor) string {
	switch c.Kind {
	case wiring.Core:
		return fmt.Sprintf("%s/%d %s", c.Run.ID, c.Core.Index, c.Core.Colour)
	case wiring.Screen:
		return c.Run.ID + " screen"
	}
	return string(c.Kind)
}

// endName names a terminal as it is found on site: device and label.
func endName(e wiring.End) string {
	if e.Device == nil {
		return "insulated"
	}
	return e.Device.ID + " " + e.Label()
}
