package situation

import (
	"doorwright/circuit"
	"doorwright/device"
)

// overloadShare is the share of its limit from which a supply counts as overloaded: the limit sets in smoothly.
const overloadShare = 0.95

// InLimit says that a supply with mains gives all it can.
func (b *Bench) InLimit() bool {
	for i := range b.island.sources {
		p := &b.island.sources[i]
		if b.Signal(p.Unit, "mains") && float64(b.Amps(p)) >= overloadShare*float64(p.Port.Limit) {
			return true
		}
	}
	return false
}

// Overloaded says that a supply with mains gives all it can, that more flows through a fuse than it is rated for, or
// that one has opened.
func (b *Bench) Overloaded() bool {
	for i := range b.island.fuses {
		f := &b.island.fuses[i]
		if b.on[f.blown] || b.Amps(&f.Probe) > f.Port.Fused() {
			return true
		}
	}
	return b.InLimit()
}

// RunsID says that the unit of an id has the power it needs.
func (b *Bench) RunsID(id string) bool {
	u := b.island.byID[id]
	return u != nil && b.Runs(u)
}

// fuseAt is a fuse of a unit, with its signals as slots.
type fuseAt struct {
	Probe
	over, blown int
}

// findFuses lists the fuses of the island, in the order of its units.
func (is *Island) findFuses() []fuseAt {
	var all []fuseAt
	for _, p := range is.probes(device.Output, device.Fuse) {
		if p.Port.Fused() <= 0 {
			continue
		}
		f := fuseAt{Probe: p}
		for _, i := range p.Unit.slots {
			switch is.slots[i].name {
			case device.LineSignal(p.PortName, device.FuseOver):
				f.over = i
			case device.LineSignal(p.PortName, device.FuseBlown):
				f.blown = i
			}
		}
		all = append(all, f)
	}
	return all
}

// nextFuse is the fuse that moves next, and whether it opens: of those that carry what opens them the one that carries
// most for its size, which is the first to go and may save the others, or a resettable one whose load is gone. Nil when
// none does.
func (b *Bench) nextFuse() (fuse *fuseAt, open bool) {
	if b.outcome.Circuit.Outcome != circuit.Converged {
		return nil, false // currents of no operating point
	}
	most := 1.0 // a switch that is open in line with the fuse has the voltage, but no current
	for i := range b.island.fuses {
		f := &b.island.fuses[i]
		if !b.isNear(f.Unit) {
			continue
		}
		over := b.sys.SenseOn(b.island.slots[f.over].sense)
		switch blown := b.on[f.blown]; {
		case blown && !over && !f.Port.Stays():
			return f, false
		case over && !blown:
			if share := float64(b.Amps(&f.Probe)) / float64(f.Port.Fused()); share > most {
				fuse, most = f, share
			}
		}
	}
	return fuse, fuse != nil
}

// turn opens a fuse, or closes it; nothing moves when a fault holds it.
func (b *Bench) turn(f *fuseAt, open bool) []string {
	b.put(f.blown, open)
	if b.on[f.blown] != open {
		return nil
	}
	return []string{f.name()}
}

// name is that of the fuse: unit and port.
func (f *fuseAt) name() string { return f.Unit.Device.ID + "." + f.PortName }

// Blown names the fuses that have opened, by unit and port, in the order of the units.
func (b *Bench) Blown() []string {
	var all []string
	for i := range b.island.fuses {
		if f := &b.island.fuses[i]; b.on[f.blown] {
			all = append(all, f.name())
		}
	}
	return all
}

// HasBlown says that the fuse of a port has opened; false for a port without one.
func (b *Bench) HasBlown(p *Probe) bool {
	for i := range b.island.fuses {
		if f := &b.island.fuses[i]; f.element == p.element {
			return b.on[f.blown]
		}
	}
	return false
}
