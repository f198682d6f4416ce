package unit

import (
	"encoding/json"
	"fmt"
)

// fromJSON reads what encoding/json writes of a quantity, a plain number in the base unit, and also text with a unit.
// Without it encoding/json would refuse the number, because the type reads text.
func fromJSON[T ~float64](dst *T, f family, data []byte) error {
	if len(data) > 0 && data[0] == '"' {
		var text string
		if err := json.Unmarshal(data, &text); err != nil {
			return err
		}
		return into(dst, f, []byte(text))
	}
	var v float64
	if err := json.Unmarshal(data, &v); err != nil {
		return fmt.Errorf("%.40s is not a %s: %w", data, f.name, err)
	}
	*dst = T(v)
	return nil
}

// UnmarshalJSON reads a number in the base unit, or text with its unit; it errs on anything else.
func (v *Volt) UnmarshalJSON(b []byte) error       { return fromJSON(v, volts, b) }
func (v *Ampere) UnmarshalJSON(b []byte) error     { return fromJSON(v, amperes, b) }
func (v *Ohm) UnmarshalJSON(b []byte) error        { return fromJSON(v, ohms, b) }
func (v *Watt) UnmarshalJSON(b []byte) error       { return fromJSON(v, watts, b) }
func (v *Metre) UnmarshalJSON(b []byte) error      { return fromJSON(v, metres, b) }
func (v *Second) UnmarshalJSON(b []byte) error     { return fromJSON(v, seconds, b) }
func (v *Celsius) UnmarshalJSON(b []byte) error    { return fromJSON(v, celsius, b) }
func (v *AmpereHour) UnmarshalJSON(b []byte) error { return fromJSON(v, ampHours, b) }
func (v *Henry) UnmarshalJSON(b []byte) error      { return fromJSON(v, henries, b) }
func (v *Baud) UnmarshalJSON(b []byte) error       { return fromJSON(v, bauds, b) }

// UnmarshalJSON reads {"low": .., "high": ..} as encoding/json writes it, or text; it errs when low is above high.
func (b *Band[T]) UnmarshalJSON(data []byte) error {
	var text string
	if json.Unmarshal(data, &text) == nil {
		return b.UnmarshalText([]byte(text))
	}
	var ends struct{ Low, High T }
	if err := json.Unmarshal(data, &ends); err != nil {
		return fmt.Errorf("%.40s is not a range: %w", data, err)
	}
	if ends.Low > ends.High {
		return fmt.Errorf("the range %.80s starts above its end", data)
	}
	*b = Band[T](ends)
	return nil
}

// UnmarshalJSON reads the size as text; the empty text, which MarshalText writes of no size, is no size.
func (s *Size) UnmarshalJSON(data []byte) error {
	var text string
	if err := json.Unmarshal(data, &text); err != nil {
		return fmt.Errorf("%.40s is not a conductor size: %w", data, err)
	}
	if text == "" {
		*s = Size{}
		return nil
	}
	return s.UnmarshalText([]byte(text))
}
