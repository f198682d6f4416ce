package main

import (
	"bytes"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/paper"
)

// The papers of one door, for which only what shares copper with it is examined, are byte for byte those that are made from
// the examination of the whole job.
func TestPapersOfOneDoorAreThoseOfTheWholeJob(t *testing.T) {
	j, problems := job.Read("brackwater.yaml", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	w := paper.NewWork(mend.NewExaminer().Examine(j), nil)
	a4, _ := paper.FindSize("a4")
	stock := paper.Stock{Page: a4, Columns: 3, Rows: 8, Wide: 64, High: 34, Across: 64, Down: 34}.Centred()
	for _, d := range j.Doors {
		sheet, err := w.DoorSheet(paper.Frame{Size: a4}, d)
		if err != nil {
			t.Fatal(err)
		}
		labels, err := w.Labels(stock, d)
		if err != nil {
			t.Fatal(err)
		}
		for name, p := range map[string]*paper.Paper{"door-sheet": sheet, "labels": labels} {
			want, err := p.PDF()
			if err != nil {
				t.Fatal(err)
			}
			if got := printed(t, "paper", name, "demo:brackwater", "--door", d.ID); !bytes.Equal([]byte(got), want) {
				t.Errorf("%s of %s: %d bytes, of the whole job %d, or others", name, d.ID, len(got), len(want))
			}
		}
	}
}
