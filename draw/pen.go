package draw

// pen collects items, moved by an offset.
type pen struct {
	items []Item
	by    Point
}

// Thin strokes of every drawing.
var (
	hair   = Stroke{Width: 0.18, Ink: Grey}
	thin   = Stroke{Width: 0.25, Ink: Black}
	medium = Stroke{Width: 0.4, Ink: Black}
	dashed = Stroke{Width: 0.25, Ink: Black, Dash: Dashed}
)

func (p *pen) at(q Point) Point { return q.plus(p.by.X, p.by.Y) }

func (p *pen) line(of string, s Stroke, points ...Point) { p.shape(of, s, NoInk, false, points...) }

func (p *pen) shape(of string, s Stroke, fill Ink, closed bool, points ...Point) {
	moved := make([]Point, len(points))
	for i, q := range points {
		moved[i] = p.at(q)
	}
	p.items = append(p.items, Line{Of: Of(of), Stroke: s, Fill: fill, Points: moved, Closed: closed})
}

func (p *pen) rect(of string, s Stroke, fill Ink, at Point, wide, high, radius MM) {
	p.items = append(p.items, Rect{
		Of: Of(of), Stroke: s, Fill: fill, At: p.at(at), Width: wide, Height: high, Radius: radius,
	})
}

func (p *pen) circle(of string, s Stroke, fill Ink, centre Point, radius MM) {
	p.items = append(p.items, Circle{Of: Of(of), Stroke: s, Fill: fill, Centre: p.at(centre), Radius: radius})
}

func (p *pen) arc(of string, s Stroke, centre Point, radius MM, from, sweep float64) {
	p.items = append(p.items, Arc{Of: Of(of), Stroke: s, Centre: p.at(centre), Radius: radius, From: from, Sweep: sweep})
}

// text writes one line; nothing when it is empty.
func (p *pen) text(t Text) {
	if t.Text == "" {
		return
	}
	if t.Ink == NoInk {
		t.Ink = Black
	}
	t.At = p.at(t.At)
	p.items = append(p.items, t)
}

// lines writes lines one below the other, the first on the base line of t, and returns the base line of the next.
func (p *pen) lines(t Text, lines []string) MM {
	for _, l := range lines {
		t.Text = l
		p.text(t)
		t.At.Y += t.Size * lineHigh
	}
	return t.At.Y
}
