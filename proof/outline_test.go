package proof_test

import (
	"reflect"
	"slices"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/wiring"
)

// What faults come to at a door of an outline is what they come to at it in the whole job, proved: in the demo and its twin,
// where doors share risers and sheaths, and on a site of three islands, of which two are left out.
func TestFaultsOfAnOutlineAreThoseOfTheWhole(t *testing.T) {
	left, doors := 0, 0
	jobs, want := []struct {
		text  []byte
		doors []string // nil for all
	}{{demo.Brackwater, nil}, {demo.Flawed, nil}, {site.Generate(45), []string{"D3", "D44"}}}, 18
	if testing.Short() {
		jobs, want = jobs[:1], 8
	}
	for _, c := range jobs {
		plan := wiring.Make(readSite(t, c.text))
		whole := proof.Prove(plan)
		for i := range whole.Doors {
			d := whole.Doors[i].Door
			if c.doors != nil && d.ID != c.doors[0] && d.ID != c.doors[1] {
				continue
			}
			doors++
			outline := proof.Outline(plan, d)
			left += len(plan.Devices) - len(outline.Plan.Devices)
			a, b := proof.TryFaults(outline, proof.SingleFaults, d, nil), proof.TryFaults(whole, proof.SingleFaults, d, nil)
			if x, y := a.Doors[0], b.Doors[0]; !sameFaults(&x, &y) {
				t.Errorf("%s: %d faults, %d attacks, %d attempts; in the whole %d, %d, %d, or they come to something else", d.ID,
					len(x.Seen), len(x.Attacks), x.Tried, len(y.Seen), len(y.Attacks), y.Tried)
			}
			if !reflect.DeepEqual(a.Findings, b.Findings) {
				t.Errorf("%s: %+v; in the whole %+v", d.ID, a.Findings, b.Findings)
			}
		}
	}
	if left == 0 || doors != want {
		t.Errorf("%d devices were left out of the outlines of %d doors", left, doors)
	}
}

// sameFaults says that two doors have the same faults, and the same became of them.
func sameFaults(a, b *proof.DoorFaults) bool {
	if len(a.Seen) != len(b.Seen) || len(a.Attacks) != len(b.Attacks) || a.Tried != b.Tried {
		return false
	}
	for i := range a.Seen {
		x, y := a.Seen[i], b.Seen[i]
		if x.Fault.ID != y.Fault.ID || x.Notice != y.Notice || x.Shows != y.Shows || x.Broken != y.Broken || !reflect.DeepEqual(x.Beside, y.Beside) {
			return false
		}
	}
	for i := range a.Attacks {
		x, y := a.Attacks[i], b.Attacks[i]
		if !slices.EqualFunc(x.Faults, y.Faults, func(f, g *fault.Fault) bool { return f.ID == g.ID }) || x.Effect != y.Effect || x.Cause != y.Cause {
			return false
		}
	}
	return true
}
