package proof_test

import (
	"testing"

	"doorwright/demo"
	"doorwright/proof"
	"doorwright/wiring"
)

// A door at which something keeps restarting has its causes as restless, its supply without figures, and no rule held that
// the network decides; a door that comes to rest has none of that.
func TestWhatKeepsRestartingIsNotJudged(t *testing.T) {
	r := proof.Prove(wiring.Make(readSite(t, demo.Flawed)))
	restless := map[string]bool{}
	for _, f := range r.Findings {
		if f.Requirement == "settles" {
			restless[f.Door] = true
		}
	}
	if !restless["gauge"] || len(restless) == len(r.Doors) {
		t.Fatalf("restless are %v", restless)
	}
	for i := range r.Doors {
		d := &r.Doors[i]
		idle := ""
		for _, row := range d.Matrix {
			if row.Cause == "idle" && row.With == "" {
				idle = row.Says
			}
			if row.Says == proof.Restless && !(row.Volts.IsZero() && row.Amps.IsZero()) {
				t.Errorf("%s: %s is restless and has voltages", d.Door.ID, row.Cause)
			}
		}
		if is := idle == proof.Restless; is != restless[d.Door.ID] || is && !d.Restless {
			t.Errorf("%s: nothing happens: %q", d.Door.ID, idle)
		}
		for _, s := range d.Rules {
			if d.Restless && s.Standing == proof.HeldRule {
				t.Errorf("%s: %s is held, though something keeps restarting", d.Door.ID, s.Rule.ID)
			}
		}
		for _, l := range r.Loads {
			if l.Supply == d.Door.Controller.Feed.Supply && l.Restless != d.Restless {
				t.Errorf("%s: its supply is said to be restless: %v", d.Door.ID, l.Restless)
			}
		}
	}
}
