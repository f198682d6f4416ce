package situation

import (
	"slices"
	"strings"

	"doorwright/circuit"
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
	plain  *tree    // the same with no frames for the door's own doings
	stands []*frame // by node of the tree
	near   []bool
	nodes  []circuit.Node
	region *circuit.Region
	bench  *Bench
	slots  []int // of what is near, those that follow no voltage
	at     *frame
	local  *circuit.Local
	fault  *fault.Fault
	want   Want
	see    See
	used   []*frame // frames the fault was put into
	strays bool     // the rest of the island has to move as well
	talks  bool     // a card is shown in the present step
	whole  *Bench   // the whole island with the fault, once something strays
	start  State    // where that stands before anything happens
	far    map[string]bool
	held   []bool // what a fault in the frames holds, and the settings it has altered
	inputs map[*Unit]*altered
	Wide   int // how many faults had to be tried on the whole island, in some cause
}

// See looks at a watched instant: step of sequence, with what came of the last card shown.
type See func(sequence, step int, b *Bench, shows Shows, shown bool)

// Want says whether a watched instant is of interest. It is asked again as instants are seen.
type Want func(sequence, step int) bool

// Closeup makes a closeup of a door for some sequences. What the sound door does that moves the rest of the island by
// itself gets a frame of its own, as what happens to several doors does.
func (fs *Frames) Closeup(d *job.Door, sequences [][]Step) *Closeup {
	far := map[string]bool{}
	for {
		known := len(far)
		c := fs.closeup(d, sequences, far)
		c.far = far
		c.Run(nil, nil, func(int, int, *Bench, Shows, bool) {})
		c.far, c.Wide = nil, 0
		if len(far) == known {
			return c
		}
	}
}

func (fs *Frames) closeup(d *job.Door, sequences [][]Step, far map[string]bool) *Closeup {
	near := fs.is.near(d)
	c := &Closeup{frames: fs, door: d, near: near, tree: fs.is.plant(sequences, near, far), nodes: fs.is.nodesNear(near, d.ID)}
	sys := fs.idle.bench.sys
	c.region = sys.Region(c.nodes)
	if c.plain = c.tree; len(far) > 0 {
		c.plain = fs.is.plant(sequences, near, nil)
	}
	c.lead()
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

// Run takes the door with a fault, nil for none, through all sequences and lets see look at every watched instant that is
// wanted, nil for all. Where the fault moves the rest of the island, the whole is looked at.
func (c *Closeup) Run(f *fault.Fault, want Want, see See) {
	region := c.region
	if f != nil {
		for _, v := range c.frames.is.nodesOf(f) {
			if !region.Has(v) {
				region = c.frames.idle.bench.sys.Region(append(append([]circuit.Node(nil), c.nodes...), c.frames.is.nodesOf(f)...))
				break
			}
		}
	}
	c.fault, c.want, c.see, c.whole = f, want, see, nil
	b, idle := c.bench, c.frames.still
	desk := c.frames.desk
	desk.on, desk.mem = append(desk.on[:0], idle.on...), append(desk.mem[:0], idle.mem...)
	b.on, b.mem = desk.on, desk.mem
	b.batteryEnd, b.now, b.forced, b.inputs = false, 0, c.held, c.inputs
	c.enter(c.frames.idle, region, nil)
	if f == nil {
		b.outcome, b.stale, b.gone = idle.outcome, c.frames.idle.bench.stale, true
	}
	if f != nil && !c.take(0, nil) {
		c.goWhole(0)
	} else {
		c.visit(0, region, Shows{}, false)
	}
	c.leave()
	if c.whole != nil {
		c.Wide++
	}
}

// wants says that something is of interest at a node of the tree or below it.
func (c *Closeup) wants(node int) bool {
	return c.want == nil || slices.ContainsFunc(c.tree.nodes[node].below, func(l leaf) bool { return c.want(l.sequence, l.step) })
}

// look lets see look at a node of the tree.
func (c *Closeup) look(node int, b *Bench, shows Shows, shown bool) {
	for _, l := range c.tree.nodes[node].leaves {
		if c.want == nil || c.want(l.sequence, l.step) {
			c.see(l.sequence, l.step, b, shows, shown)
		}
	}
}

// enter goes on in another frame, from a state or, with nil, from where the frame stands.
func (c *Closeup) enter(f *frame, region *circuit.Region, st *nearState) {
	b := c.bench
	c.at, c.local = f, f.local(region)
	b.net, b.sys, b.solver, b.stale = f.bench.net, f.bench.sys, c, true
	first := true
	for _, g := range c.used {
		first = first && g != f
	}
	if first {
		c.used = append(c.used, f)
		if c.fault != nil {
			b.impose(c.fault)
			c.frames.is.patch(c.local, c.fault)
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

// leave takes the fault out of every frame it was put into.
func (c *Closeup) leave() {
	if c.fault == nil {
		c.used = c.used[:0]
		return
	}
	for _, f := range c.used {
		c.bench.sys = f.bench.sys
		c.bench.lift(c.fault)
		f.locals[f.in].Unpatch()
		if region := f.in; region != c.region { // made for this fault, of no use to the next
			f.calm()
			f.forget(region)
		}
	}
	c.used = c.used[:0]
}

// Solve makes the closeup the solver of its bench. What collapses or keeps restarting while a card is shown has several
// states it can come to, by what the line stood at before; which one, the whole island decides.
func (c *Closeup) Solve() circuit.Report {
	r := c.local.Solve()
	c.strays = c.strays || r.Outcome == circuit.NotConverged || c.talks && r.Outcome != circuit.Converged
	if rest := c.at.others[c.at.in]; r.Outcome == circuit.Converged {
		r.Outcome = rest.Outcome // what keeps restarting elsewhere goes on
	}
	return r
}

// take takes the bench through the step to a node and says whether the rest of the island may stay where it is. Only where
// it comes to rest counts: on the way there, what several doors share may still stand as before the step.
func (c *Closeup) take(node int, shows *Shows) bool {
	s := c.tree.nodes[node].step
	s.Flat = false // the frame has its batteries at their end
	c.strays, c.talks = false, s.Show != ""
	got := c.bench.Take(s)
	if shows != nil && s.Show != "" && c.isNear(s.Show) {
		*shows = got
	}
	drift, guard := c.local.Drift(), c.at.guard(c.at.in)
	stays := !c.strays && (drift <= guard || drift < mostBend && c.bends())
	if c.far != nil && !stays {
		c.far[keyOf([]Step{c.tree.nodes[node].step})] = true
	}
	for _, name := range c.at.bench.outcome.Unsteady {
		if device, _, _ := strings.Cut(name, "."); !c.isNear(device) && !c.isNear(name) {
			c.bench.outcome.Unsteady = append(c.bench.outcome.Unsteady, name)
		}
	}
	return stays
}

// mostBend is how far the rest may be drawn and still follow: beyond it, what stands on little comes to another of the
// states it can have when it goes there by another way. A figure of our own choice, held against whole solves in a test.
const mostBend unit.Volt = 1

// bends says that the rest of the island follows without anything in it turning; where something in it does not come to
// rest by itself, that is left to the whole.
func (c *Closeup) bends() bool {
	if c.at.others[c.at.in].Outcome != circuit.Converged {
		return false
	}
	return c.local.Bend(func() bool {
		c.bench.stale = true
		c.bench.settle()
		return !c.strays
	})
}

// visit goes through the tree below a node, at which the bench stands.
func (c *Closeup) visit(node int, region *circuit.Region, shows Shows, shown bool) {
	c.look(node, c.bench, shows, shown)
	n := &c.tree.nodes[node]
	if len(n.children) == 0 {
		return
	}
	st := c.save()
	for _, child := range n.children {
		if !c.wants(child) {
			continue
		}
		c.back(st, region)
		m := &c.tree.nodes[child]
		if f := c.standsAt(child); f != c.at {
			c.enter(f, region, st)
		}
		if m.step.Flat {
			c.bench.batteryEnd = true
		}
		got := shows
		if m.framed && c.frames.idle.bench.fault != nil {
			c.stand(region)
			c.visit(child, region, shows, shown)
		} else if c.passes(child) {
			c.visit(child, region, shows, shown)
		} else if c.take(child, &got) {
			c.visit(child, region, got, shown || m.step.Show != "" && c.isNear(m.step.Show))
		} else {
			c.goWhole(child)
		}
	}
	st.frame = nil // which would be kept as long as the work space
	c.frames.desk.spare = append(c.frames.desk.spare, st)
}

// Case is the limit case it is in.
func (c *Closeup) Case() Case { return c.frames.c }

func (c *Closeup) isNear(id string) bool {
	u := c.frames.is.byID[id]
	return u != nil && c.near[u.index]
}

// lead finds the frames in which the nodes of the tree stand. Frames of the sound island are all made before a fault is put
// into any, since they lead on from each other; those that have the fault in them when they are first asked for, since what
// shows at once leaves most of them unseen.
func (c *Closeup) lead() {
	c.stands = make([]*frame, len(c.tree.nodes))
	for node := range c.stands {
		if c.frames.idle.bench.fault == nil {
			c.standsAt(node)
		}
	}
}

// standsAt is the frame in which a node of the tree stands.
func (c *Closeup) standsAt(node int) *frame {
	if c.stands[node] == nil {
		n := &c.tree.nodes[node]
		c.stands[node] = c.frames.idle
		if len(n.moved) > 0 {
			c.stands[node] = c.frames.after(n.moved, n.frame)
		}
	}
	return c.stands[node]
}

// passes says that a step is none to this door: a card is shown at another, in the frame that has seen it already.
func (c *Closeup) passes(node int) bool {
	n := &c.tree.nodes[node]
	return n.step.Show != "" && n.step.Wait == 0 && len(n.step.Do) == 0 && !c.isNear(n.step.Show) &&
		c.standsAt(node) == c.standsAt(n.parent)
}
