package meter

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// one is a function with a single range.
func one(share, counts, full, resolution float64) Function {
	return Function{share, counts, []Range{{full, resolution}}}
}

// Printed examples of meter makers' accuracy notes: 100.0 V at +-(1 % + 2) is 98.8 V to 101.2 V; 1.755 V at
// +-(0.5 % + 1) is +-0.010 V; 2.000 V on 5.000 V at +-(0.08 % + 2) is 1.9964 V to 2.0036 V. The two in ohms are worked
// by hand.
func TestErrorOfAMeter(t *testing.T) {
	tests := []struct {
		name          string
		f             Function
		reading, want float64
	}{
		{"100.0 V, 1 % + 2", one(0.01, 2, 600, 0.1), 100, 1.2},
		{"1.755 V on 2 V, 0.5 % + 1", one(0.005, 1, 2, 0.001), 1.755, 0.009775},
		{"2.000 V on 5.000 V, 0.08 % + 2", one(0.0008, 2, 5, 0.001), 2, 0.0036},
		{"2.2 kohm on 6.000 kohm, 0.5 % + 2", one(0.005, 2, 6000, 1), 2200, 13},
		{"4.4 ohm on 600.0 ohm, 0.9 % + 2", Default().Ohms, 4.4, 0.2396},
		{"the lowest range that holds it", Default().Volts, 12.8, 0.005*12.8 + 0.02},
		{"negative", Default().Volts, -12.8, 0.005*12.8 + 0.02},
		{"beyond the highest range", Default().Volts, 1000, 5 + 0.2},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.f.Error(tt.reading); math.Abs(got-tt.want) > 1e-9 {
				t.Errorf("%v, want %v", got, tt.want)
			}
		})
	}
}

func functions(t *rapid.T) Function {
	f := Function{rapid.Float64Range(0, 0.05).Draw(t, "share"), rapid.Float64Range(0, 20).Draw(t, "counts"), nil}
	f.Ranges = sixThousand(rapid.Float64Range(0.01, 10).Draw(t, "first"), rapid.IntRange(1, 5).Draw(t, "ranges"))
	return f
}

func TestWideningLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, volts := functions(t), rapid.Float64Range(-100, 100)
		b := band{}
		b.low = volts.Draw(t, "low")
		b.high = b.low + rapid.Float64Range(0, 100).Draw(t, "width")
		w := f.widened(b)
		truth := b.low + rapid.Float64Range(0, 1).Draw(t, "within")*(b.high-b.low)
		if shown := truth - f.Error(truth); shown < w.low-1e-9 {
			t.Fatalf("%v may show as %v, below %v", truth, shown, w)
		}
		if shown := truth + f.Error(truth); shown > w.high+1e-9 {
			t.Fatalf("%v may show as %v, above %v", truth, shown, w)
		}
		wider := band{b.low - rapid.Float64Range(0, 20).Draw(t, "down"), b.high + rapid.Float64Range(0, 20).Draw(t, "up")}
		if x := f.widened(wider); x.low > w.low+1e-9 || x.high < w.high-1e-9 {
			t.Fatalf("%v in %v gives %v, which is not in %v", b, wider, w, x)
		}
		worse := Function{f.Share * 2, f.Counts + 1, f.Ranges}
		if x := worse.widened(b); x.low > w.low || x.high < w.high {
			t.Fatalf("a worse meter gives %v, not around %v", x, w)
		}
	})
}

// A source of 100 kohm and a meter of 10 Mohm: 10/10.1 of the voltage is shown, by the rule of the divider.
func TestMeterLoadsAWeakSource(t *testing.T) {
	if got := 5 * divided(100e3, float64(Default().InputOhms)); math.Abs(got-5*10/10.1) > 1e-9 {
		t.Errorf("%v", got)
	}
}

func TestHolds(t *testing.T) {
	closed := Band{Low: 1, High: 2}
	open := Band{Open: true, Low: 5e5, High: 6e7}
	for _, tt := range []struct {
		e    Band
		v    float64
		want bool
	}{
		{closed, 1, true},
		{closed, 2, true},
		{closed, 0.99, false},
		{closed, 2.01, false},
		{closed, math.NaN(), false},
		{open, math.Inf(1), true},
		{open, 6e7, true},
		{open, 5e5, true},
		{open, 4e5, false},
		{open, math.NaN(), false},
	} {
		if tt.e.Holds(tt.v) != tt.want {
			t.Errorf("%v in %+v: want %v", tt.v, tt.e, tt.want)
		}
	}
}

func TestCautionsForbidWhatHurts(t *testing.T) {
	all := strings.Join(Cautions(), "\n")
	words := []string{"mains", "battery", "second supply", "network power", "unplugged", "release", "fire contact"}
	for _, word := range words {
		if !strings.Contains(all, word) {
			t.Errorf("nothing is said about %q", word)
		}
	}
}
