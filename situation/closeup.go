package situation

import (
	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/unit"
)

// Closeup takes one door of an island through sequences again and again, each time with another fault, while the rest
// of the island stands as it does without any. Where a fault moves the rest as well, it goes on with the whole island.
// It is for one goroutine.
type Closeup struct {
	frames *Frames
	door   *job.Door
	tree   *tree
	stands []*frame // by node of the tree
	near   []bool
	nodes  []circuit.Node
	region *circuit.Region
	bench  *Bench
	slots  []int // of what is near, those that follow no voltage
	at     *frame
	local  *circuit.Local
	fault  *fault.Fault
	used   []*frame // frames the fault was put into
	strays bool     // the fault moves the rest of the island
	spare  []*nearState
	Wide   int // how many faults had to be tried on the whole island
}

// nearState is where everything near the door stands.
type nearState struct {
	on      []bool
	mem     []device.Memory
	circuit circuit.LocalState
	flat    bool
	now     unit.Second
	outcome Outcome
	frame   *frame
}

// See looks at a watched instant: step of sequence, with what came of the last card shown.
type See func(sequence, step int, b *Bench, shows Shows, shown bool)

// Closeup makes a closeup of a door for some sequences.
func (fs *Frames) Closeup(d *job.Door, sequences [][]Step) *Closeup {
	near := fs.is.near(d)
	c := &Closeup{frames: fs, door: d, near: near, tree: fs.is.plant(sequences, near), nodes: fs.is.nodesNear(near, d.ID)}
	sys := fs.idle.bench.sys
	c.region = sys.Region(c.nodes)
	for i := range c.tree.nodes { // before any fault is in: frames lead on from sound ones
		c.stands = append(c.stands, c.frameOf(&c.tree.nodes[i]))
	}
	c.bench = &Bench{Case: fs.c, island: fs.is, near: near}
	for i, u := range fs.is.Units {
		if !near[i] {
			continue
		}
		c.bench.units = append(c.bench.units, u)
		for _, k := range u.slots {
			if !fs.is.slots[k].senses {
				c.slots = append(c.slots, k)
			}
		}
	}
	return c
}

// Run takes the door with a fault, nil for none, through all sequences and lets see look at every watched instant. Where
// the fault turns out to move the whole island, see is called again from the beginning.
func (c *Closeup) Run(f *fault.Fault, see See) {
	if c.runNear(f, see) {
		return
	}
	c.Wide++
	c.RunWhole(f, see)
}

func (c *Closeup) runNear(f *fault.Fault, see See) bool {
	region := c.region
	if f != nil {
		for _, v := range c.frames.is.nodesOf(f) {
			if !region.Has(v) {
				region = c.frames.idle.bench.sys.Region(append(append([]circuit.Node(nil), c.nodes...), c.frames.is.nodesOf(f)...))
				break
			}
		}
	}
	c.fault, c.strays = f, false
	b, idle := c.bench, c.frames.idle.bench
	b.on, b.mem = append(b.on[:0], idle.on...), append(b.mem[:0], idle.mem...)
	b.batteryEnd, b.now, b.forced, b.inputs = false, 0, nil, nil
	c.enter(c.frames.idle, region, nil)
	if f != nil {
		c.take(Step{})
	}
	c.visit(0, region, see, Shows{}, false)
	c.leave()
	return !c.strays
}

// enter goes on in another frame, from a state or, with nil, from where the frame stands.
func (c *Closeup) enter(f *frame, region *circuit.Region, st *nearState) {
	b := c.bench
	c.at, c.local = f, f.local(region)
	b.net, b.sys, b.solver = f.bench.net, f.bench.sys, c
	first := true
	for _, g := range c.used {
		first = first && g != f
	}
	if first {
		c.used = append(c.used, f)
		if c.fault != nil {
			b.impose(c.fault)
			c.patch()
		}
	}
	for _, k := range c.slots {
		b.sys.Set(b.island.slots[k].sw, b.on[k])
	}
	if st != nil {
		c.local.Load(&st.circuit)
	} else {
		c.local.Load(f.rest[region])
	}
}

// patch puts the elements that the fault adds into the present frame.
func (c *Closeup) patch() {
	for i := range c.fault.Edits {
		e := &c.fault.Edits[i]
		switch e.Op {
		case fault.Join:
			c.local.Join(c.nodeNamed(e.A), c.nodeNamed(e.B), e.Ohms)
		case fault.Inject:
			c.local.Inject(c.nodeNamed(e.A), c.nodeNamed(e.B), foreign(e))
		}
	}
}

func (c *Closeup) nodeNamed(name string) circuit.Node {
	if name == device.Ground {
		return circuit.Earth
	}
	v, _ := c.frames.is.base.Find(name)
	return v
}

// leave takes the fault out of every frame it was put into.
func (c *Closeup) leave() {
	for _, f := range c.used {
		c.bench.sys = f.bench.sys
		if c.fault != nil {
			c.bench.lift(c.fault)
		}
		f.locals[f.in].Unpatch()
		if region := f.in; region != c.region { // made for this fault, of no use to the next
			f.calm()
			f.forget(region)
		}
	}
	c.used = c.used[:0]
}

// Solve makes the closeup the solver of its bench. What collapses or keeps restarting has several states it can come to;
// which one, the whole island decides.
func (c *Closeup) Solve() circuit.Report {
	r := c.local.Solve()
	c.strays = c.strays || r.Outcome != circuit.Converged
	return r
}

// take takes the bench through a step and notes when the rest of the island would have to move. Only where it comes to
// rest counts: on the way there, what several doors share may still stand as before the step.
func (c *Closeup) take(s Step) Shows {
	s.Flat = false // the frame has its batteries at their end
	shows := c.bench.Take(s)
	c.strays = c.strays || c.local.Drift() > c.at.guard(c.at.in)
	return shows
}

// visit goes through the tree below a node, at which the bench stands.
func (c *Closeup) visit(node int, region *circuit.Region, see See, shows Shows, shown bool) {
	n := &c.tree.nodes[node]
	for _, l := range n.leaves {
		see(l.sequence, l.step, c.bench, shows, shown)
	}
	if len(n.children) == 0 || c.strays {
		return
	}
	st := c.save()
	for _, child := range n.children {
		c.back(st, region)
		m := &c.tree.nodes[child]
		if f := c.stands[child]; f != c.at {
			c.enter(f, region, st)
		}
		if m.step.Flat {
			c.bench.batteryEnd = true
		}
		got, has := c.take(m.step), shown
		if step := m.step; step.Show == "" || !c.isNear(step.Show) {
			got = shows
		} else {
			has = true
		}
		c.visit(child, region, see, got, has)
		if c.strays {
			break
		}
	}
	c.spare = append(c.spare, st)
}

func (c *Closeup) isNear(id string) bool {
	u := c.frames.is.byID[id]
	return u != nil && c.near[u.index]
}

func (c *Closeup) frameOf(n *treeNode) *frame {
	if len(n.moved) == 0 {
		return c.frames.idle
	}
	return c.frames.after(n.moved)
}

func (c *Closeup) save() *nearState {
	st := &nearState{}
	if n := len(c.spare); n > 0 {
		st, c.spare = c.spare[n-1], c.spare[:n-1]
	}
	b := c.bench
	st.on, st.mem = st.on[:0], st.mem[:0]
	for _, k := range c.slots {
		st.on = append(st.on, b.on[k])
	}
	for _, u := range b.units {
		st.mem = append(st.mem, b.mem[u.index])
	}
	c.local.Save(&st.circuit)
	st.flat, st.now, st.outcome, st.frame = b.batteryEnd, b.now, b.outcome, c.at
	return st
}

func (c *Closeup) back(st *nearState, region *circuit.Region) {
	b := c.bench
	for i, k := range c.slots {
		b.on[k] = st.on[i]
	}
	for i, u := range b.units {
		b.mem[u.index] = st.mem[i]
	}
	b.batteryEnd, b.now, b.outcome = st.flat, st.now, st.outcome
	c.enter(st.frame, region, st)
}

// RunWhole takes the whole island, with the fault as a part of its network, through all sequences: what Run is held
// against, and what it falls back on.
func (c *Closeup) RunWhole(f *fault.Fault, see See) {
	c.frames.idle.calm()
	c.visitWhole(c.frames.idle.bench.twin(false).spoil(f), 0, see, Shows{}, false)
}

func (c *Closeup) visitWhole(b *Bench, node int, see See, shows Shows, shown bool) {
	n := &c.tree.nodes[node]
	for _, l := range n.leaves {
		see(l.sequence, l.step, b, shows, shown)
	}
	if len(n.children) == 0 {
		return
	}
	st := b.Save()
	for _, child := range n.children {
		b.Back(st)
		step := c.tree.nodes[child].step
		got, has := b.Take(step), shown
		if step.Show == "" || !c.isNear(step.Show) {
			got = shows
		} else {
			has = true
		}
		c.visitWhole(b, child, see, got, has)
	}
}
