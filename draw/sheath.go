package draw

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/wiring"
)

// sheath is where cores of one cable lie together at a place: an oval across them says that they are one cable (IEC
// 60617, cable of several conductors, from memory); a dashed one that it is screened.
type sheath struct {
	run    *job.Run
	column *column
	side   int
	pins   []*pin // from above
	x      MM     // of its middle, from the edge of the column
	cut    bool   // its screen ends here, insulated
}

// Measures of the marks of cables.
const (
	sheathWide   MM = 1.5
	sheathBeyond MM = 0.9 // above the first and below the last core
	sheathCut    MM = 0.7 // from the oval to the bar of a screen that ends there
	twistWide    MM = 1.8
	twistBeyond  MM = 0.75
)

// sheaths finds the cores that lie together, none of another cable between them. A single core is marked where its cable
// has a screen.
func (g *diagram) sheaths() []*sheath {
	var all []*sheath
	type end struct {
		run   *job.Run
		place *job.Place
	}
	ends := map[end]bool{} // where a screen ends insulated
	for _, w := range g.wires {
		if c := w.conductor; c.Kind == wiring.Screen && w.b == nil {
			far := c.Run.From
			if far == c.A.Device.Place {
				far = c.Run.To
			}
			ends[end{c.Run, far}] = true
		}
	}
	for _, c := range g.columns {
		for _, gr := range c.groups {
			for side := range 2 {
				for _, s := range gr.sheathsAt(side) {
					at := end{s.run, gr.place}
					s.cut = ends[at]
					ends[at] = false // one bar says it
					all = append(all, s)
				}
			}
		}
	}
	return all
}

func (gr *group) sheathsAt(side int) []*sheath {
	var pins []*pin
	for _, b := range gr.boxes {
		for _, r := range b.rows {
			pins = append(pins, r.pins[side]...)
		}
	}
	slices.SortStableFunc(pins, func(p, q *pin) int { return cmp.Compare(p.step(), q.step()) })
	var all []*sheath
	for len(pins) > 0 {
		n := 1
		for n < len(pins) && pins[n].run() == pins[0].run() {
			n++
		}
		if run := pins[0].run(); run != nil && (n > 1 || len(run.Type.Screens()) > 0) {
			all = append(all, &sheath{run: run, column: gr.column, side: side, pins: pins[:n]})
		}
		pins = pins[n:]
	}
	return all
}

// run is the cable that the wire of a pin is a core or a screen of; nil for none, and for a screen that is insulated
// beside the pin.
func (p *pin) run() *job.Run {
	k := p.wire.conductor.Kind
	if k != wiring.Core && (k != wiring.Screen || p.other() == nil) {
		return nil
	}
	return p.wire.conductor.Run
}

// channel is the number of the channel that the sheath lies in.
func (s *sheath) channel() int { return s.column.index + s.side }

func (s *sheath) top() MM { return s.pins[0].y() - sheathBeyond }

// foot is the lowest point of the oval, and of the bar below it.
func (s *sheath) foot() MM {
	y := s.pins[len(s.pins)-1].y() + sheathBeyond
	if s.cut {
		y += sheathCut
	}
	return y
}

// plot draws the oval between the labels at the terminals and the tracks.
func (s *sheath) plot(p *pen) {
	x := s.pins[0].out(s.x)
	stroke := thin
	if len(s.run.Type.Screens()) > 0 {
		stroke = dashed
	}
	high := s.pins[len(s.pins)-1].y() - s.pins[0].y() + 2*sheathBeyond
	p.rect(s.run.ID, stroke, NoInk, Point{x - sheathWide/2, s.top()}, sheathWide, high, sheathWide/2)
	if s.cut {
		p.line(s.run.ID, thin, Point{x, s.top() + high}, Point{x, s.foot()})
		p.line(s.run.ID, medium, Point{x - 0.6, s.foot()}, Point{x + 0.6, s.foot()})
	}
}

// twist is the mark of a twisted group of cores at one end: a slanted stroke across them (IEC 60617, twisted conductors,
// from memory).
type twist struct {
	run  *job.Run
	pins []*pin // of the cores of the group that lie side by side
	x    MM     // of its middle, from the edge of the column
}

// twists finds the cores of each twisted group that lie side by side in a sheath.
func (s *sheath) twists() []*twist {
	group := func(p *pin) int { return p.wire.conductor.Core.Pair }
	var all []*twist
	for _, p := range s.pins {
		n := len(all)
		switch {
		case group(p) == 0:
		case n > 0 && group(all[n-1].pins[0]) == group(p) && all[n-1].pins[len(all[n-1].pins)-1].step() == p.step()-1:
			all[n-1].pins = append(all[n-1].pins, p)
		default:
			all = append(all, &twist{run: s.run, pins: []*pin{p}})
		}
	}
	return all
}

func (t *twist) top() MM { return t.pins[0].y() - twistBeyond }

func (t *twist) foot() MM { return t.pins[len(t.pins)-1].y() + twistBeyond }

func (t *twist) plot(p *pen) {
	const hook MM = 0.5
	x, half := t.pins[0].out(t.x), twistWide/2
	p.line(t.run.ID, thin, Point{x - half, t.top()}, Point{x - half + hook, t.top()},
		Point{x + half - hook, t.foot()}, Point{x + half, t.foot()})
}

// twistWords name the cores that are twisted together, run by run; empty where none are.
func (g *diagram) twistWords() string {
	together := map[*job.Run]map[int][]string{}
	for _, w := range g.wires {
		if c := w.conductor; c.Kind == wiring.Core && c.Core.Pair > 0 {
			if together[c.Run] == nil {
				together[c.Run] = map[int][]string{}
			}
			together[c.Run][c.Core.Pair] = append(together[c.Run][c.Core.Pair], numberOf(c))
		}
	}
	var runs []string
	for _, r := range g.plan.Job.Runs {
		if together[r] == nil {
			continue
		}
		var groups []string
		for _, k := range r.Type.Cores() {
			cores := together[r][k.Pair]
			if delete(together[r], k.Pair); len(cores) > 1 {
				slices.Sort(cores)
				groups = append(groups, strings.Join(cores, " with "))
			}
		}
		if len(groups) > 0 {
			runs = append(runs, runTag(r, g.id)+": "+strings.Join(groups, ", "))
		}
	}
	if len(runs) == 0 {
		return ""
	}
	return fmt.Sprintf("Slanted stroke: twisted together (%s).", strings.Join(runs, "; "))
}
