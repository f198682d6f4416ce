package mend_test

import (
	"strings"
	"testing"

	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
)

// stores is two doors on one supply.
const stores = `job: S
title: Two stores
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, battery: battery-12-17, zero-volt: earthed}
controllers:
  C1: {model: controller-1-12, place: A.box, feed: PS1}
  C2: {model: controller-1-12, place: B.box, feed: PS1}
doors:
  A:
    title: First store
    controller: C1
    cable-length: 5 m
    escape: none
    fire-rated: no
    entry: reader-pulse
    locks: [{model: strike-12-secure, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
  B:
    title: Second store
    controller: C2
    cable-length: 5 m
    escape: none
    fire-rated: no
    entry: reader-pulse
    locks: [{model: strike-12-secure, handle: frees}]
    exit: [exit-button]
    contacts: [contact-surface]
runs:
  W1: {from: riser, to: A.box, cable: 2x1.5, length: 10 m}
  W2: {from: riser, to: B.box, cable: 2x1.5, length: 10 m}
`

// examinedFaults is a job with its faults tried at the first door.
func examinedFaults(t *testing.T, x *mend.Examiner, text string) (*job.Job, *mend.Examination) {
	t.Helper()
	j, problems := job.Read("job.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	e := x.Examine(j)
	e.Add(proof.TryFaults(e.Result, proof.SingleFaults, j.Doors[0], nil))
	return j, e
}

func shortFinding(e *mend.Examination) *proof.Finding {
	for i := range e.Findings {
		if e.Findings[i].Requirement == "short-stays-at-door" {
			return &e.Findings[i]
		}
	}
	return nil
}

// A short at one door puts both out while they hang on the supply itself, or on one output of its board; an output for
// each door, with a fuse or a limit, mends that (common practice, no source).
func TestAFuseForEachDoorKeepsAShortAtItsDoor(t *testing.T) {
	shared := strings.NewReplacer("feed: PS1}", "feed: PS1/1}", "zero-volt: earthed}", "zero-volt: earthed, board: board-12-8-fused}")
	for _, c := range []struct{ name, text, path, value string }{
		{"no board", stores, "supplies.PS1.board", "board-12-8-fused"},
		{"one output for both", shared.Replace(stores), "controllers.C1.feed", "PS1/2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			x := mend.NewExaminer()
			j, e := examinedFaults(t, x, c.text)
			f := shortFinding(e)
			if f == nil {
				t.Fatal("the short is not found")
			}
			x.Faults(j, e, nil)
			if f = shortFinding(e); !sets(f.Mends, c.path, c.value) {
				t.Fatalf("no mend sets %s to %s: %+v", c.path, c.value, f.Mends)
			}
		})
	}
	own := strings.Replace(shared.Replace(stores), "place: B.box, feed: PS1/1", "place: B.box, feed: PS1/2", 1)
	if _, e := examinedFaults(t, mend.NewExaminer(), own); shortFinding(e) != nil {
		t.Errorf("with an output for each door: %s", shortFinding(e).What)
	}
}

// sets says that a mend sets a field so.
func sets(mends []proof.Mend, path, value string) bool {
	for _, m := range mends {
		for _, s := range m.Set {
			if s.Path == path && s.Value == value {
				return true
			}
		}
	}
	return false
}
