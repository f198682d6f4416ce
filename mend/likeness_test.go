package mend_test

import (
	"strings"
	"testing"

	"doorwright/mend"
	"doorwright/proof"
)

// What mends a finding at one door is offered at a door alike, told as proved elsewhere; and proved at that door it mends
// it there as well. At a door that is wired otherwise it is proved anew.
func TestMendsOfDoorsAlikeAreProvedOnce(t *testing.T) {
	all := []struct {
		name, text string
		alike      bool
	}{
		{"alike", stores, true},
		{"another length", strings.Replace(stores, "length: 10 m", "length: 14 m", 1), true},
		{"another cable", strings.Replace(stores, "cable: 2x1.5", "cable: 2x2.5", 1), false},
		{"another reader", strings.Replace(stores, "reader-pulse", "reader-pulse-wide", 1), false},
		{"another setting", strings.Replace(stores, "    exit: [exit-button]\n", "    exit: [exit-button]\n    supervision: double\n", 1), false},
		{"a cable that passes outside", strings.Replace(stores, "length: 10 m}", "length: 10 m, passes: [{side: unsecured, reach: surface, length: 2 m}]}", 1), false},
	}
	if testing.Short() { // as the race detector runs
		all = all[1:3]
	}
	for _, c := range all {
		t.Run(c.name, func(t *testing.T) {
			x := mend.NewExaminer()
			j := read(t, c.text)
			e := x.Examine(j)
			e.Add(proof.TryFaults(e.Result, proof.SingleFaults, nil, nil))
			x.Faults(j, e, nil)
			byDoor := map[string]proof.Finding{}
			for _, f := range e.Findings {
				if f.Requirement == "short-stays-at-door" {
					byDoor[f.Door] = f
				}
			}
			a, b := byDoor["A"], byDoor["B"]
			if len(a.Mends) == 0 || len(a.Mends) != len(b.Mends) {
				t.Fatalf("%d mends at A, %d at B", len(a.Mends), len(b.Mends))
			}
			for i := range a.Mends {
				if a.Mends[i].ProvedAt != "" || (b.Mends[i].ProvedAt == "A") != c.alike {
					t.Errorf("proved at %q and %q", a.Mends[i].ProvedAt, b.Mends[i].ProvedAt)
				}
			}
			alone := proof.Finding{}
			for _, f := range e.Findings {
				if f.Door == "B" && f.Requirement == b.Requirement {
					alone = f
				}
			}
			only := *e.Result
			only.Findings = []proof.Finding{alone}
			x.Faults(j, &mend.Examination{Result: &only, Standby: e.Standby}, nil)
			for i, m := range only.Findings[0].Mends {
				if m.Text != b.Mends[i].Text || m.ProvedAt != "" {
					t.Errorf("proved at B itself: %+v; offered: %+v", m, b.Mends[i])
				}
			}
		})
	}
}

// A search for mends that is stopped keeps what was found, and tells the findings it did not come to from those that
// nothing mends.
func TestASearchForMendsCanBeStopped(t *testing.T) {
	x := mend.NewExaminer()
	j := read(t, stores)
	e := x.Examine(j)
	e.Add(proof.TryFaults(e.Result, proof.SingleFaults, nil, nil))
	var told [][2]int
	x.Faults(j, e, func(done, all int) bool {
		told = append(told, [2]int{done, all})
		return done < 1
	})
	sought, left := 0, 0
	for _, f := range e.Findings {
		switch {
		case f.Requirement != "short-stays-at-door":
		case f.Mends == nil:
			left++
		default:
			sought++
		}
	}
	if sought != 1 || left != 1 || len(told) != 2 || told[1] != [2]int{1, 2} {
		t.Errorf("%d findings looked at, %d left, told %v", sought, left, told)
	}
}
