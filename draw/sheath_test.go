package draw

import (
	"testing"

	"doorwright/demo"
	"doorwright/wiring"
)

// Every run of which two cores lie together has an oval across them, dashed where the run has a screen; it crosses the
// wires of that run and of no other.
func TestCoresOfOneCableAreHeldTogether(t *testing.T) {
	p := planOf(t, demo.Brackwater)
	ovals, screened := 0, 0
	for _, d := range p.Job.Doors {
		s, g := wiringSheet(p, doorSubject(d))
		runs := map[string]*wiring.Conductor{}
		for _, w := range g.wires {
			if w.conductor.Run != nil {
				runs[w.conductor.Run.ID] = w.conductor
			}
		}
		for _, item := range s.Items {
			r, is := item.(Rect)
			c := runs[item.Object()]
			if !is || c == nil {
				continue
			}
			ovals++
			if has := len(c.Run.Type.Screens()) > 0; has != (r.Stroke.Dash == Dashed) {
				t.Errorf("%s: the oval of %s is %q, screened %v", d.ID, c.Run.ID, r.Stroke.Dash, has)
			} else if has {
				screened++
			}
			crossing := 0
			at := Box{r.At.X, r.At.Y, r.At.X + r.Width, r.At.Y + r.Height}
			for _, i := range s.Items {
				l, is := i.(Line)
				if !is {
					continue
				}
				for _, b := range l.stretches() {
					if !b.Overlaps(at) {
						continue
					}
					owner := ""
					for _, w := range g.wires {
						if w.conductor.ID == l.Object() && w.conductor.Run != nil {
							owner = w.conductor.Run.ID
						}
					}
					if owner != c.Run.ID {
						t.Errorf("%s: the oval of %s lies over %q", d.ID, c.Run.ID, l.Object())
					}
					crossing++
				}
			}
			if crossing < 2 {
				t.Errorf("%s: the oval of %s holds %d cores", d.ID, c.Run.ID, crossing)
			}
		}
	}
	if ovals < 30 || screened == 0 {
		t.Errorf("%d ovals, %d of screened cables", ovals, screened)
	}
}

// A relay's coil is joined with its blades, and an exit button has its head; both by a dashed line at the device.
func TestMechanicalLinks(t *testing.T) {
	p := planOf(t, demo.Brackwater)
	linked := map[string]bool{}
	for _, d := range p.Job.Doors {
		for _, i := range Wiring(p, d).Items {
			if l, is := i.(Line); is && l.Stroke == mechanical {
				linked[l.Object()] = true
			}
		}
	}
	for _, id := range []string{"plant.watch", "visitor.watch", "plant.exit1", "staff.exit1"} {
		if !linked[id] {
			t.Errorf("%s has no mechanical link: %v", id, linked)
		}
	}
	if linked["laboratory.exit1"] {
		t.Error("a sensor has the head of a button")
	}
}
