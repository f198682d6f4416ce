package paper_test

import (
	"testing"

	"doorwright/draw"
	"doorwright/internal/site"
	"doorwright/job"
	"doorwright/paper"
	"doorwright/wiring"
)

// A technician carries two to four pages to a door, with or without what was recorded.
func TestADoorSheetHasAtMostFourPages(t *testing.T) {
	recorded := demoWork(t)
	for _, w := range []*paper.Work{recorded, paper.NewWork(recorded.Examination, nil)} {
		for _, size := range paper.Sizes() {
			for _, d := range w.Job.Doors {
				p, err := w.DoorSheet(frame(t, size.Name), d)
				if err != nil {
					t.Fatal(err)
				}
				if n := len(p.Pages); n < 2 || n > 4 {
					t.Errorf("the sheet of %s on %s has %d pages", d.ID, size.Name, n)
				}
				neat(t, size.Name+" "+d.ID, p)
			}
		}
	}
}

// No text of a door sheet is smaller than 6 points, and none but hints, names of fields, the legend and what stands in the
// wiring diagram smaller than 7. The diagram of a very large door, as wide as the page, may have 5.7.
func TestADoorSheetIsSetInSixPointsOrMore(t *testing.T) {
	const point draw.MM = 25.4 / 72
	check := func(w *paper.Work, least, usual draw.MM) {
		for _, size := range paper.Sizes() {
			for _, d := range w.Job.Doors {
				p, err := w.DoorSheet(frame(t, size.Name), d)
				if err != nil {
					t.Fatal(err)
				}
				drawn := map[string]bool{}
				for _, item := range append(wiringOf(w.Plan, d), draw.ElevationPart(w.Plan, d, 102).Items...) {
					if x, is := item.(draw.Text); is {
						drawn[x.Text] = true
					}
				}
				n := 0
				for _, s := range p.Pages {
					for _, item := range s.Items {
						x, is := item.(draw.Text)
						if !is || x.Text == "" {
							continue
						}
						n++
						want := usual * point
						if drawn[x.Text] || x.Ink == draw.Grey {
							want = least * point
						}
						if x.Size < want-0.001 {
							t.Errorf("%s on %s: %q is set in %.2f points", d.ID, size.Name, x.Text, float64(x.Size/point))
						}
					}
				}
				if n < 200 {
					t.Errorf("%s: only %d texts", d.ID, n)
				}
			}
		}
	}
	check(demoWork(t), 6, 7)
	check(workOf(t, site.Generate(brief(12, 2))), 5.7, 5.7)
}

// wiringOf are the items of the wiring diagram of a door.
func wiringOf(p *wiring.Plan, d *job.Door) []draw.Item {
	return draw.Wiring(p, d).Items
}
