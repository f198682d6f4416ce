package draw

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/internal/site"
	"doorwright/job"
	"doorwright/wiring"
)

// planOf reads a job and plans it.
func planOf(t testing.TB, data []byte) *wiring.Plan {
	t.Helper()
	j, wrong := job.Read("job.yaml", data)
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return wiring.Make(j)
}

// checkWiring holds a diagram against the plan: each conductor once, between its terminals, over nothing else.
func checkWiring(t *testing.T, p *wiring.Plan, d *job.Door) {
	t.Helper()
	if checkDiagram(t, p, doorSubject(d)) == 0 && len(d.Locks) > 0 {
		t.Errorf("door %s has no conductor", d.ID)
	}
}

// checkDiagram gives how many conductors it found.
func checkDiagram(t *testing.T, p *wiring.Plan, d *subject) int {
	t.Helper()
	s, g := wiringSheet(p, d)
	for _, o := range overlaps(s) {
		t.Errorf("%s: %v lies over %v", d.id, o.a, o.b)
	}
	for _, o := range g.strays() {
		t.Errorf("%s: %s", d.id, o)
	}
	lands := map[string]bool{} // circles of terminals, by id and place
	drawn := map[string][]Line{}
	sheet := Box{0, 0, s.Width, s.Height}
	for _, i := range s.Items {
		switch i := i.(type) {
		case Circle:
			lands[fmt.Sprint(i.Of, i.Centre)] = true
		case Line:
			drawn[i.Object()] = append(drawn[i.Object()], i)
		}
		if b := i.Bounds(); b.Left < sheet.Left || b.Top < sheet.Top || b.Right > sheet.Right || b.Bottom > sheet.Bottom {
			t.Errorf("%s: %v is not on the sheet", d.id, i)
		}
	}
	count := 0
	for _, c := range p.Conductors {
		if !d.serves(c) {
			continue
		}
		count++
		lines := drawn[c.ID]
		if len(lines) != 1 {
			t.Errorf("%s: %s is drawn %d times", d.id, c.ID, len(lines))
			continue
		}
		points := lines[0].Points
		for i, e := range []wiring.End{c.A, c.B} {
			at := points[i*(len(points)-1)]
			if e.Device != nil && !lands[fmt.Sprint(pinOf(e), at)] {
				t.Errorf("%s: %s does not end on %s", d.id, c.ID, e)
			}
		}
	}
	return count
}

// pinOf is the id of the terminal on which an end lands.
func pinOf(e wiring.End) string {
	if t := e.Device.Model.Reach(e.Pin); t != nil {
		return e.Device.ID + "." + t.Pin
	}
	return e.String()
}

func TestEveryConductorOfTheDemoIsDrawnOnce(t *testing.T) {
	for _, data := range [][]byte{demo.Brackwater, demo.Flawed} {
		p := planOf(t, data)
		if len(p.Job.Doors) == 0 {
			t.Fatal("no doors")
		}
		for _, d := range p.Job.Doors {
			checkWiring(t, p, d)
		}
	}
}

func TestEveryConductorOfAThousandDoorsIsDrawnOnce(t *testing.T) {
	p := planOf(t, site.Generate(1000))
	if len(p.Job.Doors) != 1000 {
		t.Fatal("not a thousand doors")
	}
	for _, d := range p.Job.Doors {
		checkWiring(t, p, d)
	}
}

// What no door's drawing shows, a supply's does: together they show every conductor of the plan.
func TestDrawingsTogetherShowEveryConductor(t *testing.T) {
	for _, data := range [][]byte{demo.Brackwater, demo.Flawed, thirtyTwo(), site.Generate(60)} {
		p := planOf(t, data)
		var all []*subject
		for _, s := range p.Job.Supplies {
			all = append(all, supplySubject(s))
			if checkDiagram(t, p, supplySubject(s)) == 0 {
				t.Errorf("supply %s has no conductor", s.ID)
			}
		}
		for _, d := range p.Job.Doors {
			all = append(all, doorSubject(d))
		}
		for _, c := range p.Conductors {
			if !slices.ContainsFunc(all, func(s *subject) bool { return s.serves(c) }) {
				t.Errorf("%s is on no drawing", c.ID)
			}
		}
	}
}

// The parts of a diagram that no page has room for show each conductor once, each part by the laws of the whole.
func TestPartsTogetherShowEveryConductorOnce(t *testing.T) {
	parted := 0
	for _, data := range [][]byte{demo.Brackwater, site.Generate(40)} {
		p := planOf(t, data)
		for _, d := range p.Job.Doors {
			of := doorSubject(d)
			want := 0
			for _, c := range p.Conductors {
				if of.serves(c) {
					want++
				}
			}
			g := diagramOf(p, of)
			var places [][]*job.Place
			for _, c := range g.columns {
				for _, gr := range c.groups {
					if !c.middle {
						places = append(places, []*job.Place{gr.place})
					}
				}
			}
			if len(places) < 2 {
				continue
			}
			got := 0
			for _, s := range partsOf(p, of, places) {
				got += checkDiagram(t, p, s)
			}
			if got != want {
				t.Errorf("%s: the parts show %d of %d conductors", d.ID, got, want)
			}
			parted++
		}
	}
	if parted < 30 {
		t.Errorf("only %d doors in parts", parted)
	}
}

// What fits is one drawing; what does not is drawn in two, then in more, down to place by place, and names its parts.
func TestADiagramIsPartedAsFarAsNeeded(t *testing.T) {
	p := planOf(t, demo.Brackwater)
	for _, d := range p.Job.Doors {
		whole := WiringParts(p, d, false, func(*Sheet) bool { return true })
		sides := WiringParts(p, d, false, func(s *Sheet) bool { return s.Width < whole[0].Width })
		never := WiringParts(p, d, false, func(*Sheet) bool { return false })
		if len(whole) != 1 || len(sides) < 2 || len(never) < len(sides) {
			t.Errorf("%s: %d, %d and %d drawings", d.ID, len(whole), len(sides), len(never))
		}
		for i, s := range never {
			says := dump(s)
			if want := fmt.Sprintf("Part %d of %d;", i+1, len(never)); !strings.Contains(says, want) {
				t.Errorf("%s: a part does not say %q", d.ID, want)
			}
		}
	}
}

// A run straight from one side of the door to the other takes its wires over all columns between.
func TestWiresOverColumns(t *testing.T) {
	text := strings.Replace(string(demo.Brackwater), "  # Out on the pier.",
		"  W13: {from: records.out, to: records.in, cable: 4x2x0.22s, length: 3 m}\n  # Out on the pier.", 1)
	p := planOf(t, []byte(text))
	for _, d := range p.Job.Doors {
		if d.ID != "records" {
			continue
		}
		checkWiring(t, p, d)
		_, g := wiringSheet(p, doorSubject(d))
		if !slices.ContainsFunc(g.wires, func(w *wire) bool { return w.lane > 0 }) {
			t.Error("no wire goes over the columns; the test has lost its case")
		}
	}
}

func TestSameJobSameDrawing(t *testing.T) {
	p, q := planOf(t, demo.Brackwater), planOf(t, demo.Brackwater)
	for i, d := range p.Job.Doors {
		if dump(Wiring(p, d)) != dump(Wiring(q, q.Job.Doors[i])) {
			t.Errorf("door %s is drawn in two ways", d.ID)
		}
	}
}

func TestWiringGolden(t *testing.T) {
	p := planOf(t, demo.Brackwater)
	for _, d := range p.Job.Doors {
		if d.ID == "staff" || d.ID == "gauge" {
			golden(t, "wiring-"+d.ID, Wiring(p, d))
		}
	}
}

// BenchmarkWiring tracks the quality of the layouts of the demo beside the time they take.
func BenchmarkWiring(b *testing.B) {
	p := planOf(b, demo.Brackwater)
	var q Quality
	for b.Loop() {
		for _, d := range p.Job.Doors {
			Wiring(p, d)
		}
	}
	for _, d := range p.Job.Doors {
		of := WiringQuality(p, d)
		q.Wires += of.Wires
		q.Crossings += of.Crossings
		q.Bends += of.Bends
		q.Overlaps += of.Overlaps
		q.Length += of.Length
	}
	b.ReportMetric(float64(q.Wires), "wires")
	b.ReportMetric(float64(q.Crossings), "crossings")
	b.ReportMetric(float64(q.Bends), "bends")
	b.ReportMetric(float64(q.Overlaps), "overlaps")
	b.ReportMetric(float64(q.Length), "mm")
}
