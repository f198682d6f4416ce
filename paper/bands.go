package paper

import "doorwright/draw"

// bands cuts a high drawing into pieces that are no higher than high, where it can be cut: between its boxes and texts.
// Lines that run across a cut go on in the next piece. One that cannot be cut stays whole.
func bands(s *draw.Sheet, high draw.MM) []*draw.Sheet {
	var all []*draw.Sheet
	for from := draw.MM(0); from < s.Height; {
		to := s.Height
		if s.Height-from > high {
			if to = cutAt(s, from, from+high); to <= from {
				return []*draw.Sheet{s}
			}
		}
		all = append(all, bandOf(s, from, to))
		from = to
	}
	return all
}

// cutAt is the lowest place between two heights where a cut goes through nothing but lines; the upper one when there is
// none.
func cutAt(s *draw.Sheet, from, to draw.MM) draw.MM {
	for crossed := true; crossed; {
		crossed = false
		for _, item := range s.Items {
			if _, line := item.(draw.Line); line {
				continue
			}
			if b := item.Bounds(); b.Top < to && b.Bottom > to {
				to, crossed = b.Top-hair, true
			}
		}
	}
	return max(to, from)
}

// bandOf is the part of a drawing between two heights, moved to the top.
func bandOf(s *draw.Sheet, from, to draw.MM) *draw.Sheet {
	part := &draw.Sheet{Title: s.Title, Width: s.Width, Height: to - from}
	for _, item := range s.Items {
		if l, is := item.(draw.Line); is {
			if l, any := within(l, from, to); any {
				part.Items = append(part.Items, l)
			}
		} else if top := item.Bounds().Top; top >= from && top < to {
			part.Items = append(part.Items, item)
		}
	}
	part.Items = placed(part, draw.Point{Y: -from}, 1)
	return part
}

// within is a line as far as it lies between two heights. It is right for lines along the axes, as drawings have them
// between boxes.
func within(l draw.Line, from, to draw.MM) (draw.Line, bool) {
	inside := false
	points := make([]draw.Point, len(l.Points))
	for i, p := range l.Points {
		points[i] = draw.Point{X: p.X, Y: min(max(p.Y, from), to)}
		inside = inside || p.Y >= from && p.Y < to || i > 0 && (p.Y < from) != (l.Points[i-1].Y < from)
	}
	l.Points = points
	return l, inside
}
