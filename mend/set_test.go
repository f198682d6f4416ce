package mend

import (
	"testing"

	"doorwright/demo"
	"doorwright/document"
	"doorwright/job"
)

// What a mend says it sets is all that it sets: put into the text of the document, the finding goes and none comes.
func TestSetOfAMendIsTheMend(t *testing.T) {
	every := 1
	if testing.Short() { // as the race detector runs
		every = 5
	}
	if seen, tried := setsAreMends(t, demo.Flawed, every); seen < 15 || tried == 0 {
		t.Errorf("only %d of %d mends", tried, seen)
	}
}

// Runs that the document does not have get written out by a mend; the name of such a run has dots.
func TestSetOfAMendWritesRunsOut(t *testing.T) {
	if _, tried := setsAreMends(t, []byte(`
job: FAR
title: A far door
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, battery: battery-12-38, place: riser, zero-volt: earthed, works-to: 12 V}
controllers:
  C1: {model: controller-1-12, place: D1.box, feed: PS1}
doors:
  D1:
    title: Far door
    escape: none
    fire-rated: no
    controller: C1
    cable-length: 130 m
    entry: reader-pulse
    locks: [{model: strike-12-secure, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
`), 1); tried == 0 {
		t.Error("no mend was found")
	}
}

// setsAreMends puts what each mend of a job says it sets into the text of the document; of so many one.
func setsAreMends(t *testing.T, doc []byte, every int) (seen, tried int) {
	t.Helper()
	j, problems := job.Read("before", doc)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	x := NewExaminer()
	e := x.Examine(j)
	x.All(j, e)
	before := byKey(e.Findings)
	for _, f := range e.Findings {
		for _, m := range f.Mends {
			if seen++; seen%every != 0 {
				continue
			}
			tree, err := document.ReadTree(doc)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range m.Set {
				if err := job.Put(tree, job.Path(c.Path), c.Value); err != nil {
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
			after := byKey(x.Examine(changed).Findings)
			if _, stands := after[f.Key()]; stands {
				t.Errorf("%s, set as it says, leaves %s", m.Text, f.Key())
			}
			for k := range after {
				if _, ok := before[k]; !ok {
					t.Errorf("%s, set as it says, brings %s", m.Text, k)
				}
			}
			tried++
		}
	}
	return seen, tried
}
