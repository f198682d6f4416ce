package meter

import (
	"fmt"
	"math"

	"doorwright/unit"
)

// The most that is taken for a reading. Mains and more must be taken, for it stops the search; what no meter in a hand shows is a
// slip of the unit or of the decimal point.
const (
	mostShownVolts unit.Volt   = 1500 // the end of low voltage, direct current (IEC 60038, from memory)
	mostShownDiode unit.Volt   = 10   // a figure of our own choice: diode ranges end at 2 V to 3 V, those for lamps below it
	mostShownOhms  unit.Ohm    = 1e12 // a figure of our own choice: insulation testers of 250 V end below it
	mostShownAmps  unit.Ampere = 1500 // a figure of our own choice: clamps for direct current end below it
)

// Unshown says what would be right in place of a figure that no meter shows, in V, ohm or A; empty for one that a meter may show.
func Unshown(q Quantity, v float64) string {
	var limit float64
	var symbol string
	switch q {
	case Volts:
		limit, symbol = float64(mostShownVolts), "V"
	case Diode:
		limit, symbol = float64(mostShownDiode), "V"
	case Ohms:
		limit, symbol = float64(mostShownOhms), "ohm"
	case Amps:
		limit, symbol = float64(mostShownAmps), "A"
	}
	if math.Abs(v) <= limit {
		return ""
	}
	return fmt.Sprintf("%.4g %s is more than any meter shows; the most that is taken is %.4g %s: look at the unit and at the point", v, symbol, limit, symbol)
}
