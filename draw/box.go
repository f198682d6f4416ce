package draw

import "math"

// Box is a rectangle along the axes. Right is not left of Left, Bottom not above Top.
type Box struct{ Left, Top, Right, Bottom MM }

// Width is how wide the box is.
func (b Box) Width() MM { return b.Right - b.Left }

// Height is how high the box is.
func (b Box) Height() MM { return b.Bottom - b.Top }

// Overlaps says whether two boxes share more than an edge.
func (b Box) Overlaps(o Box) bool {
	const touch = 1e-6
	return b.Left < o.Right-touch && o.Left < b.Right-touch && b.Top < o.Bottom-touch && o.Top < b.Bottom-touch
}

// Grown is the box with so much more on every side.
func (b Box) Grown(by MM) Box { return Box{b.Left - by, b.Top - by, b.Right + by, b.Bottom + by} }

// with is the least box round both.
func (b Box) with(o Box) Box {
	return Box{min(b.Left, o.Left), min(b.Top, o.Top), max(b.Right, o.Right), max(b.Bottom, o.Bottom)}
}

// around is the least box round points.
func around(points ...Point) Box {
	if len(points) == 0 {
		return Box{}
	}
	b := Box{points[0].X, points[0].Y, points[0].X, points[0].Y}
	for _, p := range points[1:] {
		b = b.with(Box{p.X, p.Y, p.X, p.Y})
	}
	return b
}

// Bounds is the box round the line.
func (l Line) Bounds() Box { return around(l.Points...).Grown(l.Stroke.Width / 2) }

// Bounds is the box round the rectangle.
func (r Rect) Bounds() Box {
	return around(r.At, r.At.plus(r.Width, r.Height)).Grown(r.Stroke.Width / 2)
}

// Bounds is the box round the circle.
func (c Circle) Bounds() Box {
	return around(c.Centre).Grown(c.Radius + c.Stroke.Width/2)
}

// Bounds is the box round the arc.
func (a Arc) Bounds() Box {
	points := []Point{a.at(a.From), a.at(a.From + a.Sweep)}
	low, high := min(a.From, a.From+a.Sweep), max(a.From, a.From+a.Sweep)
	for quarter := math.Ceil(low/90) * 90; quarter < high; quarter += 90 {
		points = append(points, a.at(quarter))
	}
	return around(points...).Grown(a.Stroke.Width / 2)
}

// at is the point of the arc's circle at an angle.
func (a Arc) at(degrees float64) Point {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return a.Centre.plus(a.Radius*MM(cos), a.Radius*MM(sin))
}

// Bounds is the box round the text: as wide as it is set in DejaVu Sans, with room for accents and descenders.
func (t Text) Bounds() Box {
	wide := Measure(t.Text, t.Size, t.Bold)
	left := MM(0)
	switch t.Anchor {
	case Middle:
		left = -wide / 2
	case Right:
		left = -wide
	}
	top, bottom := -ascent*t.Size, descent*t.Size
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	turned := func(x, y MM) Point { return t.At.plus(x*MM(cos)-y*MM(sin), x*MM(sin)+y*MM(cos)) }
	return around(turned(left, top), turned(left+wide, top), turned(left, bottom), turned(left+wide, bottom))
}
