package record_test

import (
	"testing"

	"doorwright/record"
)

// A figure stands as it is read off a meter: nobody says 900 mohm, which is one letter from 900 Mohm.
func TestAValueIsWrittenAsItIsReadOffAMeter(t *testing.T) {
	for typed, want := range map[string]string{
		"0.9 ohm": "0.9 ohm", "0.04 ohm": "0.04 ohm", "900 mohm": "0.9 ohm", "0.05 Ω": "0.05 ohm", "0 ohm": "0 ohm", "1 ohm": "1 ohm", "2200 ohm": "2.2 kohm", "3 Mohm": "3 Mohm",
		"0.02 V": "20 mV", "0.61 V diode": "610 mV diode", "340 mA": "340 mA", "over range": "over range",
	} {
		var v, again record.Value
		if err := v.UnmarshalText([]byte(typed)); err != nil {
			t.Fatal(err)
		}
		if got := v.String(); got != want {
			t.Errorf("%q is written %q, want %q", typed, got, want)
		}
		if err := again.UnmarshalText([]byte(v.String())); err != nil || again != v {
			t.Errorf("%q is read back as %v, %v", v, again, err)
		}
	}
}
