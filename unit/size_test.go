package unit

import (
	"math"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Diameters and areas of solid wire by the formula of ASTM B258, d = 0.127 mm x 92^((36-n)/39), worked out apart from
// this program and rounded to four decimals. The formula is from memory of the standard; the diameters agree with the
// table of solid wire printed in open textbooks.
func TestGaugeAgainstASTMB258(t *testing.T) {
	tests := []struct {
		gauge          int
		diameter, area float64
	}{
		{10, 2.5882, 5.2612},
		{11, 2.3048, 4.1723},
		{12, 2.0525, 3.3088},
		{13, 1.8278, 2.6240},
		{14, 1.6277, 2.0809},
		{15, 1.4495, 1.6502},
		{16, 1.2908, 1.3087},
		{17, 1.1495, 1.0378},
		{18, 1.0237, 0.8230},
		{19, 0.9116, 0.6527},
		{20, 0.8118, 0.5176},
		{21, 0.7229, 0.4105},
		{22, 0.6438, 0.3255},
		{23, 0.5733, 0.2582},
		{24, 0.5106, 0.2047},
		{25, 0.4547, 0.1624},
		{26, 0.4049, 0.1288},
	}
	for _, tt := range tests {
		s := AWG(tt.gauge)
		if math.Abs(s.Diameter()-tt.diameter) > 0.00005001 {
			t.Errorf("%v has the diameter %.5f mm, want %.4f", s, s.Diameter(), tt.diameter)
		}
		if math.Abs(s.Area()-tt.area) > 0.00005001 {
			t.Errorf("%v has the area %.5f mm2, want %.4f", s, s.Area(), tt.area)
		}
	}
}

// The two sizes that define the gauge, ASTM B258 (from memory): 36 AWG is 5 mils, 0000 AWG 460 mils, 39 steps apart.
func TestGaugeAtItsDefinition(t *testing.T) {
	if d := AWG(36).Diameter(); math.Abs(d-0.127) > 1e-12 {
		t.Errorf("36 AWG is %v mm, want 0.127", d)
	}
	if step := AWG(0).Diameter() / AWG(39).Diameter(); math.Abs(step-92) > 1e-9 {
		t.Errorf("39 steps are a factor of %v, want 92", step)
	}
}

func TestMetricSize(t *testing.T) {
	s := MM2(0.75)
	if !s.Metric() || s.IsZero() || s.Area() != 0.75 || math.Abs(math.Pi*s.Diameter()*s.Diameter()/4-0.75) > 1e-12 {
		t.Errorf("0.75 mm2 has the area %v and the diameter %v", s.Area(), s.Diameter())
	}
	for _, a := range []float64{0, -1, math.NaN()} {
		if !MM2(a).IsZero() {
			t.Errorf("MM2(%v) is %v, want no size", a, MM2(a))
		}
	}
	if AWG(0).IsZero() || AWG(0).Metric() {
		t.Error("0 AWG is a size, and not a metric one")
	}
}

func TestReadingASize(t *testing.T) {
	tests := []struct {
		text string
		want Size // the zero Size for an error
	}{
		{"0.5 mm2", MM2(0.5)},
		{"0.75mm²", MM2(0.75)},
		{" 1.5 mm2 ", MM2(1.5)},
		{"24 AWG", AWG(24)},
		{"24AWG", AWG(24)},
		{"0 AWG", AWG(0)},
		{"40 AWG", AWG(40)},
		{"41 AWG", Size{}},
		{"-1 AWG", Size{}},
		{"2.5 AWG", Size{}},
		{"AWG 24", Size{}},
		{"24", Size{}},
		{"0.5", Size{}},
		{"0.5 mm", Size{}},
		{"0 mm2", Size{}},
		{"-1 mm2", Size{}},
		{"inf mm2", Size{}},
		{"nan mm2", Size{}},
		{"0x1p1 mm2", Size{}},
		{"1001 mm2", Size{}},
		{"", Size{}},
	}
	for _, tt := range tests {
		var s Size
		err := s.UnmarshalText([]byte(tt.text))
		if s != tt.want || (err == nil) == tt.want.IsZero() {
			t.Errorf("%q is read as %v with %v, want %v", tt.text, s, err, tt.want)
		}
		if err != nil && !strings.Contains(err.Error(), `write it like "0.5 mm2" or "24 AWG"`) {
			t.Errorf("%q: the error does not say what would be right: %v", tt.text, err)
		}
	}
}

func sizes() *rapid.Generator[Size] {
	return rapid.OneOf(
		rapid.Map(rapid.IntRange(0, 40), AWG), rapid.Map(rapid.Float64Range(1e-6, 1000), MM2), rapid.Just(Size{}),
	)
}

func TestSizesKeepTheirValue(t *testing.T) {
	type holder struct {
		Size Size `yaml:"size,omitempty"`
	}
	rapid.Check(t, func(t *rapid.T) {
		checkMarshalled(t, reflect.ValueOf(holder{sizes().Draw(t, "size")}))
	})
}

// A higher gauge is a thinner wire.
func TestGaugesFallInOrder(t *testing.T) {
	for n := range 40 {
		if AWG(n+1).Area() >= AWG(n).Area() {
			t.Errorf("%d AWG is not thinner than %d AWG", n+1, n)
		}
	}
}

func FuzzSize(f *testing.F) {
	for _, s := range []string{"0.5 mm2", "24 AWG", "+5AWG", "1e-3 mm²", ".5 mm2", "007 AWG", "1_0 mm2", "AWG", "mm2"} {
		f.Add(s)
	}
	pattern := regexp.MustCompile(first(Size{}.SchemaText()))
	f.Fuzz(func(t *testing.T, text string) {
		var s Size
		if s.UnmarshalText([]byte(text)) != nil {
			return
		}
		if a := s.Area(); s.IsZero() || !(a > 0) || a > 1000 {
			t.Errorf("%q is read as %v with an area of %v mm2", text, s, a)
		}
		if !pattern.MatchString(text) {
			t.Errorf("%q is read but does not fit %s", text, pattern)
		}
	})
}

func first(a, _ string) string { return a }
