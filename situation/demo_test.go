package situation_test

import (
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// planOf is the plan of a job that can be wired.
func planOf(t testing.TB, text string) *wiring.Plan {
	t.Helper()
	j, problems := job.Read("job.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	plan := wiring.Make(j)
	if len(plan.Problems) > 0 {
		t.Fatal(plan.Problems)
	}
	return plan
}

// siteOf makes a job ready.
func siteOf(t testing.TB, text string) *situation.Site {
	t.Helper()
	return situation.New(planOf(t, text))
}

// demoSite is the demo job made ready.
func demoSite(t testing.TB) *situation.Site {
	t.Helper()
	return siteOf(t, string(demo.Brackwater))
}

// eachInstant takes every island with doors through every cause at every door in some limit cases and calls f after
// each step.
func eachInstant(s *situation.Site, cases func(situation.Case) bool, f func(is *situation.Island, b *situation.Bench, title string)) {
	for _, is := range s.Islands {
		if len(is.Doors) == 0 {
			continue
		}
		for _, c := range is.Cases() {
			if !cases(c) {
				continue
			}
			b := is.Bench(c)
			idle := b.Save()
			for _, cause := range situation.Causes() {
				for _, d := range is.Doors {
					b.Back(idle)
					for _, step := range cause.Steps(is, d) {
						b.Take(step)
						f(is, b, c.Name+", "+cause.ID+" at "+d.ID+": "+step.Say)
					}
					if !cause.Door {
						break
					}
				}
			}
		}
	}
}

func allCases(situation.Case) bool { return true }

// The laws of Kirchhoff and of energy at every instant: currents into each node sum to nothing, and what sources give is
// what loads, copper and leaks take.
func TestEveryInstantBalances(t *testing.T) {
	n := 0
	eachInstant(demoSite(t), allCases, func(_ *situation.Island, b *situation.Bench, title string) {
		n++
		if !b.Outcome().Settled() {
			t.Errorf("%s: %v %v", title, b.Outcome().Circuit.Outcome, b.Outcome().Unsteady)
			return
		}
		const (
			mostAmps = 1e-8 // at a node
			mostPart = 1e-6 // of the power
		)
		bal := b.Balance()
		if !(float64(bal.Residual) < mostAmps) {
			t.Errorf("%s: %v left over at node %d", title, bal.Residual, bal.Node)
		}
		if lost := float64(bal.In - bal.Out); !(max(lost, -lost) <= mostPart*float64(bal.In)+1e-9) {
			t.Errorf("%s: %v given, %v taken", title, bal.In, bal.Out)
		}
	})
	if n < 300 {
		t.Errorf("only %d instants", n)
	}
}

// Going back to a saved instant and doing the same again gives the same state, voltages to a nanovolt.
func TestSameAgainAfterBack(t *testing.T) {
	s := demoSite(t)
	for _, is := range s.Islands {
		if len(is.Doors) == 0 {
			continue
		}
		b := is.Bench(situation.Nominal())
		idle := b.Save()
		for _, cause := range situation.Causes() {
			d := is.Doors[0]
			run := func() situation.DoorState {
				b.Back(idle)
				for _, step := range cause.Steps(is, d) {
					b.Take(step)
				}
				return b.Door(d)
			}
			first, again := run(), run()
			for i := range first.Locks {
				off := float64(first.Locks[i].Volts - again.Locks[i].Volts)
				if first.Locks[i].Power != again.Locks[i].Power || !(max(off, -off) < 1e-9) {
					t.Errorf("%s at %s: %+v, then %+v", cause.ID, d.ID, first.Locks[i], again.Locks[i])
				}
			}
			if first.Facts != again.Facts || first.Memory != again.Memory {
				t.Errorf("%s at %s: other facts the second time", cause.ID, d.ID)
			}
		}
	}
}
