package proof

import (
	"slices"
	"sync"

	"doorwright/fault"
	"doorwright/situation"
)

// group is the doors of one island. What they share is tried once for all of them: the island is taken into every frame
// with the fault in it, and from there each door is looked at alone.
type group struct {
	trials []*trial // in the order of the job
	shared []fault.Fault
	spare  chan *setting
}

// setting is the sound island in every view, for one goroutine at a time.
type setting []*situation.Frames

// enter takes a setting that nobody uses, or makes one.
func (g *group) enter() *setting {
	select {
	case s := <-g.spare:
		return s
	default:
	}
	s := &setting{}
	is := g.trials[0].island
	for _, c := range nominalCases(is) {
		*s = append(*s, is.Frames(c))
	}
	return s
}

func (g *group) leave(s *setting) {
	for _, frames := range *s {
		frames.Forget()
	}
	g.spare <- s
}

// fewDoors is how many doors at most are each looked at as if they shared nothing: frames would cost more than they save.
const fewDoors = 2

// concerned are the doors that a shared fault is tried at together; none when they are few.
func (g *group) concerned(f *fault.Fault) []*trial {
	var all []*trial
	for _, t := range g.trials {
		if t.island.Has(f) && t.concerns(f) {
			all = append(all, t)
		}
	}
	if len(all) <= fewDoors {
		return nil
	}
	return all
}

// together tries a shared fault at the doors it concerns.
func (g *group) together(f *fault.Fault, in *setting) {
	doors := g.concerned(f)
	views := make([][]*verdict, len(doors))
	for i, frames := range *in {
		if len(doors) == 0 {
			return
		}
		faulty := frames.With(f)
		for k, t := range doors {
			d := t.verdict(&t.views[i])
			d.through(t.views[i].closeup.On(faulty), nil)
			views[k] = append(views[k], d)
		}
		faulty.Drop()
	}
	for k, t := range doors {
		t.mu.Lock()
		t.done[f.ID] = views[k]
		t.mu.Unlock()
	}
}

// part is some of the faults of a door.
type part struct {
	of     *trial
	faults []*fault.Fault
}

// parts cuts the faults of fewer doors than there are processors, so that none of these has to wait for the last door.
func (g *group) parts(processors int) []part {
	var all []part
	for _, t := range g.trials {
		faults := slices.DeleteFunc(t.faults(), func(f *fault.Fault) bool { return t.done[f.ID] != nil })
		for c := range slices.Chunk(faults, len(faults)/(partsEach*processors)+1) {
			all = append(all, part{t, c})
		}
	}
	return all
}

// partsEach is how many parts of a door there are for each processor: parts take unequal time.
const partsEach = 4

// run tries everything at all doors: first what they share, then each door. As many things are done at once as limit has
// room for. Finished is called for each door and says whether to go on.
func (g *group) run(depth Depth, limit chan struct{}, finished func(*trial) bool) {
	g.spare = make(chan *setting, cap(limit))
	each := func(n int, do func(i int, in *setting) bool) bool {
		var wg sync.WaitGroup
		var mu sync.Mutex
		on := true
		for i := range n {
			limit <- struct{}{}
			mu.Lock()
			stop := !on
			mu.Unlock()
			if stop {
				<-limit
				break
			}
			wg.Go(func() {
				in := g.enter()
				went := do(i, in)
				g.leave(in)
				<-limit
				mu.Lock()
				on = on && went
				mu.Unlock()
			})
		}
		wg.Wait()
		return on
	}
	each(len(g.trials), func(i int, in *setting) bool { g.trials[i].prepare(in); return true })
	if depth >= SingleFaults {
		each(len(g.shared), func(i int, in *setting) bool { g.together(&g.shared[i], in); return true })
	}
	if depth >= SingleFaults && len(g.trials) < cap(limit) {
		parts := g.parts(cap(limit))
		each(len(parts), func(i int, in *setting) bool { parts[i].of.part(parts[i].faults, in); return true })
	}
	each(len(g.trials), func(i int, in *setting) bool {
		g.trials[i].run(depth, in)
		return finished(g.trials[i])
	})
	g.trials, g.spare = nil, nil // thousands of doors are not kept in all their frames
}
