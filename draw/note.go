package draw

// note is what stands at the edge of a channel beside the wires that end there: labels, and the marks of cables. Nothing
// may go up or down through it.
type note struct {
	pin      *pin // whose label it is; nil for marks
	from, to MM
	reach    MM // from the edge of the column
}

// meets says that a note stands between two heights.
func (n note) meets(from, to MM) bool { return n.from < to && from < n.to }

// Where the label of a wire stands.
const (
	labelAt   MM = 1.1  // from the edge of the column
	labelBase MM = 0.87 // above the wire
)

// notes enters the labels at all pins, then the marks of cables beyond them.
func (g *diagram) notes() {
	for _, w := range g.wires {
		for _, p := range w.pins() {
			n := note{pin: p, from: p.y() - 0.7, to: p.y() + 0.7, reach: labelAt}
			if text := labelOf(p, g.id); text != "" {
				n.from = p.y() - labelBase - labelSize*ascent
				n.reach += Measure(text, labelSize, false)
			}
			ch := g.channels[p.channel()]
			ch.notes[1-p.side] = append(ch.notes[1-p.side], n)
		}
	}
	for _, w := range g.wires {
		if w.b == nil {
			const ring MM = 1
			edge, y := 1-w.a.side, w.a.y()
			w.stub = g.channels[w.a.channel()].beyond(edge, y-sheathBeyond, y+sheathBeyond, ring) - ring/2
		}
	}
	for _, s := range g.sheaths() {
		ch := g.channels[s.channel()]
		for _, t := range s.twists() {
			t.x = ch.beyond(1-s.side, t.top(), t.foot(), twistWide)
			g.twists = append(g.twists, t)
		}
		s.x = ch.beyond(1-s.side, s.top(), s.foot(), sheathWide)
		g.cables = append(g.cables, s)
	}
}

// beyond finds the place of a mark beyond what stands already at an edge of a channel between two heights, and enters it.
func (ch *channel) beyond(edge int, from, to, wide MM) (middle MM) {
	const gap MM = 0.5
	far := MM(0)
	for _, n := range ch.notes[edge] {
		if n.meets(from, to) {
			far = max(far, n.reach)
		}
	}
	ch.notes[edge] = append(ch.notes[edge], note{from: from, to: to, reach: far + gap + wide})
	return far + gap + wide/2
}

// out is a place so far out from the edge that a pin is on.
func (p *pin) out(by MM) MM {
	if p.side == left {
		return p.x() - by
	}
	return p.x() + by
}
