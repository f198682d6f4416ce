package find

import (
	"math"
	"testing"

	"doorwright/meter"
)

// A caller calls for one thing: over all that he may call for, the chances of a suspect are those of one event, so they come to
// one where anything certain is to be seen, and to hardly anything where nothing is.
func TestACallIsForOneThing(t *testing.T) {
	for a, text := range arrangements {
		f := finderAsFound(t, text)
		all := f.callable()
		sums := make([]float64, len(f.suspects))
		for _, called := range all {
			told := f.testimonyOfCall(called, all)
			for i, s := range f.suspects {
				sums[i] += told(s, s.beliefs[0].row)
			}
		}
		loud, silent := 0, 0
		for i, s := range f.suspects {
			switch seen := f.amiss(s.beliefs[0].row); {
			case s.id == Unknown:
			case seen == 1:
				if math.Abs(sums[i]-1) < 0.25 { // what is seen in one way only is mistaken now and then
					loud++
				} else {
					t.Errorf("arrangement %d, %s: the chances come to %.3f", a+1, s.id, sums[i])
				}
			case seen == 0 && s.class != Use:
				silent++
				if sums[i] > 0.25 {
					t.Errorf("arrangement %d, %s: nothing is seen, and the chances come to %.3f", a+1, s.id, sums[i])
				}
			}
			if sums[i] > 1+1e-9 {
				t.Errorf("arrangement %d, %s: the chances come to %.6f", a+1, s.id, sums[i])
			}
		}
		if loud == 0 || silent == 0 {
			t.Errorf("arrangement %d: %d suspects that are seen, %d that are not", a+1, loud, silent)
		}
	}
}

// A controller that does not run shows in much where it has no power, and in less where it is alone in that. Who calls for just
// this speaks for what shows in less, which an answer to a question does not; and it moves nobody from where they stand.
func TestACallSpeaksForWhatShowsInLittleElse(t *testing.T) {
	f := finderAsFound(t, arrangements[0])
	ratio := func(called bool) float64 {
		f.reset()
		if err := f.See(meter.Observation{What: meter.Runs, Is: "no", In: meter.Undisturbed(), Called: called}); err != nil {
			t.Fatal(err)
		}
		p := f.posterior()
		few, many := 0.0, 0.0
		for i, s := range f.suspects {
			if s.fault == nil || s.beliefs[0].row.Sights[f.book.Stop(meter.Undisturbed())].Yes[meter.Runs] > 0 {
				continue
			}
			if f.shows(s) < much {
				few += p[i]
			} else {
				many += p[i]
			}
		}
		if few == 0 || many == 0 {
			t.Fatalf("%.3g show in little, %.3g in much", few, many)
		}
		return few / many
	}
	seen := ratio(false)
	if called := ratio(true); called < 1.2*seen {
		t.Errorf("what shows in little is %.3f times what shows in much when called for, %.3f when seen", called, seen)
	}
	if f.now != f.standing() {
		t.Errorf("after a call they stand %v", f.now)
	}
}

// much is how many things there are that count as many.
const much = 15

// shows counts the things that are seen otherwise with a suspect.
func (f *Finder) shows(s *suspect) int {
	n := 0
	for _, x := range f.callable() {
		if chance(s, s.beliefs[0].row, x.stop, x.what, x.is)-chance(f.suspectOf(Healthy), f.book.Sound, x.stop, x.what, x.is) > 0.5 {
			n++
		}
	}
	return n
}
