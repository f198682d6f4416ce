package draw

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/internal/site"
	"doorwright/wiring"
)

// Every run of which two cores lie together has an oval across them, dashed where the run has a screen and then across a
// single core as well; it crosses the wires of that run and of no other.
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
				if !is || l.Object() == c.Run.ID { // the mark of its twist, the bar where its screen ends
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
			if least := map[bool]int{true: 1, false: 2}[r.Stroke.Dash == Dashed]; crossing < least {
				t.Errorf("%s: the oval of %s holds %d cores", d.ID, c.Run.ID, crossing)
			}
		}
	}
	if ovals < 30 || screened == 0 {
		t.Errorf("%d ovals, %d of screened cables", ovals, screened)
	}
}

// At both ends of each core of a twisted group a slanted stroke crosses it, and crosses cores of that group alone. Each core
// of a screened cable goes through a dashed oval. The foot of the drawing says which cores are twisted together.
func TestTwistedAndScreenedCoresAreMarked(t *testing.T) {
	twisted, screened, bars := 0, 0, 0
	for _, data := range [][]byte{demo.Brackwater, site.Generate(40)} {
		p := planOf(t, data)
		for _, d := range p.Job.Doors {
			s, g := wiringSheet(p, doorSubject(d))
			words := ""
			for _, i := range s.Items {
				if x, is := i.(Text); is {
					words += x.Text + " "
				}
			}
			for _, w := range g.wires {
				c := w.conductor
				if c.Kind != wiring.Core {
					continue
				}
				var marks, ovals int
				for k, x := range w.pins() {
					end := around(w.path[k*(len(w.path)-1)], w.path[k*(len(w.path)-3)+1])
					for _, m := range g.twists {
						if at := m.pins[0].out(m.x); m.run == c.Run && end.Left < at && at < end.Right && m.top() < x.y() && x.y() < m.foot() {
							marks++
							for _, o := range m.pins {
								if o.wire.conductor.Core.Pair != c.Core.Pair || o.wire.conductor.Run != c.Run {
									t.Errorf("%s: %s and %s are marked as twisted", d.ID, c.ID, o.wire.conductor.ID)
								}
							}
						}
					}
					for _, m := range g.cables {
						if at := m.pins[0].out(m.x); m.run == c.Run && end.Left < at && at < end.Right && m.top() < x.y() && x.y() < m.foot() {
							ovals++
						}
					}
				}
				if want := map[bool]int{true: 2}[c.Core.Pair > 0]; marks != want {
					t.Errorf("%s: %s bears %d marks of a twist, not %d", d.ID, c.ID, marks, want)
				}
				if len(c.Run.Type.Screens()) > 0 {
					screened++
					if ovals != 2 {
						t.Errorf("%s: %s goes through %d ovals", d.ID, c.ID, ovals)
					}
				}
				if c.Core.Pair > 0 {
					twisted++
					if !strings.Contains(words, runTag(c.Run, d.ID)+": ") || !strings.Contains(words, "twisted together") {
						t.Errorf("%s: nothing says what is twisted in %s", d.ID, c.Run.ID)
					}
				}
			}
			for _, m := range g.cables {
				if m.cut {
					bars++
				}
			}
		}
	}
	if twisted < 15 || screened < 100 || bars < 20 {
		t.Errorf("%d twisted cores, %d screened ones, %d screens that end insulated", twisted, screened, bars)
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
