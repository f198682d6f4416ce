package job_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"doorwright/demo"
	"doorwright/document"
	"doorwright/job"
)

// What differs between two documents differs between what Apart leaves of them, and nothing else does.
func TestApartLeavesWhatDiffers(t *testing.T) {
	j, problems := job.Read("demo", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := j.Document.Clone(), j.Document.Clone()
		for range rapid.IntRange(0, 4).Draw(t, "changes") {
			switch rapid.IntRange(0, 5).Draw(t, "which") {
			case 0:
				b.Doors[rapid.IntRange(0, len(b.Doors)-1).Draw(t, "door")].Value.Title += " two"
			case 1:
				i := rapid.IntRange(0, len(b.Runs)-1).Draw(t, "run")
				b.Runs = slices.Delete(b.Runs, i, i+1)
			case 2:
				b.Places = append(b.Places, document.Entry[job.PlaceDoc]{Key: "loft", Value: job.PlaceDoc{Title: "loft"}})
			case 3:
				b.Supplies[0].Value.Tells = rapid.SampledFrom([]string{"", "gauge", "plant"}).Draw(t, "tells")
			case 4:
				b.Title += "!"
			case 5:
				b.Runs[0].Key += "x"
			}
		}
		named := []string{"doors", rapid.SampledFrom(b.Doors).Draw(t, "named").Key}
		x, y := job.Apart(a, b, named)
		whole, apart := compared(t, a, b), compared(t, x, y)
		if !reflect.DeepEqual(whole, apart) {
			t.Errorf("whole %+v\napart %+v", whole, apart)
		}
		if _, ok := x.Doors.Get(named[1]); !ok || len(x.Doors) > 6 {
			t.Errorf("%d doors are left, %s among them: %v", len(x.Doors), named[1], ok)
		}
	})
}

func compared(t *rapid.T, a, b *job.Document) []document.Change {
	t.Helper()
	var text [2][]byte
	for i, d := range []*job.Document{a, b} {
		var err error
		if text[i], err = job.Print(d); err != nil {
			t.Fatal(err)
		}
	}
	all, err := document.Compare(text[0], text[1])
	if err != nil {
		t.Fatal(err)
	}
	return all
}
