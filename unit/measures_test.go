package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The figures in inches are those that the 2010 ADA Standards print beside their millimetres (309.4, 404.2.3: 48 in is
// 1220 mm, 32 in is 815 mm; they round to 5 mm), from memory; 1 ft is 0.3048 m exactly.
func TestLengthsInBothMeasures(t *testing.T) {
	for _, x := range []struct {
		v                    Metre
		metres, feet, mm, in string
	}{
		{15.24, "15.24 m", "50 ft", "15240 mm", "600 in"},
		{15, "15 m", "49.21 ft", "15000 mm", "590.6 in"},
		{1.22, "1.22 m", "4.003 ft", "1220 mm", "48 in"},
		{0.815, "815 mm", "2.674 ft", "815 mm", "32.1 in"},
		{0.2032, "203.2 mm", "8 in", "203 mm", "8 in"},
		{0, "0 m", "0 ft", "0 mm", "0 in"},
	} {
		for _, y := range [][2]string{
			{Metric.Length(x.v), x.metres}, {Feet.Length(x.v), x.feet}, {Metric.Mounted(x.v), x.mm}, {Feet.Mounted(x.v), x.in},
		} {
			if y[0] != y[1] {
				t.Errorf("%s, not %s", y[0], y[1])
			}
		}
	}
}

// What is told reads back to the same length within its figures.
func TestALengthToldReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Metre(rapid.Float64Range(0.001, 5000).Draw(t, "metres"))
		for _, m := range []Measures{Metric, Feet} {
			var back Metre
			if err := back.UnmarshalText([]byte(m.Length(v))); err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(back/v)-1) > 0.0006 && math.Abs(float64(back-v)) > 1e-6 {
				t.Fatalf("%s: %v is told as %s, which reads as %v", m, float64(v), m.Length(v), float64(back))
			}
			figure, symbol := m.In(v)
			if err := back.UnmarshalText([]byte(figures(figure) + " " + symbol)); err != nil || math.Abs(float64(back-v)) > 0.0006*float64(v)+1e-6 {
				t.Fatalf("%s: %v %s is %v", m, figure, symbol, float64(v))
			}
		}
	})
}
