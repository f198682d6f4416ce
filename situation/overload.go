package situation

import "doorwright/device"

// overloadShare is the share of its limit from which a supply counts as overloaded: the limit sets in smoothly.
const overloadShare = 0.95

// Overloaded says that a supply with mains gives all it can, or that more flows through a fuse than it is rated for.
func (b *Bench) Overloaded() bool {
	for i := range b.island.guarded {
		p := &b.island.guarded[i]
		amps := float64(b.Amps(p))
		if p.Port.Is == device.Source && b.Signal(p.Unit, "mains") && amps >= overloadShare*float64(p.Port.Limit) ||
			p.Port.Is == device.Fuse && amps > float64(p.Port.Rating) {
			return true
		}
	}
	return false
}

// RunsID says that the unit of an id has the power it needs.
func (b *Bench) RunsID(id string) bool {
	u := b.island.byID[id]
	return u != nil && b.Runs(u)
}
