package mend_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/mend"
	"doorwright/proof"
)

// A lock for another voltage than it gets is mended by one for that voltage, by a supply there is that gives its own, or by
// such a supply in place of the one it hangs on, where nothing else does.
func TestLocksForAnotherVoltageAreMended(t *testing.T) {
	base := shopWith("supply-12-5", "battery-12-17", 2)
	own := strings.NewReplacer(
		"controllers:", "  PS2: {model: supply-12-5, battery: battery-12-17, place: cabinet, zero-volt: earthed, works-to: 12 V}\ncontrollers:",
		"magnet-12, feed: PS1", "magnet-24, feed: PS2").Replace(base)
	both := strings.NewReplacer(
		"controllers:", "  PS2: {model: supply-24-5, battery: battery-24-7, place: cabinet, zero-volt: earthed, board: board-24-8}\ncontrollers:",
		"magnet-12,", "magnet-24,").Replace(base)
	back := strings.NewReplacer(
		"controllers:", "  PS2: {model: supply-24-5, battery: battery-24-7, place: cabinet, zero-volt: earthed}\ncontrollers:",
		"feed: PS1, handle", "feed: PS2, handle").Replace(base)
	lock := func(model string) []proof.Change {
		return []proof.Change{{Path: "doors.D1.locks.1.model", Value: model}}
	}
	for _, c := range []struct {
		name, text string
		sets       [][]proof.Change
	}{
		{"lock for 24 V on a supply it shares", strings.Replace(base, "magnet-12", "magnet-24", 1), [][]proof.Change{lock("magnet-12")}},
		{"lock for 24 V on a supply of its own", own, [][]proof.Change{
			lock("magnet-12"),
			{{Path: "supplies.PS2.model", Value: "supply-24-5"}, {Path: "supplies.PS2.battery", Value: "battery-24-17"}, {Path: "supplies.PS2.works-to", Value: "24 V"}},
		}},
		{"lock for 24 V beside a supply of 24 V", both, [][]proof.Change{lock("magnet-12"), {{Path: "doors.D1.locks.1.feed", Value: "PS2/1"}}}},
		{"lock for 12 V on 24 V", back, [][]proof.Change{lock("magnet-24"), {{Path: "doors.D1.locks.1.feed", Value: "PS1"}}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := read(t, c.text)
			x := mend.NewExaminer()
			e := x.Examine(j)
			x.All(j, e)
			f := find(e.Findings, "lock-voltage")
			if f == nil {
				t.Fatalf("the lock has its voltage: %d findings", len(e.Findings))
			}
			for _, want := range c.sets {
				if !slices.ContainsFunc(f.Mends, func(m proof.Mend) bool { return slices.Equal(m.Set, want) }) {
					t.Errorf("no mend sets %v: %+v", want, f.Mends)
				}
			}
			if len(c.sets) == 1 && len(f.Mends) > 1 {
				t.Errorf("what else hangs on the supply is left out: %+v", f.Mends)
			}
		})
	}
}
