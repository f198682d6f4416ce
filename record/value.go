package record

import (
	"fmt"
	"math"
	"strings"

	"doorwright/meter"
	"doorwright/unit"
)

// Value is what a meter showed: a voltage, a resistance, or over range. The zero Value is none.
type Value struct {
	Quantity meter.Quantity
	Volts    unit.Volt // of a voltage
	Ohms     unit.Ohm  // of a resistance; +Inf for over range
}

// overRange is how people write that the meter showed no figure.
const overRange = "over range"

// Figure is the bare figure that meter.Expectation.Holds takes.
func (v Value) Figure() float64 {
	if v.Quantity == meter.Volts {
		return float64(v.Volts)
	}
	return float64(v.Ohms)
}

// String writes the value as it is read; nothing for none.
func (v Value) String() string {
	switch {
	case v.Quantity == "":
		return ""
	case v.Quantity == meter.Volts:
		return v.Volts.String()
	case math.IsInf(float64(v.Ohms), 1):
		return overRange
	}
	return v.Ohms.String()
}

// UnmarshalText reads "12.8 V", "4.7 kohm" or "over range"; it errs on anything else.
func (v *Value) UnmarshalText(text []byte) error {
	if strings.EqualFold(strings.TrimSpace(string(text)), overRange) {
		*v = Value{Quantity: meter.Ohms, Ohms: unit.Ohm(math.Inf(1))}
		return nil
	}
	var volts unit.Volt
	if volts.UnmarshalText(text) == nil {
		*v = Value{Quantity: meter.Volts, Volts: volts}
		return nil
	}
	var ohms unit.Ohm
	if ohms.UnmarshalText(text) == nil && ohms >= 0 {
		*v = Value{Quantity: meter.Ohms, Ohms: ohms}
		return nil
	}
	return fmt.Errorf("%q is no reading; write it like 12.8 V, 4.7 kohm or %s", text, overRange)
}

// MarshalText writes what UnmarshalText reads, in three or four figures.
func (v Value) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// SchemaText gives the form of a reading.
func (Value) SchemaText() (pattern, example string) {
	return `^.*(V|ohm|range)$`, "12.8 V"
}
