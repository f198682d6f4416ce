package fault_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/wiring"

	"pgregory.net/rapid"
)

// Two doors that exchange their names exchange their faults.
func TestDoorsThatExchangeNamesExchangeFaults(t *testing.T) {
	names := strings.NewReplacer("D0", "D1", "D1", "D0", "C0", "C1", "C1", "C0", "F0", "F1", "F1", "F0")
	rapid.Check(t, func(r *rapid.T) {
		left := rapid.SampledFrom(fedFromOne).Draw(r, "left")
		right := rapid.SampledFrom(fedFromOne).Draw(r, "right")
		text := manyDoors([]string{left, right})
		one := readPlan(t, "left.yaml", text)
		other := readPlan(t, "right.yaml", []byte(names.Replace(string(text))))
		for _, door := range []string{"", "D0", "D1"} {
			got := ids(fault.Of(other, names.Replace(door)))
			for i, id := range got {
				got[i] = names.Replace(id)
			}
			if want := ids(fault.Of(one, door)); len(want) == 0 || !slices.Equal(got, want) {
				r.Errorf("door %q has\n%s\nand with its name exchanged\n%s", door, strings.Join(want, "\n"), strings.Join(got, "\n"))
			}
		}
	})
}

// fedFromOne are doors that hang on one supply.
var fedFromOne = slices.DeleteFunc(slices.Clone(arrangements), func(s string) bool { return strings.Contains(s, "PS2") })

// Runs written from their other end have as many faults of each class.
func TestRunsTheOtherWayRoundHaveAsManyFaults(t *testing.T) {
	there := readPlan(t, "brackwater.yaml", demo.Brackwater)
	d := there.Job.Document.Clone()
	for i := range d.Runs {
		run := &d.Runs[i].Value
		run.From, run.To = run.To, run.From
	}
	j, problems := job.Resolve(d, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	back := wiring.Make(j)
	for _, door := range doorsOf(there) {
		want, got := fault.Counts(fault.Of(there, door)), fault.Counts(fault.Of(back, door))
		if len(want) == 0 || !slices.Equal(got, want) {
			t.Errorf("door %q: %v, and with its runs turned %v", door, want, got)
		}
	}
}

// A run of n cores on n different nets has n(n-1)/2 bridges in its sheath, never more.
func TestBridgesOfARunAreCounted(t *testing.T) {
	runs, full := 0, 0
	for _, s := range sites(t) {
		colour, bridges := copper(s.plan), map[string]int{}
		for _, f := range everything(s.plan) {
			if run, _, ok := strings.Cut(strings.TrimPrefix(f.ID, "bridge:"), "/"); ok && f.Class == fault.Bridge {
				bridges[run]++
			}
		}
		for _, run := range s.plan.Job.Runs {
			nets := map[int]bool{}
			for _, w := range s.plan.Conductors {
				if w.Kind == wiring.Core && w.Run == run {
					nets[colour[w.A.String()]] = true
				}
			}
			if len(nets) < 2 {
				continue
			}
			runs++
			if len(nets) > 3 {
				full++
			}
			if want := len(nets) * (len(nets) - 1) / 2; bridges[run.ID] != want {
				t.Errorf("%s: %s with cores on %d nets has %d bridges, want %d", s.name, run.ID, len(nets), bridges[run.ID], want)
			}
		}
	}
	if runs < 50 || full < 10 {
		t.Errorf("only %d runs, %d of them on more than three nets", runs, full)
	}
}
