package draw

import (
	"cmp"
	"slices"

	"doorwright/job"
	"doorwright/wiring"
)

// sheath is where cores of one cable lie together at a place: an oval across them says that they are one cable (IEC
// 60617, cable of several conductors, from memory); a dashed one that it is screened.
type sheath struct {
	run      *job.Run
	column   *column
	side     int
	from, to MM
}

// Measures of a sheath: the room it takes in a channel, and its width.
const (
	sheathRoom MM = 2
	sheathWide MM = 1.5
)

// sheaths finds the cores that lie together, none of another cable between them.
func (g *diagram) sheaths() []sheath {
	var all []sheath
	for _, c := range g.columns {
		for _, gr := range c.groups {
			for side := range 2 {
				all = append(all, gr.sheathsAt(side)...)
			}
		}
	}
	return all
}

func (gr *group) sheathsAt(side int) []sheath {
	var pins []*pin
	for _, b := range gr.boxes {
		for _, r := range b.rows {
			pins = append(pins, r.pins[side]...)
		}
	}
	slices.SortStableFunc(pins, func(p, q *pin) int { return cmp.Compare(p.step(), q.step()) })
	var all []sheath
	for len(pins) > 0 {
		n := 1
		for n < len(pins) && pins[n].run() == pins[0].run() {
			n++
		}
		if run := pins[0].run(); run != nil && n > 1 {
			all = append(all, sheath{run, gr.column, side, pins[0].y(), pins[n-1].y()})
		}
		pins = pins[n:]
	}
	return all
}

// run is the cable that the wire of a pin is a core or a screen of; nil for none.
func (p *pin) run() *job.Run {
	if k := p.wire.conductor.Kind; k != wiring.Core && k != wiring.Screen {
		return nil
	}
	return p.wire.conductor.Run
}

// channel is the number of the channel that the sheath lies in.
func (s sheath) channel() int { return s.column.index + s.side }

// plot draws the oval between the labels at the terminals and the first track.
func (s sheath) plot(p *pen, ch *channel) {
	edge := s.column.x
	middle := edge - ch.stubs[1] + stubEnd/2 + sheathRoom/2
	if s.side == right {
		middle = edge + s.column.wide + ch.stubs[0] - stubEnd/2 - sheathRoom/2
	}
	stroke := thin
	if len(s.run.Type.Screens()) > 0 {
		stroke.Dash = Dashed
	}
	const beyond MM = 0.9
	p.rect(s.run.ID, stroke, NoInk, Point{middle - sheathWide/2, s.from - beyond}, sheathWide, s.to-s.from+2*beyond, sheathWide/2)
}
