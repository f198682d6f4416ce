package cable

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// FaradPerMetre is the capacitance between the two cores of a data pair, for each metre of cable.
type FaradPerMetre float64

var capacitanceScales = []struct {
	symbol string
	factor float64
}{{"pF/m", 1e-12}, {"nF/km", 1e-12}, {"pF/ft", 1e-12 / 0.3048}}

// UnmarshalText reads "100 pF/m", "100 nF/km" or "30 pF/ft"; it errs on other units and on what is not positive.
func (c *FaradPerMetre) UnmarshalText(text []byte) error {
	number, symbol, _ := strings.Cut(strings.TrimSpace(string(text)), " ")
	v, err := strconv.ParseFloat(number, 64)
	for _, s := range capacitanceScales {
		if err == nil && s.symbol == strings.TrimSpace(symbol) && v*s.factor > 0 && !math.IsInf(v, 0) {
			*c = FaradPerMetre(v * s.factor)
			return nil
		}
	}
	return fmt.Errorf("%q is not a capacitance per length; write it like \"100 pF/m\" or \"30 pF/ft\"", text)
}

// String writes the capacitance in pF/m.
func (c FaradPerMetre) String() string {
	return strconv.FormatFloat(float64(c)*1e12, 'f', 0, 64) + " pF/m"
}

// MarshalYAML writes what UnmarshalText reads, to twelve figures.
func (c FaradPerMetre) MarshalYAML() (any, error) {
	return strconv.FormatFloat(float64(c)*1e12, 'g', 12, 64) + " pF/m", nil
}
