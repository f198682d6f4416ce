package meter

import (
	"fmt"
	"math"
)

// Show writes a figure as a meter shows it: about four digits.
func Show(q Quantity, v float64) string {
	if q == Volts || q == Diode {
		if math.IsInf(v, 1) {
			return "over range"
		}
		return fmt.Sprintf("%.2f V", v)
	}
	switch a := math.Abs(v); {
	case math.IsInf(v, 1):
		return "over range"
	case a >= 1e6:
		return fmt.Sprintf("%.2f Mohm", v/1e6)
	case a >= 1e3:
		return fmt.Sprintf("%.2f kohm", v/1e3)
	}
	return fmt.Sprintf("%.1f ohm", v)
}
