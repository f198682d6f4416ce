package proof

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/wiring"
)

// What is found near a door is found by the whole proof too, with the same figures or worse ones, and what the whole proof
// finds at a door in a cause of its own is found near it.
func TestNearADoorFindsWhatTheWholeProofFindsThere(t *testing.T) {
	j, problems := job.Read("flawed", demo.Flawed)
	if j == nil {
		t.Fatal(problems)
	}
	plan := wiring.Make(j)
	whole := map[string]Finding{}
	for _, f := range Prove(plan).Findings {
		whole[f.Key()] = f
	}
	near := map[string]bool{}
	for _, d := range j.Doors {
		for _, f := range Near(plan, d) {
			near[f.Key()] = true
			w, ok := whole[f.Key()]
			if !ok {
				t.Errorf("near %s alone: %s", d.ID, f.What)
			} else if f.Margin < w.Margin {
				t.Errorf("near %s: margin %g of %q, the whole proof has %g", d.ID, f.Margin, f.What, w.Margin)
			}
		}
	}
	if len(whole) == 0 {
		t.Fatal("the flawed demo has no finding")
	}
	for k, f := range whole {
		// A finding of no door, of a unit that doors share, may come of something at a door that is not on this supply.
		if !near[k] && !strings.HasPrefix(k, "|") {
			t.Errorf("the whole proof alone: %s: %s", k, f.What)
		}
	}
}
