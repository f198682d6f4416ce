package wiring_test

import (
	"slices"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/wiring"
)

func changedDemo(t testing.TB, change func(*job.Document)) *wiring.Plan {
	t.Helper()
	j := readJob(t, string(demo.Brackwater))
	if change != nil {
		d := j.Document.Clone()
		change(d)
		changed, problems := job.Resolve(d, nil)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		j = changed
	}
	return wiring.Make(j)
}

func same(pin string) string { return pin }

// Mirrored jobs have mirrored plans: the doors written the other way round are joined in the same way.
func TestDoorsTheOtherWayRound(t *testing.T) {
	there, back := changedDemo(t, nil), changedDemo(t, func(d *job.Document) { slices.Reverse(d.Doors) })
	one, other := netsOf(there).sets(there, same), netsOf(back).sets(back, same)
	if len(one) < 50 {
		t.Fatalf("only %d nets", len(one))
	}
	if !slices.Equal(one, other) {
		t.Errorf("the doors in another order are joined otherwise:\n%v\n%v", one, other)
	}
}

// After planning every terminal takes what lands on it, every core is used once or spare, and all ends exist.
func TestDemoPlanIsSound(t *testing.T) {
	p := changedDemo(t, nil)
	landed := map[wiring.End]int{}
	cores := map[string]int{}
	for _, c := range p.Conductors {
		for _, e := range []wiring.End{c.A, c.B} {
			if e.Device == nil {
				continue
			}
			terminal := e.Device.Model.Terminal(e.Pin)
			if terminal == nil {
				t.Errorf("%s ends at %s, which is no terminal", c.ID, e)
				continue
			}
			if component(e.Device) {
				continue // a leg is spliced, not clamped
			}
			if landed[e]++; landed[e] > terminal.Takes() {
				t.Errorf("%s gets %d cores and takes %d", e, landed[e], terminal.Takes())
			}
			if c.Kind == wiring.Core && !terminal.Suits(c.Core.Conductor.Size) {
				t.Errorf("%s does not suit %s (%v)", c.ID, e, c.Core.Conductor.Size)
			}
		}
		if c.Kind == wiring.Core {
			cores[c.ID]++
		}
		if c.Reason.Purpose == "" || c.Reason.Why == "" || c.Reason.Without == "" || c.Reason.Basis == "" {
			t.Errorf("%s has no full reason: %+v", c.ID, c.Reason)
		}
	}
	all := 0
	for _, r := range p.Job.Runs {
		all += len(r.Type.Cores())
	}
	for id, n := range cores {
		if n > 1 {
			t.Errorf("core %s is used %d times", id, n)
		}
	}
	if len(cores)+len(p.Spares) != all {
		t.Errorf("%d cores used and %d spare of %d", len(cores), len(p.Spares), all)
	}
}

// component says that a device is a small part with legs.
func component(d *wiring.Device) bool {
	return d.Added != nil && slices.Contains([]string{"resistor", "diode", "clamp"}, d.Model.Kind)
}
