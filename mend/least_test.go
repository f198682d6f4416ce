package mend

import (
	"bytes"
	"slices"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/proof"
)

// Of mends of which one does all that another does and something beside, the other alone is listed.
func TestAMendThatHoldsAnotherIsLeftOut(t *testing.T) {
	j, wrong := job.Read("demo", demo.Brackwater)
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	set := func(text string, cost int, values ...string) *candidate {
		c := &candidate{text: text, cost: cost}
		for _, v := range values {
			c.edits = append(c.edits, edit{"title", v, func(d *job.Document) { d.Title = v }})
		}
		return c
	}
	a, b, other := set("a", 4, "a"), set("a and b", 2, "a", "b"), set("b and c", 3, "b", "c")
	twin := set("a again", 5, "a") // holds no more than the first: both stand
	var texts []string
	for _, m := range best(j, []*candidate{a, b, other, twin}) {
		texts = append(texts, m.Text)
	}
	if want := []string{"b and c", "a", "a again"}; !slices.Equal(texts, want) {
		t.Errorf("%q are listed, not %q", texts, want)
	}
}

// No finding of a door at the end of 900 m of cable lists a mend that holds another: thicker cable to the reader comes to rest, and so
// does that with thicker cable to the release beside.
func TestListedMendsHoldNoOther(t *testing.T) {
	far := bytes.Replace(demo.Brackwater, []byte("cable-length: 10 m"), []byte("cable-length: 900 m"), 1)
	j, wrong := job.Read("demo", far)
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	x := NewExaminer()
	e := x.Examine(j)
	x.All(j, e)
	n := 0
	for _, f := range e.Findings {
		for _, m := range f.Mends {
			for _, o := range f.Mends {
				n++
				if len(m.Set) > len(o.Set) && !slices.ContainsFunc(o.Set, func(c proof.Change) bool { return !slices.Contains(m.Set, c) }) {
					t.Errorf("%s %s: %q holds %q", f.Door, f.Requirement, m.Text, o.Text)
				}
			}
		}
	}
	if n == 0 {
		t.Error("no mends")
	}
}
