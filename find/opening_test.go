package find

import (
	"encoding/json"
	"reflect"
	"testing"

	"doorwright/meter"
)

// What was kept is asked as if it had just been worked out: first, and next for each way the first comes out. It goes through
// JSON on the way, as it is kept.
func TestAnOpeningAsksWhatWouldBeAsked(t *testing.T) {
	doors := []string{"staff", "records"}
	if testing.Short() {
		doors = doors[:1]
	}
	for _, door := range doors {
		f := finderOf(t, door)
		first := f.Next(Suggested)
		kept, err := f.Opening()
		if err != nil {
			t.Fatal(err)
		}
		if len(f.trail) > 0 || !reflect.DeepEqual(f.Next(Suggested), first) {
			t.Error("the finder is not as it was")
		}
		text, err := json.Marshal(kept)
		if err != nil {
			t.Fatal(err)
		}
		var o Opening
		if err := json.Unmarshal(text, &o); err != nil {
			t.Fatal(err)
		}
		g := ownFinder(t, door, meter.Default())
		if !g.Begin(&o) {
			t.Fatalf("door %s: a finder of the same door does not take the opening", door)
		}
		if n := g.Next(Suggested); !reflect.DeepEqual(n, first) {
			t.Errorf("door %s: %+v first, kept was %+v", door, first, n)
		}
		if len(o.Then) < 2 {
			t.Errorf("door %s: only %d replies", door, len(o.Then))
		}
		for _, r := range o.Then {
			tellReply(t, &o, r, f)
			tellReply(t, &o, r, g)
			if g.opened(g.guesses(mostGuesses), nil) == nil && r.Step != (Step{}) {
				t.Errorf("door %s: the opening has nothing after %+v", door, r)
			}
			if a, b := f.Next(Suggested), g.Next(Suggested); !reflect.DeepEqual(a, b) {
				t.Errorf("door %s, after %+v: %+v, and kept was %+v", door, r, a, b)
			}
			for _, x := range []*Finder{f, g} {
				if ok, err := x.Back(); !ok || err != nil {
					t.Fatal(ok, err)
				}
			}
		}
	}
}

// tellReply tells a finder a reply of an opening.
func tellReply(t *testing.T, o *Opening, r Reply, f *Finder) {
	t.Helper()
	var err error
	if o.First.Look != nil {
		seen := *o.First.Look
		seen.Is = r.Is
		err = f.See(seen)
	} else {
		for _, b := range f.bins(*o.First.Pair) {
			if b.upto == r.Upto {
				err = f.Add(b.shows)
			}
		}
	}
	if err != nil {
		t.Fatal(err)
	}
}

// A first that is a reading has a reply for every range that the suspects part by, in order, and the last holds all above.
func TestRepliesToAReadingHoldEveryReading(t *testing.T) {
	f := finderOf(t, "staff")
	read := 0
	for i, p := range f.book.Pairs {
		if i%17 > 0 || f.isProof(p.Shows(0)) {
			continue
		}
		bins := f.bins(p)
		for k, b := range bins {
			if k > 0 && b.upto <= bins[k-1].upto {
				t.Errorf("%s: %v comes after %v", f.Say(p), b.upto, bins[k-1].upto)
			}
		}
		if len(bins) == 0 {
			continue
		}
		read++
		f.opening = &Opening{First: Step{Pair: &p}}
		for _, b := range bins {
			f.opening.Then = append(f.opening.Then, Reply{Upto: b.upto})
		}
		for k, b := range bins {
			if err := f.Add(b.shows); err != nil {
				t.Fatal(err)
			}
			if r := f.reply(); r != &f.opening.Then[k] {
				t.Errorf("%s: %v is not held by the range up to %v", f.Say(p), b.shows.Value, b.upto)
			}
			if _, err := f.Back(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if read < 10 {
		t.Errorf("only %d pairs part any suspects", read)
	}
}

// An opening is of one plan, one meter and one door, and gone when the plan changes under the finder.
func TestAnOpeningIsOfOnePlan(t *testing.T) {
	staff := finderOf(t, "staff")
	o, err := staff.Opening()
	if err != nil {
		t.Fatal(err)
	}
	if finderOf(t, "plant").Begin(o) {
		t.Error("another door takes it")
	}
	other := meter.Default()
	other.InputOhms /= 10
	if !testing.Short() && ownFinder(t, "staff", other).Begin(o) {
		t.Error("another meter takes it")
	}
	if staff.Begin(nil) || !staff.Begin(o) {
		t.Error("a finder takes none, or not its own")
	}
	if err := staff.Loop(meter.Loop{Run: "W1", Ohms: 3}); err != nil {
		t.Fatal(err)
	}
	if staff.opening != nil || staff.Begin(o) {
		t.Error("it is kept though a run was measured")
	}
	if err := staff.Mend("part:staff.lock1.coil.winding:open"); err != nil {
		t.Fatal(err)
	}
	if _, err := staff.Opening(); err == nil {
		t.Error("an opening is worked out after something was mended")
	}
}
