package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// figures writes v with four significant figures, or all those before the point when they are more (115200 baud), and
// no exponent or trailing zeros.
func figures(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v+0, 'g', -1, 64) // -0 + 0 is 0
	}
	decimals := 3 - int(math.Floor(math.Log10(math.Abs(v))))
	decimals = max(0, min(decimals, 9))
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// write picks, of the scales given from small to large, the largest that leaves a number of at least one.
func write(v float64, scales ...scale) string {
	best := scales[0]
	for _, s := range scales {
		if math.Abs(v) >= s.size()*0.99995 {
			best = s
		}
	}
	if v == 0 || math.IsNaN(v) {
		for _, s := range scales {
			if s.size() == 1 {
				best = s
			}
		}
	}
	return figures(v*best.over/best.times) + " " + best.symbol
}

func (v Volt) String() string { return write(float64(v), scale{"mV", 1, 1e3}, scale{"V", 1, 1}) }

func (v Ampere) String() string {
	return write(float64(v), scale{"uA", 1, 1e6}, scale{"mA", 1, 1e3}, scale{"A", 1, 1})
}

func (v Watt) String() string { return write(float64(v), scale{"mW", 1, 1e3}, scale{"W", 1, 1}) }

func (v Metre) String() string      { return write(float64(v), scale{"mm", 1, 1e3}, scale{"m", 1, 1}) }
func (v Celsius) String() string    { return figures(float64(v)) + " C" }
func (v AmpereHour) String() string { return figures(float64(v)) + " Ah" }
func (v Henry) String() string      { return write(float64(v), scale{"mH", 1, 1e3}, scale{"H", 1, 1}) }
func (v Baud) String() string       { return figures(float64(v)) + " baud" }

func (v Ohm) String() string {
	return write(float64(v), scale{"mohm", 1, 1e3}, scale{"ohm", 1, 1}, scale{"kohm", 1e3, 1}, scale{"Mohm", 1e6, 1})
}

func (v Second) String() string {
	return write(float64(v),
		scale{"us", 1, 1e6}, scale{"ms", 1, 1e3}, scale{"s", 1, 1}, scale{"min", 60, 1}, scale{"h", 3600, 1})
}

// MarshalYAML writes the quantity in its base unit, exactly.
func (v Volt) MarshalYAML() (any, error)       { return exactText(float64(v), "V") }
func (v Ampere) MarshalYAML() (any, error)     { return exactText(float64(v), "A") }
func (v Ohm) MarshalYAML() (any, error)        { return exactText(float64(v), "ohm") }
func (v Watt) MarshalYAML() (any, error)       { return exactText(float64(v), "W") }
func (v Metre) MarshalYAML() (any, error)      { return exactText(float64(v), "m") }
func (v Second) MarshalYAML() (any, error)     { return exactText(float64(v), "s") }
func (v Celsius) MarshalYAML() (any, error)    { return exactText(float64(v), "C") }
func (v AmpereHour) MarshalYAML() (any, error) { return exactText(float64(v), "Ah") }
func (v Henry) MarshalYAML() (any, error)      { return exactText(float64(v), "H") }
func (v Baud) MarshalYAML() (any, error)       { return exactText(float64(v), "baud") }

// exactText writes v in the base unit with every digit it has, so that what is written reads back to the same number.
// It errs when v is not finite, which no reader would take.
func exactText(v float64, symbol string) (any, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%v %s is not a figure that can be written", v, symbol)
	}
	return strconv.FormatFloat(v, 'g', -1, 64) + " " + symbol, nil
}
