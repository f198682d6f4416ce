package find

import (
	"strings"
	"testing"

	"doorwright/meter"
)

// Somebody who says that all works clears what shows in use and speaks for what shows in nothing; that not all works says the
// reverse. What shows follows from what the parts do: a lock with a core cut does nothing, and without the part across its coil
// all that it should.
func TestThatAllWorksSpeaksForWhatNobodySees(t *testing.T) {
	for a, text := range arrangements {
		f := finderAsFound(t, text)
		held := func() (cut, quiet float64) {
			p := f.posterior()
			for i, s := range f.suspects {
				switch {
				case s.id == "open:door.head.p/1":
					cut = p[i]
				case strings.HasSuffix(s.id, "clamp:open"), strings.HasSuffix(s.id, "diode:open"):
					quiet += p[i]
				}
			}
			return cut, quiet
		}
		cut, quiet := held()
		if cut == 0 || quiet == 0 {
			t.Fatalf("arrangement %d: no such suspects", a+1)
		}
		for _, c := range []struct {
			is       string
			cut, not func(float64, float64) bool
		}{
			{"yes", less, more},
			{"no", more, less},
		} {
			for _, in := range []meter.Condition{meter.Undisturbed(), {Power: meter.On, Act: meter.Card}} {
				f.reset()
				if err := f.See(meter.Observation{What: meter.Works, Is: c.is, In: in}); err != nil {
					t.Fatal(err)
				}
				if after, still := held(); !c.cut(after, cut) || !c.not(still, quiet) {
					t.Errorf("arrangement %d, %s: a core cut went from %.4f to %.4f, no suppressor from %.4f to %.4f", a+1, c.is, cut, after, quiet, still)
				}
			}
		}
	}
}

func less(after, before float64) bool { return after < before/2 }

func more(after, before float64) bool { return after > before*1.2 }

// To try all is not suggested: its parts are, each where it tells most.
func TestToTryAllIsNotSuggested(t *testing.T) {
	f := finderOf(t, "staff")
	for range 12 {
		n := f.Next(Suggested)
		if n == nil || n.Look == nil {
			break
		}
		if n.Look.What == meter.Works {
			t.Fatalf("suggested: %s", f.SayNext(n))
		}
		seen := *n.Look
		seen.Is = n.Outcomes[0].Says
		if err := f.See(seen); err != nil {
			t.Fatal(err)
		}
	}
}
