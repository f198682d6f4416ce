package unit

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestBand(t *testing.T) {
	b := Band[Volt]{10.8, 13.2}
	for _, tt := range []struct {
		v    Volt
		want bool
	}{{10.8, true}, {13.2, true}, {12, true}, {10.7999, false}, {13.2001, false}} {
		if b.Holds(tt.v) != tt.want {
			t.Errorf("%v holds %v: want %v", b, tt.v, tt.want)
		}
	}
	if !(Band[Volt]{}).IsZero() || b.IsZero() || (Band[Volt]{-1, 0}).IsZero() {
		t.Error("only the zero band is none")
	}
}

func TestReadingABand(t *testing.T) {
	tests := []struct{ text, want string }{ // the start of the error; empty for none
		{"10.8 V to 13.2 V", ""},
		{"13 V to 13 V", ""},
		{"-5 V to 900 mV", ""},
		{"10.8 V", `"10.8 V" is not a range; write it like "LOW to HIGH"`},
		{"10.8 to 13.2 V", `"10.8" has no unit`},
		{"10.8 V to 13.2", `"13.2" has no unit`},
		{"13 V to 12 V", `the range "13 V to 12 V" starts above its end`},
		{"1 V to 2 V to 3 V", `"2 V to 3 V" has the unit`},
		{"", `"" is not a range`},
	}
	for _, tt := range tests {
		var b Band[Volt]
		err := b.UnmarshalText([]byte(tt.text))
		if (err == nil) != (tt.want == "") || err != nil && !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%q gives %v, want %q", tt.text, err, tt.want)
		}
		if err != nil && !b.IsZero() {
			t.Errorf("%q changed the range to %v", tt.text, b)
		}
	}
	if err := new(Band[float64]).UnmarshalText([]byte("1 to 2")); err == nil {
		t.Error("a range without a unit is read")
	}
}

func bands(t *rapid.T) Band[Ampere] {
	ends := rapid.Float64Range(-1e6, 1e6)
	return Band[Ampere]{}.With(Ampere(ends.Draw(t, "a"))).With(Ampere(ends.Draw(t, "b")))
}

func TestBandLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, v := bands(t), Ampere(rapid.Float64Range(-1e6, 1e6).Draw(t, "v"))
		w := b.With(v)
		if !w.Holds(v) || !w.Holds(b.Low) || !w.Holds(b.High) {
			t.Fatalf("%v with %v is %v", b, v, w)
		}
		if b.Holds(v) && w != b {
			t.Fatalf("%v grew to %v for %v, which it held", b, w, v)
		}
		checkMarshalled(t, reflect.ValueOf(b))
	})
}

func FuzzBand(f *testing.F) {
	for _, s := range []string{"10.8 V to 13.2 V", " to ", "1 V to 1e309 V", "2 V to 1 V", "{\"low\": 1}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var b Band[Volt]
		if b.UnmarshalText([]byte(text)) == nil && !(b.Low <= b.High) {
			t.Errorf("%q is read as %v", text, b)
		}
		var j Band[Volt]
		if json.Unmarshal([]byte(text), &j) == nil && !(j.Low <= j.High) {
			t.Errorf("%q is read from JSON as %v", text, j)
		}
	})
}
