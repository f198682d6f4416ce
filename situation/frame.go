package situation

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/unit"
)

// frame is the sound island at one instant of a sequence, held still: what a door looked at alone leans on.
type frame struct {
	bench  *Bench
	key    string
	locals map[*circuit.Region]*circuit.Local
	rest   map[*circuit.Region]*circuit.LocalState // the region as it is in the sound island
	guards map[*circuit.Region]unit.Volt
	ended  circuit.Report                     // how the instant ended
	others map[*circuit.Region]circuit.Report // the part of it that is about what is outside a region
	in     *circuit.Region                    // the region last solved, which may not be at rest
}

// Frames keeps the frames of an island in one limit case. It is for one goroutine.
type Frames struct {
	is    *Island
	c     Case
	all   map[string]*frame
	idle  *frame
	still *Bench // the undisturbed state once more, which nothing is ever put into
	work  *workbench
	desk  *desk
}

// desk is work space that closeups of frames of one island hand on, and frames with a fault in them to each other.
type desk struct {
	on    []bool
	mem   []device.Memory
	spare []*nearState
	old   []*circuit.System // of the island as it was analysed
}

// Frames makes the frames of an island in a limit case: so far the undisturbed state.
func (is *Island) Frames(c Case) *Frames {
	fs := &Frames{is: is, c: c, all: map[string]*frame{}, desk: &desk{}}
	fs.idle = fs.keep("", is.Bench(c))
	fs.still = fs.idle.bench.twin(nil)
	return fs
}

func (fs *Frames) keep(key string, b *Bench) *frame {
	f := &frame{
		bench: b, key: key, ended: b.outcome.kept().Circuit,
		locals: map[*circuit.Region]*circuit.Local{}, rest: map[*circuit.Region]*circuit.LocalState{},
		guards: map[*circuit.Region]unit.Volt{}, others: map[*circuit.Region]circuit.Report{},
	}
	fs.all[key] = f
	return f
}

// after is the frame that some steps lead to from the undisturbed state; key is theirs.
func (fs *Frames) after(steps []Step, key string) *frame {
	if f, ok := fs.all[key]; ok {
		return f
	}
	from, known := fs.idle, 0
	for n := len(steps) - 1; n > 0 && known == 0; n-- {
		if f, ok := fs.all[keyOf(steps[:n])]; ok {
			from, known = f, n
		}
	}
	from.calm()
	b := from.bench.twin(fs.desk.system(from.bench))
	for _, s := range steps[known:] {
		b.Take(s)
	}
	return fs.keep(key, b)
}

// system takes a system that nobody uses any more and that fits a bench; nil when there is none.
func (d *desk) system(b *Bench) *circuit.System {
	n := len(d.old) - 1
	if n < 0 || d.old[n].Analysis() != b.sys.Analysis() {
		return nil
	}
	s := d.old[n]
	d.old = d.old[:n]
	return s
}

// Drop hands on what frames with a fault in them were made of. Neither they nor any closeup of them may be used any more.
func (fs *Frames) Drop() {
	benches := []*Bench{fs.still}
	for _, f := range fs.all {
		benches = append(benches, f.bench)
	}
	for _, b := range benches {
		if b.sys.Analysis() == fs.is.analysis {
			fs.desk.old = append(fs.desk.old, b.sys)
		}
	}
}

// With makes frames that are of the island with a fault as a part of its network, which came while everything was at rest.
// The frames themselves are only read and share their work space.
func (fs *Frames) With(f *fault.Fault) *Frames {
	faulty := &Frames{is: fs.is, c: fs.c, all: map[string]*frame{}, desk: fs.desk}
	faulty.idle = faulty.keep("", fs.still.spoil(f, fs.desk.system(fs.still)))
	faulty.still = faulty.idle.bench.twin(fs.desk.system(faulty.idle.bench))
	return faulty
}

// twin is a bench of its own that stands where b stands, with the fault that b has. It may take over a system that nobody
// uses any more; nil for none.
func (b *Bench) twin(old *circuit.System) *Bench {
	t := b.copied()
	t.sys = b.sys.Twin(old)
	t.solver, t.stale, t.batteryEnd = t.sys, b.stale, b.batteryEnd
	t.forced, t.inputs = slices.Clone(b.forced), maps.Clone(b.inputs)
	return t
}

// copied is a bench that stands where b stands and has yet to get a system.
func (b *Bench) copied() *Bench {
	return &Bench{
		Case: b.Case, island: b.island, net: b.net, on: append([]bool(nil), b.on...), mem: append(b.mem[:0:0], b.mem...),
		units: b.units, fault: b.fault, now: b.now, outcome: b.outcome,
	}
}

// keyOf names steps by what they do to the world.
func keyOf(steps []Step) string {
	var s strings.Builder
	for i := range steps {
		fmt.Fprintf(&s, "%v %s %v %v|", steps[i].Do, steps[i].Show, steps[i].Flat, float64(steps[i].Wait))
	}
	return s.String()
}

// local is the local solver of a region, with the rest of the island at rest.
func (f *frame) local(r *circuit.Region) *circuit.Local {
	if f.in != nil && f.in != r {
		f.calm()
	}
	l := f.locals[r]
	if l == nil {
		l = f.bench.sys.Local(r)
		f.locals[r] = l
		st := &circuit.LocalState{}
		l.Save(st)
		f.rest[r] = st
		f.others[r] = r.Without(f.bench.net, f.ended)
		f.guard(r) // while all is at rest
	}
	f.in = r
	return l
}

// forget drops what is kept of a region, which must not be the one last solved.
func (f *frame) forget(r *circuit.Region) {
	delete(f.locals, r)
	delete(f.rest, r)
	delete(f.guards, r)
	delete(f.others, r)
}

// Forget drops what closeups have left in the frames; none of them may be used any more, but for On.
func (fs *Frames) Forget() {
	for _, f := range fs.all {
		f.calm()
		clear(f.locals)
		clear(f.rest)
		clear(f.guards)
		clear(f.others)
	}
}

// calm takes the region last solved back to where it is in the sound island, and what it leads to.
func (f *frame) calm() {
	if f.in == nil {
		return
	}
	for i := range f.bench.island.slots {
		if s := &f.bench.island.slots[i]; !s.senses {
			f.bench.sys.Set(s.sw, f.bench.on[i])
		}
	}
	l := f.locals[f.in]
	l.Load(f.rest[f.in])
	l.Solve()
	f.in = nil
}

// reaches says that a step moves more than one door: what several share, or what is of another.
func (is *Island) reaches(s *Step, near []bool) bool {
	if s.Flat {
		return true
	}
	for _, a := range s.Do {
		if u := is.byID[a.Device]; u != nil && (!near[u.index] || u.Device.Door == "" && u.Device.Model.Kind != "controller") {
			return true
		}
	}
	u := is.byID[s.Show]
	return u != nil && !near[u.index]
}

// tree is what is done to a door, as sequences that share their beginnings.
type tree struct {
	nodes []treeNode
}

// treeNode is one step after another; node 0 is the undisturbed state.
type treeNode struct {
	step     Step
	parent   int
	children []int
	moved    []Step // the steps so far that moved more than the door
	frame    string // their key
	framed   bool   // which are all of them, and no card among them: the frame is the answer where the fault is in it
	leaves   []leaf
	below    []leaf // its own and those of all nodes below it
	key      string
}

// leaf says that a watched step of a sequence ends here.
type leaf struct{ sequence, step int }

// plant makes the tree of some sequences for a door. Far are the keys of steps that move the rest of the island though
// they are of the door.
func (is *Island) plant(sequences [][]Step, near []bool, far map[string]bool) *tree {
	t := &tree{nodes: []treeNode{{parent: -1}}}
	for q, steps := range sequences {
		at, upto := 0, 0
		var moved []Step
		for k := range steps {
			for end := is.together(steps, k, near, far); upto < end; upto++ {
				moved = append(moved[:len(moved):len(moved)], steps[upto])
			}
			upto = max(upto, k+1)
			at = t.child(at, steps[k], moved)
			t.nodes[at].framed = len(moved) == k+1 && !slices.ContainsFunc(moved, func(s Step) bool { return s.Show != "" })
			if steps[k].Watched {
				t.nodes[at].leaves = append(t.nodes[at].leaves, leaf{q, k})
				for n := at; n >= 0; n = t.nodes[n].parent {
					t.nodes[n].below = append(t.nodes[n].below, leaf{q, k})
				}
			}
		}
	}
	return t
}

// together is where the steps end that move the island at once from step k on: k itself where that moves only the door,
// the step behind it where it reaches further, and behind the last of several cards that are shown one after another.
func (is *Island) together(steps []Step, k int, near []bool, far map[string]bool) int {
	end, reach := k, false
	for end < len(steps) && (end == k || steps[end].Show != "" && steps[k].Show != "") {
		reach = reach || is.reaches(&steps[end], near) || far[keyOf(steps[end:end+1])]
		end++
	}
	if !reach {
		return k
	}
	return end
}

func (t *tree) child(at int, s Step, moved []Step) int {
	frame := keyOf(moved)
	key := keyOf([]Step{s}) + "@" + frame
	for _, c := range t.nodes[at].children {
		if t.nodes[c].key == key {
			return c
		}
	}
	c := len(t.nodes)
	t.nodes = append(t.nodes, treeNode{step: s, parent: at, moved: moved, frame: frame, key: key})
	t.nodes[at].children = append(t.nodes[at].children, c)
	return c
}

// guard is how far the terminals that a door shares with others may move while the others are solved as straight lines,
// as long as no sense of theirs turns; further, they follow or are solved too. A load of constant power P misses its line by
// P/V^3 dV^2 then: 3 uA for 4 W at 13.5 V, and 50 uA for twenty doors, microvolts on the terminals of a supply. A figure of
// our own choice, held against whole solves in a test.
const guard unit.Volt = 0.04

// guard is how far the rim of a region may move in this frame.
func (f *frame) guard(r *circuit.Region) unit.Volt {
	g, ok := f.guards[r]
	if !ok {
		g = min(guard, slackShare*f.locals[r].Slack(f.others[r].Alternating))
		f.guards[r] = g
	}
	return g
}

// slackShare is the share of the way to the threshold of a sense that may be used up: what moves at the rim arrives at
// a sense at most whole, but for the lines not being quite straight.
const slackShare = 0.8
