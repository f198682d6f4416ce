package wiring

import (
	"strings"

	"doorwright/device"
	"doorwright/job"
)

// Landing is one end of a conductor on a terminal.
type Landing struct {
	Device    *Device
	Terminal  device.Terminal
	Conductor *Conductor
	Far       End    // its other end
	Door      string // it is landed for this door; empty when several share it
}

// Landings lists what lands on every terminal, in the order of the devices and of their strips.
func (p *Plan) Landings() []Landing { return p.landingsOf(func(*Conductor) bool { return true }) }

// LandingsFor lists what lands of the conductors that serve a door, in the same order.
func (p *Plan) LandingsFor(d *job.Door) []Landing {
	return p.landingsOf(func(c *Conductor) bool { return c.Serves(d) })
}

// LandingsByDoor is what LandingsFor lists, for every door at once, by its id.
func (p *Plan) LandingsByDoor() map[string][]Landing {
	serves := map[*Conductor][]string{}
	for _, c := range p.Conductors {
		if c.Door != "" {
			serves[c] = []string{c.Door}
			continue
		}
		for _, d := range p.Job.Doors {
			if c.Serves(d) {
				serves[c] = append(serves[c], d.ID)
			}
		}
	}
	by := map[string][]Landing{}
	for _, l := range p.Landings() {
		for _, door := range serves[l.Conductor] {
			by[door] = append(by[door], l)
		}
	}
	return by
}

func (p *Plan) landingsOf(wanted func(*Conductor) bool) []Landing {
	on := map[End][]Landing{}
	for _, c := range p.Conductors {
		if !wanted(c) {
			continue
		}
		for _, ends := range [][2]End{{c.A, c.B}, {c.B, c.A}} {
			d := ends[0].Device
			if d == nil {
				continue
			}
			door := d.Door
			if door == "" {
				door = c.Door
			}
			on[ends[0]] = append(on[ends[0]], Landing{Device: d, Conductor: c, Far: ends[1], Door: door})
		}
	}
	var all []Landing
	for _, d := range p.Devices {
		for _, t := range d.Model.Strip {
			for _, l := range on[End{d, t.Pin}] {
				l.Terminal = t
				all = append(all, l)
			}
		}
	}
	return all
}

// Serves says that the conductor is there for a door: for it alone, or for its controller, whatever door that serves.
func (c *Conductor) Serves(d *job.Door) bool {
	return c.Door == d.ID || c.Door == "" && (c.A.near(d) || c.B.near(d))
}

// near says that the end is on a device of the door, on its controller, or on what was added at that.
func (e End) near(d *job.Door) bool {
	x := e.Device
	return x != nil && (x.Door == d.ID || x.ID == d.Controller.ID ||
		x.Added != nil && strings.HasPrefix(x.ID, d.Controller.ID+"."))
}
