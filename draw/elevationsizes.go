package draw

import (
	"cmp"
	"slices"

	"doorwright/unit"
)

// dimensions draws heights and distances of what is on the wall, each once, those nearest to the opening first. Figures
// come last, so that no line goes through them.
func (v *view) dimensions() {
	marks := slices.DeleteFunc(slices.Clone(v.marks), func(m *mark) bool { return m.inside != v.inside || !m.onWall })
	slices.SortStableFunc(marks, func(m, o *mark) int { return cmp.Compare(m.beside, o.beside) })
	var tall []string
	for _, m := range marks {
		if text := v.bracketed(m.height, m.fitted.Height); !slices.Contains(tall, text) {
			v.tall(m, len(tall), text)
			tall = append(tall, text)
		}
	}
	marks = slices.CompactFunc(marks, func(m, o *mark) bool {
		return v.bracketed(m.beside, m.fitted.Beside) == v.bracketed(o.beside, o.fitted.Beside)
	})
	for i, m := range marks {
		v.extend(v.place(m).X, i)
		v.extend(v.edge(), i)
	}
	for i, m := range marks {
		at, edge := v.place(m).X, v.edge()
		v.measure(Point{min(edge, at), v.row(i)}, Point{max(edge, at), v.row(i)}, v.bracketed(m.beside, m.fitted.Beside))
	}
	v.sizes(len(marks))
}

// row is the height of a row of dimensions below the floor.
func (v *view) row(n int) MM { return v.floor + 4 + 4*MM(n) }

// extend draws the line from the floor to a row of dimensions.
func (v *view) extend(x MM, row int) {
	v.pen.line("", hair, Point{x, v.floor + 0.6}, Point{x, v.row(row) + 1})
}

// tall draws the height of a device on the wall, beside it.
func (v *view) tall(m *mark, n int, text string) {
	at, away := v.place(m), v.away()
	x := v.edge() + away*(MM(v.wall)*v.scale-5*MM(n)-3)
	v.pen.line("", hair, Point{at.X + away*(MM(plate)*v.scale/2+4.9), at.Y}, Point{x + away, at.Y})
	v.measure(Point{x, v.floor}, Point{x, at.Y}, text)
}

// edge is the edge of the opening from which devices on the wall are measured.
func (v *view) edge() MM {
	if v.away() > 0 {
		return v.x(v.width)
	}
	return v.x(0)
}

// bracketed is a figure, in brackets when it was taken and not stated.
func (e *elevation) bracketed(v, stated unit.Metre) string {
	if stated == 0 {
		return "(" + e.told(v) + ")"
	}
	return e.told(v)
}

// sizes draws the clear width in a row below the floor, and the clear height.
func (v *view) sizes(row int) {
	left, right := v.x(0), v.x(v.width)
	v.extend(left, row)
	v.extend(right, row)
	v.measure(Point{left, v.row(row)}, Point{right, v.row(row)}, v.bracketed(v.width, v.door.Opening.Width))
	x := v.x(0) - 7
	if !v.hingesLeft() {
		x = v.x(v.width) + 7
	}
	v.measure(Point{x, v.floor}, Point{x, v.y(v.high)}, v.bracketed(v.high, v.door.Opening.Height))
}

// measure draws a dimension line with slashes at its ends and the figure on it, beside it where it is too short.
func (v *view) measure(a, b Point, text string) {
	v.pen.line("", hair, a, b)
	for _, q := range []Point{a, b} {
		v.pen.line("", thin, q.plus(-0.7, 0.7), q.plus(0.7, -0.7))
	}
	const size MM = 1.9
	wide := Measure(text, size, false)
	if a.X == b.X {
		v.pen.text(Text{At: Point{a.X - 0.5, (a.Y + b.Y) / 2}, Size: size, Anchor: Middle, Turn: -90, Text: text})
		return
	}
	at := Point{(a.X + b.X) / 2, a.Y - 0.6}
	if b.X-a.X < wide+1 {
		at = Point{b.X + 1.2 + wide/2, a.Y + 0.6}
		if !v.hingesLeft() {
			at.X = a.X - 1.2 - wide/2
		}
	}
	v.pen.rect("", Stroke{}, Paper, at.plus(-wide/2-0.3, -size*ascent), wide+0.6, size*ascent+0.2, 0)
	v.pen.text(Text{At: at, Size: size, Anchor: Middle, Text: text})
}
