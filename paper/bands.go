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
			for _, piece := range within(l, from, to) {
				part.Items = append(part.Items, piece)
			}
		} else if top := item.Bounds().Top; top >= from && top < to {
			part.Items = append(part.Items, item)
		}
	}
	part.Items = placed(part, draw.Point{Y: -from}, 1)
	return part
}

// within are the pieces of a line that lie between two heights. One that is closed is not cut: it belongs where it begins.
func within(l draw.Line, from, to draw.MM) []draw.Line {
	if top := l.Bounds().Top; l.Closed && top >= from && top < to {
		return []draw.Line{l}
	} else if l.Closed {
		return nil
	}
	var all []draw.Line
	var piece []draw.Point
	end := func() {
		if len(piece) > 1 {
			part := l
			part.Points = piece
			all = append(all, part)
		}
		piece = nil
	}
	for i := 1; i < len(l.Points); i++ {
		a, b, any := clipped(l.Points[i-1], l.Points[i], from, to)
		if !any {
			end()
			continue
		}
		if n := len(piece); n == 0 || piece[n-1] != a {
			end()
			piece = append(piece, a)
		}
		piece = append(piece, b)
	}
	end()
	return all
}

// clipped is the part of a stretch of line between two heights; false when it lies outside. One that runs along a cut
// belongs below it.
func clipped(a, b draw.Point, from, to draw.MM) (draw.Point, draw.Point, bool) {
	if max(a.Y, b.Y) < from || min(a.Y, b.Y) >= to || max(a.Y, b.Y) == from && a.Y != b.Y {
		return a, b, false
	}
	at := func(y draw.MM) draw.Point { return draw.Point{X: a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), Y: y} }
	clip := func(p draw.Point) draw.Point {
		switch {
		case p.Y < from:
			return at(from)
		case p.Y > to:
			return at(to)
		}
		return p
	}
	return clip(a), clip(b), true
}
