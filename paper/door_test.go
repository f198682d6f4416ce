package paper_test

import (
	"testing"

	"doorwright/draw"
	"doorwright/paper"
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

// The words of a door sheet are set in 7 points or more; smaller are only the hints in the corners of boxes, the names of
// the fields of the title block, the legend, and what stands in the wiring diagram, which has a scale of its own.
func TestADoorSheetIsSetInSevenPoints(t *testing.T) {
	const sevenPoints draw.MM = 7 * 25.4 / 72
	w := demoWork(t)
	for _, d := range w.Job.Doors {
		drawn := map[string]bool{}
		for _, item := range append(draw.WiringPart(w.Plan, d).Items, draw.ElevationPart(w.Plan, d, 102).Items...) {
			if x, is := item.(draw.Text); is {
				drawn[x.Text] = true
			}
		}
		n := 0
		for _, s := range doorSheet(t, w, d.ID).Pages {
			for _, item := range s.Items {
				x, is := item.(draw.Text)
				if !is || drawn[x.Text] || x.Ink == draw.Grey && x.Size < 2.2 {
					continue
				}
				n++
				if x.Size < sevenPoints-0.001 && x.Size > 0 {
					t.Errorf("%s: %q is set in %.1f points", d.ID, x.Text, float64(x.Size)*72/25.4)
				}
			}
		}
		if n < 200 {
			t.Errorf("%s: only %d texts", d.ID, n)
		}
	}
}
