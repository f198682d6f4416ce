package mend

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/document"
	"doorwright/job"
)

// What a mend says it sets is all that it sets: put into the text of the document, the finding goes and none comes.
func TestSetOfAMendIsTheMend(t *testing.T) {
	j, problems := job.Read("flawed", demo.Flawed)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	x := NewExaminer()
	e := x.Examine(j)
	x.All(j, e)
	before := keys(e.Findings)
	tried, seen, every := 0, 0, 1
	if testing.Short() { // as the race detector runs
		every = 5
	}
	for _, f := range e.Findings {
		for _, m := range f.Mends {
			if seen++; seen%every != 0 {
				continue
			}
			tree, err := document.ReadTree(demo.Flawed)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range m.Set {
				if err := job.Put(tree, strings.Split(c.Path, "."), c.Value); err != nil {
					t.Fatalf("%s: %v", m.Text, err)
				}
			}
			text, err := tree.Bytes()
			if err != nil {
				t.Fatal(err)
			}
			changed, problems := job.Read("mended", text)
			if len(problems) > 0 {
				t.Errorf("%s, set as it says: %v", m.Text, problems)
				continue
			}
			after := keys(x.Examine(changed).Findings)
			if after[f.Key()] {
				t.Errorf("%s, set as it says, leaves %s", m.Text, f.Key())
			}
			for k := range after {
				if !before[k] {
					t.Errorf("%s, set as it says, brings %s", m.Text, k)
				}
			}
			tried++
		}
	}
	if seen < 15 || tried == 0 {
		t.Errorf("only %d of %d mends", tried, seen)
	}
}
