package unit

import (
	"regexp"
	"strings"
)

// SchemaText gives the form of the text as a regular expression, and an example, for a schema.
func (Volt) SchemaText() (pattern, example string)       { return volts.schemaText() }
func (Ampere) SchemaText() (pattern, example string)     { return amperes.schemaText() }
func (Ohm) SchemaText() (pattern, example string)        { return ohms.schemaText() }
func (Watt) SchemaText() (pattern, example string)       { return watts.schemaText() }
func (Metre) SchemaText() (pattern, example string)      { return metres.schemaText() }
func (Second) SchemaText() (pattern, example string)     { return seconds.schemaText() }
func (Celsius) SchemaText() (pattern, example string)    { return celsius.schemaText() }
func (AmpereHour) SchemaText() (pattern, example string) { return ampHours.schemaText() }
func (Henry) SchemaText() (pattern, example string)      { return henries.schemaText() }
func (Baud) SchemaText() (pattern, example string)       { return bauds.schemaText() }

// blankPattern is any number of blanks, each named: RE2 and ECMA-262 differ on whether \s holds the vertical tab and the
// spaces that do not break.
const blankPattern = "[ \\t\\n\\v\\f\\r\u00a0\u202f]*"

// numberPattern is the form of a number that read takes.
const numberPattern = `[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?`

func (f family) schemaText() (pattern, example string) {
	symbols := make([]string, len(f.scales))
	for i, s := range f.scales {
		symbols[i] = regexp.QuoteMeta(s.symbol)
	}
	unit := "(" + strings.Join(symbols, "|") + ")"
	return "^" + blankPattern + numberPattern + blankPattern + unit + blankPattern + "$", f.example
}

// SchemaText gives the form "LOW to HIGH" of the quantity.
func (b Band[T]) SchemaText() (pattern, example string) {
	q, ok := any(b.Low).(interface{ SchemaText() (string, string) })
	if !ok {
		return " to ", "LOW to HIGH"
	}
	end, e := q.SchemaText()
	end = strings.TrimSuffix(strings.TrimPrefix(end, "^"), "$")
	return "^" + end + " to " + end + "$", e + " to " + e
}

// SchemaText gives the form of a conductor size.
func (Size) SchemaText() (pattern, example string) {
	return "^" + blankPattern + `(\+?0*([0-9]|[123][0-9]|40)` + blankPattern + "AWG|" + numberPattern + blankPattern +
		"(mm2|mm²))" + blankPattern + "$", "0.5 mm2"
}
