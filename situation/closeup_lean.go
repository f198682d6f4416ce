package situation

import "doorwright/circuit"

// On is the closeup of the same door leaning on other frames, of the same island and case with a fault in it. It reads c
// only, so that several may be made at once.
func (c *Closeup) On(fs *Frames) *Closeup {
	o := &Closeup{frames: fs, door: c.door, near: c.near, tree: c.tree, plain: c.plain, nodes: c.nodes, region: c.region, slots: c.slots}
	if sys := fs.idle.bench.sys; sys.Analysis() != c.frames.idle.bench.sys.Analysis() {
		o.region = sys.Region(c.nodes)
	}
	if fs.idle.bench.fault != nil { // one run only: a frame more would cost as much as the whole island once
		o.tree = o.plain
	}
	o.lead()
	idle := fs.idle.bench
	o.bench = &Bench{Case: fs.c, island: fs.is, near: o.near, units: c.bench.units}
	o.held, o.inputs = idle.forced, idle.inputs
	return o
}

// Sound is the island in its undisturbed state, without any fault but those of its frames. It must not be changed.
func (c *Closeup) Sound() *Bench { return c.frames.still }

// IsWhole says that a bench has the whole island, and not only what is near a door.
func (b *Bench) IsWhole() bool { return b.near == nil }

// stand puts the door where it stands in the present frame.
func (c *Closeup) stand(region *circuit.Region) {
	b, f := c.bench, c.at.bench
	for _, k := range c.slots {
		b.on[k] = f.on[k]
		b.sys.Set(b.island.slots[k].sw, f.on[k])
	}
	for _, u := range b.units {
		b.mem[u.index] = f.mem[u.index]
	}
	c.local.Load(c.at.rest[region])
	b.now, b.outcome, b.stale, b.gone = f.now, f.outcome, f.stale, true
}
