package record

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"doorwright/meter"
	"doorwright/unit"
)

// Value is what a meter showed: a voltage, a current, a resistance or the voltage of its diode range, or over range. The
// zero Value is none.
type Value struct {
	Quantity meter.Quantity
	Volts    unit.Volt   // of a voltage and of the diode range, there +Inf for over range
	Amps     unit.Ampere // of a current
	Ohms     unit.Ohm    // of a resistance; +Inf for over range
}

// overRange is how people write that the meter showed no figure; onDiode ends what the diode range showed.
const (
	overRange = "over range"
	onDiode   = " diode"
)

// Figure is the bare figure that meter.Band.Holds takes.
func (v Value) Figure() float64 {
	switch v.Quantity {
	case meter.Volts, meter.Diode:
		return float64(v.Volts)
	case meter.Amps:
		return float64(v.Amps)
	}
	return float64(v.Ohms)
}

// Unshown errs on a figure that no meter shows, with what would be right. A Value that was kept is never refused for it.
func (v Value) Unshown() error {
	if v.Quantity == "" || math.IsInf(v.Figure(), 1) {
		return nil
	}
	if want := meter.Unshown(v.Quantity, v.Figure()); want != "" {
		return errors.New(want)
	}
	return nil
}

// String writes the value as it is read off the meter; nothing for none.
func (v Value) String() string {
	switch {
	case v.Quantity == "":
		return ""
	case v.Quantity == meter.Diode && math.IsInf(float64(v.Volts), 1):
		return overRange + onDiode
	case v.Quantity == meter.Diode:
		return v.Volts.String() + onDiode
	case v.Quantity == meter.Volts:
		return v.Volts.String()
	case v.Quantity == meter.Amps:
		return v.Amps.String()
	case math.IsInf(float64(v.Ohms), 1):
		return overRange
	case v.Ohms < 1: // thousandths differ from millions by the height of one letter
		return strconv.FormatFloat(float64(v.Ohms), 'f', -1, 64) + " ohm"
	}
	return v.Ohms.String()
}

// UnmarshalText reads "12.8 V", "340 mA", "4.7 kohm", "over range", "0.61 V diode" or "over range diode"; it errs on
// anything else.
func (v *Value) UnmarshalText(text []byte) error {
	bare, diode := strings.CutSuffix(strings.TrimSpace(string(text)), onDiode)
	over := strings.EqualFold(bare, overRange)
	var volts unit.Volt
	isVolts := volts.UnmarshalText([]byte(bare)) == nil
	switch {
	case over && diode:
		*v = Value{Quantity: meter.Diode, Volts: unit.Volt(math.Inf(1))}
		return nil
	case over:
		*v = Value{Quantity: meter.Ohms, Ohms: unit.Ohm(math.Inf(1))}
		return nil
	case isVolts && diode:
		*v = Value{Quantity: meter.Diode, Volts: volts}
		return nil
	case isVolts:
		*v = Value{Quantity: meter.Volts, Volts: volts}
		return nil
	}
	var amps unit.Ampere
	if !diode && amps.UnmarshalText([]byte(bare)) == nil {
		*v = Value{Quantity: meter.Amps, Amps: amps}
		return nil
	}
	var ohms unit.Ohm
	if !diode && ohms.UnmarshalText([]byte(bare)) == nil && ohms >= 0 {
		*v = Value{Quantity: meter.Ohms, Ohms: ohms}
		return nil
	}
	return fmt.Errorf("%q is no reading; write it like 12.8 V, 340 mA, 4.7 kohm, %s or 0.61 V diode", text, overRange)
}

// MarshalText writes what UnmarshalText reads, with every figure that the meter showed.
func (v Value) MarshalText() ([]byte, error) {
	var exact any
	var err error
	switch {
	case v.Quantity == "" || math.IsInf(v.Figure(), 0):
		return []byte(v.String()), nil
	case v.Quantity == meter.Amps:
		exact, err = v.Amps.MarshalYAML()
	case v.Quantity == meter.Ohms:
		exact, err = v.Ohms.MarshalYAML()
	default:
		exact, err = v.Volts.MarshalYAML()
	}
	text, _ := exact.(string)
	if v.Quantity == meter.Diode {
		text += onDiode
	}
	return []byte(text), err
}

// SchemaText gives the form of a reading.
func (Value) SchemaText() (pattern, example string) {
	return `^.*(V|A|ohm|range|diode)$`, "12.8 V"
}
