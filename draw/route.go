package draw

import (
	"cmp"
	"slices"
)

// channel is the gap between two columns, in which wires go up and down.
type channel struct {
	tracks []*track
	x      MM
	wide   MM
	notes  [2][]note // at the left and the right edge
}

// track is the part of a wire that goes up or down in a channel.
type track struct {
	wire      *wire
	pins      []*pin // those whose level parts end at this track
	low, high MM     // highest and lowest point
	x         MM     // from the left edge of its channel
}

// Distances of what lies beside each other.
const (
	trackGap MM = 1.35 // from track to track
	stubEnd  MM = 1.1  // from the end of a label to a track
	laneGap  MM = 2.2  // from lane to lane above the columns
)

// route gives each wire its tracks.
func (g *diagram) route() {
	g.channels = make([]*channel, len(g.columns)+1)
	for i := range g.channels {
		g.channels[i] = &channel{}
	}
	lanes := 0
	for _, w := range g.wires {
		if w.b == nil {
			continue
		}
		if w.a.channel() == w.b.channel() {
			g.track(w, w.a.channel(), w.a, w.b)
			continue
		}
		lanes++
		w.lane = lanes
		g.track(w, w.a.channel(), w.a)
		g.track(w, w.b.channel(), w.b)
	}
	g.notes()
	for _, ch := range g.channels {
		ch.order()
		ch.assign()
	}
}

// track enters the part of a wire in one channel.
func (g *diagram) track(w *wire, in int, pins ...*pin) {
	t := &track{wire: w, pins: pins, low: pins[0].y(), high: pins[0].y()}
	for _, p := range pins {
		t.low, t.high = min(t.low, p.y()), max(t.high, p.y())
	}
	if w.lane > 0 {
		t.low = laneY(w.lane)
	}
	w.tracks = append(w.tracks, t)
	g.channels[in].tracks = append(g.channels[in].tracks, t)
}

// laneY is how high a lane lies, above the first step of the columns.
func laneY(lane int) MM { return -laneGap * MM(lane) }

// crossed counts the level parts that cross when t lies left of u.
func crossed(t, u *track) int {
	n := 0
	for _, p := range t.pins {
		if p.side == left && p.y() > u.low && p.y() < u.high { // from the right edge, over u, to t
			n++
		}
	}
	for _, p := range u.pins {
		if p.side == right && p.y() > t.low && p.y() < t.high {
			n++
		}
	}
	return n
}

// order puts the tracks in the order in which fewest wires cross: each is taken to the best place in turn, until none
// gains.
func (ch *channel) order() {
	slices.SortStableFunc(ch.tracks, func(t, u *track) int { return cmp.Compare(t.low, u.low) })
	n := len(ch.tracks)
	index := map[*track]int{}
	cost := make([][]int, n) // of the first left of the second
	for i, t := range ch.tracks {
		index[t] = i
		cost[i] = make([]int, n)
		for j, u := range ch.tracks {
			if i != j {
				cost[i][j] = crossed(t, u)
			}
		}
	}
	for range 12 {
		gained := false
		for i := range n {
			if to := best(ch.tracks, i, index, cost); to != i {
				move(ch.tracks, i, to)
				gained = true
			}
		}
		if !gained {
			return
		}
	}
}

// best is the place to which the i-th track should go.
func best(tracks []*track, i int, index map[*track]int, cost [][]int) int {
	t := index[tracks[i]]
	to, gain, least := i, 0, 0
	for j := i - 1; j >= 0; j-- {
		u := index[tracks[j]]
		if gain += cost[t][u] - cost[u][t]; gain < least {
			to, least = j, gain
		}
	}
	gain = 0
	for j := i + 1; j < len(tracks); j++ {
		u := index[tracks[j]]
		if gain += cost[u][t] - cost[t][u]; gain < least {
			to, least = j, gain
		}
	}
	return to
}

// assign gives the tracks their places, close to the left, those of wires that come from the right and go back to it
// close to the right. Each keeps clear of the notes at both edges that it passes, and of the tracks that it passes.
func (ch *channel) assign() {
	for i, t := range ch.tracks {
		t.x = ch.clear(0, t)
		for _, u := range ch.tracks[:i] {
			if t.passes(u) {
				t.x = max(t.x, u.x+trackGap)
			}
		}
		ch.wide = max(ch.wide, t.x+ch.clear(1, t))
	}
	for _, n := range ch.notes[0] {
		ch.wide = max(ch.wide, n.reach)
		for _, o := range ch.notes[1] {
			if n.meets(o.from, o.to) {
				ch.wide = max(ch.wide, n.reach+stubEnd+o.reach)
			}
		}
	}
	for _, o := range ch.notes[1] {
		ch.wide = max(ch.wide, o.reach)
	}
	for i := len(ch.tracks) - 1; i >= 0; i-- {
		t := ch.tracks[i]
		if slices.ContainsFunc(t.pins, func(p *pin) bool { return p.side == right }) {
			continue
		}
		most := ch.wide - ch.clear(1, t)
		for _, u := range ch.tracks[i+1:] {
			if t.passes(u) {
				most = min(most, u.x-trackGap)
			}
		}
		t.x = most
	}
}

// clear is how far from an edge of the channel a track must stay.
func (ch *channel) clear(edge int, t *track) MM {
	const bare MM = 2.4 // beside a box on which nothing is written
	far := bare
	for _, n := range ch.notes[edge] {
		if n.meets(t.low-0.3, t.high+0.3) || slices.Contains(t.pins, n.pin) {
			far = max(far, n.reach+stubEnd)
		}
	}
	return far
}

// passes says that two tracks lie beside each other somewhere.
func (t *track) passes(u *track) bool { return t.low <= u.high && u.low <= t.high }

// spread gives columns and channels their places from the left, and returns the width.
func (g *diagram) spread() MM {
	const bare MM = 4 // least width of a channel inside
	x := MM(0)
	for i, ch := range g.channels {
		ch.x = x
		wide := ch.wide
		if i > 0 && i < len(g.channels)-1 {
			wide = max(wide, bare)
		}
		x += wide
		if i < len(g.columns) {
			g.columns[i].x = x
			x += g.columns[i].wide
		}
	}
	return x
}

// at is where a track lies.
func (ch *channel) at(t *track) MM { return ch.x + t.x }

// paths draws each wire from terminal to terminal.
func (g *diagram) paths() {
	for _, w := range g.wires {
		w.path = []Point{{w.a.x(), w.a.y()}}
		if w.b == nil {
			w.path = append(w.path, Point{w.a.out(w.stub), w.a.y()})
			continue
		}
		for i, t := range w.tracks {
			from, to := w.a.y(), w.b.y()
			switch {
			case len(w.tracks) == 2 && i == 0:
				to = laneY(w.lane)
			case len(w.tracks) == 2:
				from = laneY(w.lane)
			}
			x := g.channels[t.pins[0].channel()].at(t)
			w.path = append(w.path, Point{x, from}, Point{x, to})
		}
		w.path = append(w.path, Point{w.b.x(), w.b.y()})
	}
}
