package draw

import (
	"doorwright/job"
	"doorwright/wiring"
)

// Quality is how well a wiring diagram is laid out.
type Quality struct {
	Wires     int
	Crossings int // of one wire over another
	Bends     int
	Overlaps  int // of text with text or a line, of a wire with a device or along another wire, of devices: none is right
	Length    MM  // of all wires
}

// WiringQuality judges the layout of a door's wiring diagram.
func WiringQuality(p *wiring.Plan, d *job.Door) Quality {
	s, g := wiringSheet(p, doorSubject(d))
	q := Quality{Wires: len(g.wires), Overlaps: len(overlaps(s)) + len(g.strays())}
	for i, w := range g.wires {
		q.Bends += len(w.path) - 2
		for k := range w.path[1:] {
			q.Length += length(w.path[k], w.path[k+1])
		}
		for _, v := range g.wires[:i] {
			q.Crossings += crossings(w.path, v.path)
		}
	}
	return q
}

// length is that of a stretch along one axis.
func length(a, b Point) MM { return max(a.X-b.X, b.X-a.X) + max(a.Y-b.Y, b.Y-a.Y) }

// crossings counts the places where a level stretch of one path and an upright one of another meet.
func crossings(v, w []Point) int {
	n := 0
	for i := range v[1:] {
		for j := range w[1:] {
			a, b := around(v[i], v[i+1]), around(w[j], w[j+1])
			if a.Width() < b.Width() {
				a, b = b, a
			}
			if a.Left < b.Left && b.Left < a.Right && b.Top < a.Top && a.Top < b.Bottom {
				n++
			}
		}
	}
	return n
}

// overlap is two items that lie over each other and should not.
type overlap struct{ a, b Item }

// overlaps finds texts that lie over another text, over a line or over the outline of an oval.
func overlaps(s *Sheet) []overlap {
	var all []overlap
	type strip struct {
		item  Item
		boxes []Box
	}
	var texts, lines []strip
	for _, i := range s.Items {
		switch i := i.(type) {
		case Text:
			texts = append(texts, strip{i, []Box{i.Bounds()}})
		case Line:
			lines = append(lines, strip{i, i.stretches()})
		case Rect:
			if i.Fill == NoInk {
				lines = append(lines, strip{i, []Box{i.Bounds()}})
			}
		}
	}
	for n, t := range texts {
		for _, u := range append(texts[:n:n], lines...) {
			for _, b := range u.boxes {
				if b.Overlaps(t.boxes[0]) {
					all = append(all, overlap{t.item, u.item})
					break
				}
			}
		}
	}
	return all
}

// stretches are the boxes round the straight parts of a line.
func (l Line) stretches() []Box {
	points := l.Points
	if l.Closed {
		points = append(points[:len(points):len(points)], points[0])
	}
	var all []Box
	for i := 1; i < len(points); i++ {
		all = append(all, around(points[i-1], points[i]).Grown(l.Stroke.Width/2))
	}
	return all
}

// strays finds wires that pass through a device, devices that lie over each other, and wires that run along each other
// on one line.
func (g *diagram) strays() []string {
	var all []string
	var boxes []Box
	var names []string
	for _, d := range g.plan.Devices {
		if b := g.boxes[d]; b != nil {
			boxes, names = append(boxes, b.bounds()), append(names, d.ID)
		}
	}
	for i, b := range boxes {
		for j, o := range boxes[:i] {
			if b.Overlaps(o) {
				all = append(all, names[i]+" over "+names[j])
			}
		}
	}
	for i, w := range g.wires {
		for k := range w.path[1:] {
			stretch := around(w.path[k], w.path[k+1])
			for j, b := range boxes {
				if stretch.Overlaps(b) || stretch.Grown(0.01).Overlaps(b.Grown(-0.02)) {
					all = append(all, w.conductor.ID+" through "+names[j])
				}
			}
			for _, v := range g.wires[:i] {
				if along(stretch, v.path) {
					all = append(all, w.conductor.ID+" along "+v.conductor.ID)
				}
			}
		}
	}
	return all
}

// along says that a path has a stretch so close beside another one that the two would be taken for one.
func along(stretch Box, path []Point) bool {
	const apart = 0.8
	for i := range path[1:] {
		o := around(path[i], path[i+1])
		level := stretch.Width() > stretch.Height()
		if level != (o.Width() > o.Height()) {
			continue
		}
		near := stretch
		if level {
			near.Top, near.Bottom = near.Top-apart, near.Bottom+apart
			o.Bottom += 1e-3
		} else {
			near.Left, near.Right = near.Left-apart, near.Right+apart
			o.Right += 1e-3
		}
		if near.Overlaps(o) {
			return true
		}
	}
	return false
}

// bounds is the box on the diagram.
func (b *box) bounds() Box {
	c := b.group.column
	top := c.y(b.group.steps + b.steps)
	last := b.head
	if n := len(b.rows); n > 0 {
		last = b.rows[n-1].steps + b.rows[n-1].high()
	}
	bottom := top + MM(last)*pitch
	if b.torn {
		bottom += pitch / 2
	}
	return Box{c.x, top, c.x + c.wide, bottom}
}
