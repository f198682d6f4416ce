package find

import (
	"math"
	"testing"

	"doorwright/meter"
)

// How much there is to be told at the doors of the harness, and how much a first reading tells of it. To name one of n groups
// rightly with probability p, no more than h(1-p) + (1-p) log2(n-1) bits may be left (Fano's inequality; Cover and Thomas,
// Elements of Information Theory, 2.10, from memory).
func TestBitsOfTheDoors(t *testing.T) {
	for a, text := range arrangements {
		f := finderAsFound(t, text)
		of := map[int]float64{}
		sum := 0.0
		for _, s := range f.suspects {
			if s.fault != nil {
				of[s.group] += s.prior
				sum += s.prior
			}
		}
		bits := 0.0
		for _, p := range of {
			bits -= p / sum * math.Log2(p/sum)
		}
		most, rate := 0.0, 0.0
		var open []int
		for i, p := range f.book.Pairs {
			if !f.isProof(p.Shows(0)) {
				open = append(open, i)
			}
		}
		for i, gain := range f.gains(open, f.guesses(len(f.suspects))) {
			most, rate = max(most, gain), max(rate, gain/f.Effort(f.book.Pairs[open[i]]))
		}
		n := float64(len(of))
		left := func(wrong float64) float64 {
			return -wrong*math.Log2(wrong) - (1-wrong)*math.Log2(1-wrong) + wrong*math.Log2(n-1)
		}
		t.Logf("arrangement %d: %d suspects, %d groups, %.2f bits; the best reading tells %.2f bits, the best for its effort %.2f; "+
			"85 %% right leaves at most %.2f, so %.2f an effort up to 6; 97 %% at most %.2f",
			a+1, len(f.suspects), len(of), bits, most, rate, left(0.15), (bits-left(0.15))/6, left(0.03))
		if bits > math.Log2(n) || most > bits {
			t.Errorf("arrangement %d: %v bits of %v groups, of which one reading tells %v", a+1, bits, n, most)
		}
	}
}

// What is suggested to look at can be told.
func TestEveryLookCanBeTold(t *testing.T) {
	f := finderOf(t, "staff")
	for _, s := range f.book.Stops {
		for _, what := range meter.Sights() {
			if s.In.Dead() || !seenWhile(what, s.In.Act) {
				continue
			}
			for _, is := range what.Answers() {
				f.reset()
				if err := f.See(meter.Observation{What: what, Is: is, In: s.In}); err != nil {
					t.Errorf("%s, %s, %q: %v", what, is, s.In, err)
				}
			}
		}
	}
}
