package find

import (
	"strings"
	"testing"

	"doorwright/meter"
)

// A reading that no fault in the lock's circuit explains stands beside what explains the others, with what it would be: by
// Kirchhoff's voltage law the contact and the minus of the supply have between them what the strike and the joint share.
func TestWhatDoesNotGoWithASuspectStandsBesideIt(t *testing.T) {
	f := finderOf(t, "staff")
	read := func(text string) {
		t.Helper()
		r, err := meter.ParseReading(text)
		if err == nil {
			err = f.Add(r)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	against := func() []string {
		g := Group{Suspects: []Suspect{{ID: "high:staff.head.p/2"}}}
		f.Explain(&g)
		return g.Against
	}
	read("staff.lock1 +; staff.lock1 -; card; volts 8.7 V")
	read("C2 NO1; staff.lock1 -; card; volts 8.8 V")
	if said := against(); len(said) != 0 {
		t.Errorf("against a joint in the minus of the strike: %q", said)
	}
	read("C2 NO1; C2 L-; card; volts 2 V")
	if err := f.See(meter.Observation{What: meter.ReaderDark, Is: "yes", In: meter.Undisturbed()}); err != nil {
		t.Fatal(err)
	}
	said := against()
	if len(said) != 2 || !strings.Contains(said[0], "C2 NO1") || !strings.Contains(said[0], "2.00 V was read, with this it would be 12.") ||
		!strings.Contains(said[1], "reader dark") {
		t.Errorf("against a joint in the minus of the strike: %q", said)
	}
	g := Group{Suspects: []Suspect{{ID: Unknown}}}
	if f.Explain(&g); len(g.Against) > 0 {
		t.Errorf("against what is unknown: %q", g.Against)
	}
}

// What is asked next speaks for different suspects, however it comes out, and not for the one that leads either way.
func TestOutcomesSpeakForWhatTheyMakeLikelier(t *testing.T) {
	f := finderOf(t, "staff")
	for range 6 {
		n := f.Next(Suggested)
		if n == nil {
			break
		}
		before := map[string]float64{}
		for _, g := range f.guesses(mostGuesses) {
			before[g.s.id] += g.p
		}
		spoken := map[string]int{}
		for _, o := range n.Outcomes {
			if len(o.Leaves) > 0 {
				spoken[o.Leaves[0]]++
			}
		}
		for id, times := range spoken {
			if len(n.Outcomes) > 1 && times == len(n.Outcomes) {
				t.Errorf("%s: every outcome speaks for %s", f.SayNext(n), id)
			}
		}
		if before[n.Outcomes[0].Leaves[0]] == 0 {
			t.Errorf("%s speaks for %s, which nothing speaks for", f.SayNext(n), n.Outcomes[0].Leaves[0])
		}
		if n.Look != nil {
			o := *n.Look
			o.Is = n.Outcomes[0].Says
			if err := f.See(o); err != nil {
				t.Fatal(err)
			}
			continue
		}
		if err := f.Add(n.Pair.Shows(f.book.Sound.Shown[f.book.Index(*n.Pair)].Value)); err != nil {
			t.Fatal(err)
		}
	}
}
