package mend_test

import (
	"fmt"
	"slices"
	"testing"

	"doorwright/document"
	"doorwright/job"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/wiring"
)

// gates is as many gates of two leaves on one supply, each over a cable of its own.
func gates(supply, release string, cables ...string) string {
	text := `job: G
title: Gates
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: ` + supply + `, battery: battery-12-7, place: riser, zero-volt: earthed, works-to: 12 V}
`
	controllers, doors, runs := "controllers:\n", "doors:\n", "runs:\n"
	for i, cable := range cables {
		controllers += fmt.Sprintf("  C%d: {model: controller-1-12, place: D%d.box, feed: PS1}\n", i+1, i+1)
		doors += fmt.Sprintf(`  D%d:
    title: Gate
    escape: out
    fire-rated: no
    leaves: 2
    controller: C%d
    entry: reader-pulse
    locks:
      - {model: magnet-12, leaf: 1, feed: PS1, handle: none, on-battery: let-go}
      - {model: magnet-12, leaf: 2, feed: PS1, handle: none, on-battery: let-go}
    exit: [exit-button]
    contacts: [{model: contact-surface, leaf: 1}, {model: contact-surface, leaf: 2}]
    releases: [%s]
    fire: fire-interface
    watch: relay-12
    supervision: double
    cable-length: 5 m
`, i+1, i+1, release)
		runs += fmt.Sprintf("  W%d: {from: riser, to: D%d.box, %s}\n", i+1, i+1, cable)
	}
	return text + controllers + doors + runs
}

// Four magnets of 0.5 A and two controllers on a supply of 2 A, one gate far off on thin cable: with a thicker cable that
// gate draws what the supply does not have, and from a larger supply it gets too little over the thin cable. A release
// of one pole that only tells the controller: led into the lock feed, one bridge takes it away, and two poles that break
// nothing do not help.
func pairCases() []struct {
	name, text, requirement string
	changes                 [2]proof.Change
} {
	return []struct {
		name, text, requirement string
		changes                 [2]proof.Change
	}{
		{
			"release", gates("supply-12-5", "{model: release-1, into: input}", "cable: 4x1.5, length: 5 m"), "out-by-release",
			[2]proof.Change{{Path: "doors.D1.releases.1.into", Value: "feed"}, {Path: "doors.D1.releases.1.model", Value: "release-2"}},
		},
		{
			"cable_and_supply", gates("supply-12-2", "release-2", "cable: 4x0.5, length: 30 m", "cable: 4x1.5, length: 5 m"), "lock-voltage",
			[2]proof.Change{{Path: "runs.W1.cable", Value: "4x1.5"}, {Path: "supplies.PS1.model", Value: "supply-12-5"}},
		},
	}
}

// Where no change makes a finding go by itself, two together do: the changed document is proved anew by a prover that knows
// nothing of the search, and so is each of the two changes alone.
func TestTwoChangesMendWhatNoneDoesAlone(t *testing.T) {
	for i, c := range pairCases() {
		if testing.Short() && i > 0 { // as the race detector runs
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			j := read(t, c.text)
			x := mend.NewExaminer()
			e := x.Examine(j)
			x.All(j, e)
			f := find(e.Findings, c.requirement)
			if f == nil {
				t.Fatalf("no finding of %s", c.requirement)
			}
			if len(f.Mends) != 1 || !slices.Equal(f.Mends[0].Set, c.changes[:]) {
				t.Fatalf("%s: mends are %+v", f.What, f.Mends)
			}
			if steps := f.Mends[0].Steps; len(steps) != 2 || steps[0] == steps[1] {
				t.Errorf("its steps are %q", steps)
			}
			for _, set := range [][]proof.Change{c.changes[:1], c.changes[1:]} {
				if gone, come := provedAnew(t, c.text, e, f, set); gone && come == "" {
					t.Errorf("%v mends it alone", set)
				}
			}
			backwards := slices.Clone(f.Mends[0].Set) // pages keep what is set in another order
			slices.Reverse(backwards)
			for _, set := range [][]proof.Change{f.Mends[0].Set, backwards} {
				if gone, come := provedAnew(t, c.text, e, f, set); !gone || come != "" {
					t.Errorf("%v: gone %v, brings %q", set, gone, come)
				}
			}
		})
	}
}

// provedAnew changes the text of a document and says whether a finding is gone then, and what has come.
func provedAnew(t *testing.T, text string, e *mend.Examination, f *proof.Finding, set []proof.Change) (gone bool, come string) {
	t.Helper()
	j := read(t, changedText(t, text, set))
	if len(wiring.Make(j).Problems) > 0 {
		t.Fatalf("%v cannot be wired", set)
	}
	gone = true
	for _, n := range mend.NewExaminer().Examine(j).Findings {
		gone = gone && n.Key() != f.Key()
		if !slices.ContainsFunc(e.Findings, func(o proof.Finding) bool { return o.Key() == n.Key() }) {
			come = n.Key()
		}
	}
	return gone, come
}

func changedText(t *testing.T, text string, set []proof.Change) string {
	t.Helper()
	tree, err := document.ReadTree([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range set {
		if err := job.Put(tree, job.Path(c.Path), c.Value); err != nil {
			t.Fatal(err)
		}
	}
	changed, err := tree.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return string(changed)
}

// What single faults break is mended by two changes, too, where neither does alone: every fault of the door is tried anew
// in the changed document, and what they break then was broken before.
func TestTwoChangesMendWhatFaultsBreak(t *testing.T) {
	c := pairCases()[0]
	x := mend.NewExaminer()
	j, e := examinedFaults(t, x, c.text)
	x.Faults(j, e, nil)
	f := find(e.Findings, "out-with-fault")
	if f == nil {
		t.Fatal("no fault leaves no way out")
	}
	if len(f.Mends) != 1 || !slices.Equal(f.Mends[0].Set, c.changes[:]) {
		t.Fatalf("mends are %+v", f.Mends)
	}
	_, after := examinedFaults(t, mend.NewExaminer(), changedText(t, c.text, f.Mends[0].Set))
	for _, n := range after.Findings {
		known := slices.ContainsFunc(e.Findings, func(o proof.Finding) bool { return o.Requirement == n.Requirement && o.Rule == n.Rule })
		if n.Requirement == f.Requirement || !known {
			t.Errorf("after both changes: %s", n.What)
		}
	}
	for i := range c.changes {
		_, after := examinedFaults(t, mend.NewExaminer(), changedText(t, c.text, c.changes[i:i+1]))
		if find(after.Findings, f.Requirement) == nil {
			t.Errorf("%v alone makes it go", c.changes[i])
		}
	}
}

// A change that mends what else is wrong at a door is offered for a finding that nothing was proposed for.
func TestWhatMendsTheDoorIsOfferedForAllItMends(t *testing.T) {
	j := read(t, gates("supply-12-2", "release-2", "cable: 4x1.0, length: 20 m", "cable: 4x1.5, length: 5 m"))
	x := mend.NewExaminer()
	e := x.Examine(j)
	x.All(j, e)
	f := find(e.Findings, "settles")
	if f == nil {
		t.Fatal("nothing restarts on a supply that is too small")
	}
	if !offers(f.Mends, "supplies.PS1.model", "supply-12-5") {
		t.Errorf("mends are %+v", f.Mends)
	}
}
