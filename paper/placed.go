package paper

import "doorwright/draw"

// trimmed is a drawing without the empty margin round it: the page has its own.
func trimmed(s *draw.Sheet) *draw.Sheet {
	if len(s.Items) == 0 {
		return s
	}
	b := s.Items[0].Bounds()
	for _, i := range s.Items[1:] {
		o := i.Bounds()
		b = draw.Box{
			Left: min(b.Left, o.Left), Top: min(b.Top, o.Top), Right: max(b.Right, o.Right), Bottom: max(b.Bottom, o.Bottom),
		}
	}
	b = b.Grown(0.1)
	return &draw.Sheet{
		Title: s.Title, Width: b.Width(), Height: b.Height(), Items: placed(s, draw.Point{X: -b.Left, Y: -b.Top}, 1),
	}
}

// placed are the items of a drawing, made larger or smaller and moved to a place on a page.
func placed(s *draw.Sheet, at draw.Point, scale draw.MM) []draw.Item {
	to := func(p draw.Point) draw.Point { return draw.Point{X: at.X + p.X*scale, Y: at.Y + p.Y*scale} }
	stroke := func(x draw.Stroke) draw.Stroke {
		x.Width *= scale
		return x
	}
	all := make([]draw.Item, 0, len(s.Items))
	for _, item := range s.Items {
		switch i := item.(type) {
		case draw.Line:
			points := make([]draw.Point, len(i.Points))
			for k, p := range i.Points {
				points[k] = to(p)
			}
			i.Points, i.Stroke = points, stroke(i.Stroke)
			item = i
		case draw.Rect:
			i.At, i.Width, i.Height, i.Radius, i.Stroke = to(i.At), i.Width*scale, i.Height*scale, i.Radius*scale, stroke(i.Stroke)
			item = i
		case draw.Circle:
			i.Centre, i.Radius, i.Stroke = to(i.Centre), i.Radius*scale, stroke(i.Stroke)
			item = i
		case draw.Arc:
			i.Centre, i.Radius, i.Stroke = to(i.Centre), i.Radius*scale, stroke(i.Stroke)
			item = i
		case draw.Text:
			i.At, i.Size = to(i.At), i.Size*scale
			item = i
		}
		all = append(all, item)
	}
	return all
}

// upright is a text that stands on its head turned over where it is.
func upright(t draw.Text) draw.Text {
	const capitals draw.MM = 0.73 // of the size: from the base line to the top of capitals
	t.Turn, t.At.Y = 0, t.At.Y+capitals*t.Size
	switch t.Anchor {
	case draw.Left:
		t.Anchor = draw.Right
	case draw.Right:
		t.Anchor = draw.Left
	}
	return t
}

// turned is a drawing turned to the left, so that its text reads upwards: a wide one on an upright page.
func turned(s *draw.Sheet) *draw.Sheet {
	to := func(p draw.Point) draw.Point { return draw.Point{X: p.Y, Y: s.Width - p.X} }
	out := &draw.Sheet{Title: s.Title, Width: s.Height, Height: s.Width}
	for _, item := range s.Items {
		switch i := item.(type) {
		case draw.Line:
			points := make([]draw.Point, len(i.Points))
			for k, p := range i.Points {
				points[k] = to(p)
			}
			i.Points = points
			item = i
		case draw.Rect:
			i.At = to(draw.Point{X: i.At.X + i.Width, Y: i.At.Y})
			i.Width, i.Height = i.Height, i.Width
			item = i
		case draw.Circle:
			i.Centre = to(i.Centre)
			item = i
		case draw.Arc:
			i.Centre, i.From = to(i.Centre), i.From-90
			item = i
		case draw.Text:
			i.At, i.Turn = to(i.At), i.Turn-90
			if i.Turn == -180 {
				i = upright(i)
			}
			item = i
		}
		out.Items = append(out.Items, item)
	}
	return out
}
