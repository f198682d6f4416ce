package draw

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// Unit draws one model by itself: its terminals in the order of the strip, with what stands behind them.
func Unit(id string, m *device.Model) *Sheet { return alone(id, m, nil) }

// mostStrip is the longest strip of a unit that is shown to be chosen: longer ones are told by their facts.
const mostStrip = 12

// Picture draws one model for somebody who chooses among several: the shape of its kind, and below it the terminals of the
// strip where they are few. It has no words but the labels.
func Picture(id string, m *device.Model) *Sheet {
	shown := *m
	if len(shown.Strip) > mostStrip {
		shown.Strip = nil
	}
	shape := shapeOf(m.Kind)
	if shape == nil {
		shape = func(*pen) {}
	}
	return alone(id, &shown, shape)
}

// alone draws one unit. With a shape, that stands at its head in place of its names.
func alone(id string, m *device.Model, shape func(*pen)) *Sheet {
	place := &job.Place{ID: "bench", Title: m.Title}
	d := &wiring.Device{ID: id, Title: m.Title, ModelID: id, Model: m, Place: place}
	plan := &wiring.Plan{Job: &job.Job{Title: m.Title, Places: []*job.Place{place}}, Devices: []*wiring.Device{d}}
	g := diagramOf(plan, &subject{
		heading: m.Title, middle: place, own: func(*wiring.Device) bool { return true },
		hidden: func(*wiring.Device, string) bool { return false }, left: func(*job.Place) bool { return false },
		serves: func(*wiring.Conductor) bool { return false },
	})
	g.sized()
	b := g.boxes[d]
	if shape != nil {
		b.id, b.title, b.together = nil, nil, false
		b.head = stepsFor(shapeHigh + 2*unitMargin)
	}
	g.placed()
	// Rooms for wires stand above the box.
	p := &pen{by: Point{unitMargin, unitMargin - b.bounds().Top}}
	g.plotBox(p, b)
	g.plotPins(p)
	if shape != nil {
		at := b.bounds()
		p.by = p.at(Point{(at.Left + at.Right) / 2, at.Top + unitMargin})
		shape(p)
	}
	s := &Sheet{Title: m.Title, Items: p.items}
	for _, i := range s.Items {
		s.Width, s.Height = max(s.Width, i.Bounds().Right+unitMargin), max(s.Height, i.Bounds().Bottom+unitMargin)
	}
	return s
}

// unitMargin is round a unit that is drawn by itself.
const unitMargin MM = 2
