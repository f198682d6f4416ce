package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// blanks may stand around a number and its unit. The last two are the spaces that do not break, which printed data
// sheets put between number and unit.
const blanks = " \t\n\v\f\r\u00a0\u202f"

// read turns text such as "4.7 kohm" into base units. A number without a unit is an error: on a job sheet "500" has
// been read as milliamperes and as amperes by two people on the same day.
func (f family) read(text string) (float64, error) {
	t := strings.Trim(text, blanks)
	cut := len(t)
	for i, r := range t {
		if (r < '0' || r > '9') && r != '.' && r != '-' && r != '+' && !exponentAt(t, i) {
			cut = i
			break
		}
	}
	number, symbol := strings.Trim(t[:cut], blanks), strings.Trim(t[cut:], blanks)
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, fmt.Errorf("%q is not a %s; write it like %q", text, f.name, f.example)
	}
	if strings.HasPrefix(symbol, ",") {
		return 0, fmt.Errorf("%q has a comma in the number; write the decimals after a point, like \"4.7\"", text)
	}
	if symbol == "" {
		return 0, fmt.Errorf("%q has no unit; write it like %q", text, f.example)
	}
	for _, s := range f.scales {
		if s.symbol == symbol {
			return f.finite(text, s.toBase(v))
		}
	}
	return 0, fmt.Errorf("%q has the unit %q, not one of a %s (%s); write it like %q",
		text, symbol, f.name, f.symbols(), f.example)
}

// finite refuses what the unit has made too large for a float64.
func (f family) finite(text string, v float64) (float64, error) {
	if math.IsInf(v, 0) {
		return 0, fmt.Errorf("%q is too large for a %s; write it like %q", text, f.name, f.example)
	}
	return v, nil
}

// exponentAt says whether position i of t is the e of a number such as 1e-3, and not the start of a unit.
func exponentAt(t string, i int) bool {
	if i == 0 || (t[i] != 'e' && t[i] != 'E') || i+1 >= len(t) {
		return false
	}
	next := t[i+1]
	return next >= '0' && next <= '9' || (next == '-' || next == '+') && i+2 < len(t) && t[i+2] >= '0' && t[i+2] <= '9'
}

func (f family) symbols() string {
	s := make([]string, len(f.scales))
	for i, x := range f.scales {
		s[i] = x.symbol
	}
	return strings.Join(s, ", ")
}

func into[T ~float64](dst *T, f family, text []byte) error {
	v, err := f.read(string(text))
	if err == nil {
		*dst = T(v)
	}
	return err
}

// UnmarshalText reads a quantity with its unit; it errs on a missing or foreign unit and on what is not finite.
func (v *Volt) UnmarshalText(b []byte) error       { return into(v, volts, b) }
func (v *Ampere) UnmarshalText(b []byte) error     { return into(v, amperes, b) }
func (v *Ohm) UnmarshalText(b []byte) error        { return into(v, ohms, b) }
func (v *Watt) UnmarshalText(b []byte) error       { return into(v, watts, b) }
func (v *Metre) UnmarshalText(b []byte) error      { return into(v, metres, b) }
func (v *Second) UnmarshalText(b []byte) error     { return into(v, seconds, b) }
func (v *Celsius) UnmarshalText(b []byte) error    { return into(v, celsius, b) }
func (v *AmpereHour) UnmarshalText(b []byte) error { return into(v, ampHours, b) }
func (v *Henry) UnmarshalText(b []byte) error      { return into(v, henries, b) }
func (v *Baud) UnmarshalText(b []byte) error       { return into(v, bauds, b) }
