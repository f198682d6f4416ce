package paper

import "doorwright/draw"

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
