package unit

import "math"

// Measures is how lengths are told to people. What is computed, kept and given to programs is in metres all the same.
type Measures string

// The measures that lengths are told in.
const (
	Metric Measures = "metric"
	Feet   Measures = "feet" // and inches
)

// Length tells how long a cable is: "15 m" or "49.21 ft".
func (m Measures) Length(v Metre) string {
	switch {
	case m != Feet:
		return v.String()
	case v == 0:
		return "0 " + foot.symbol
	}
	return write(float64(v), inch, foot)
}

// In is a length as a bare number, for a table that names the unit in its head: metres or feet.
func (m Measures) In(v Metre) (figure float64, symbol string) {
	if m == Feet {
		return float64(v) / 0.3048, foot.symbol
	}
	return float64(v), "m"
}

// Mounted tells a height, a width or an offset as drawings do: in whole millimetres, or in inches to a tenth.
func (m Measures) Mounted(v Metre) string {
	figure, symbol := m.MountedIn(v)
	return figures(figure) + " " + symbol
}

// MountedIn is what Mounted tells as a bare number.
func (m Measures) MountedIn(v Metre) (figure float64, symbol string) {
	if m == Feet {
		return math.Round(float64(v)/0.0254*10) / 10, inch.symbol
	}
	return math.Round(float64(v) * 1000), "mm"
}
