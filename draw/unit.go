package draw

import (
	"math"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// Unit draws one model by itself: its terminals in the order of the strip, with what stands behind them.
func Unit(id string, m *device.Model) *Sheet {
	place := &job.Place{ID: "bench", Title: m.Title}
	d := &wiring.Device{ID: id, Title: m.Title, ModelID: id, Model: m, Place: place}
	plan := &wiring.Plan{Job: &job.Job{Title: m.Title, Places: []*job.Place{place}}, Devices: []*wiring.Device{d}}
	g := diagramOf(plan, &subject{
		heading: m.Title, middle: place, own: func(*wiring.Device) bool { return true },
		hidden: func(*wiring.Device, string) bool { return false }, left: func(*job.Place) bool { return false },
		serves: func(*wiring.Conductor) bool { return false },
	})
	g.lay()
	top := MM(math.Inf(1)) // of the uppermost box: rooms for wires stand above it
	for _, c := range g.columns {
		for _, gr := range c.groups {
			for _, b := range gr.boxes {
				top = min(top, b.bounds().Top)
			}
		}
	}
	p := &pen{by: Point{unitMargin, unitMargin - top}}
	s := &Sheet{Title: m.Title}
	for _, c := range g.columns {
		for _, gr := range c.groups {
			for _, b := range gr.boxes {
				g.plotBox(p, b)
			}
		}
	}
	g.plotPins(p)
	s.Items = p.items
	for _, i := range s.Items {
		s.Width, s.Height = max(s.Width, i.Bounds().Right+unitMargin), max(s.Height, i.Bounds().Bottom+unitMargin)
	}
	return s
}

// unitMargin is round a unit that is drawn by itself.
const unitMargin MM = 2
