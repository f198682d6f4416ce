package meter

import (
	"math"
	"strings"
	"testing"
)

// Mains, and all that a meter may show, is taken; what none shows is refused with the most that is taken.
func TestWhatNoMeterShows(t *testing.T) {
	for _, c := range []struct {
		text, want string
	}{
		{"C1 NC1; C1 0V; idle; volts 230 V", ""},
		{"C1 NC1; C1 0V; idle; volts -230 V", ""},
		{"C1 NC1; C1 0V; off; volts 400 V", ""},
		{"C1 NC1; C1 0V; idle; volts 1000 V", ""},
		{"C1 NC1; C1 0V; idle; volts 1.5 kV", ""},
		{"C1 NC1; C1 0V; idle; volts 1501 V", "the most that is taken is 1500 V"},
		{"C1 NC1; C1 0V; idle; volts -1e300 V", "the most that is taken is 1500 V"},
		{"C1 NC1; C1 0V; off; ohms 200 Mohm", ""},
		{"C1 NC1; C1 0V; off; ohms open", ""},
		{"C1 NC1; C1 0V; off; ohms 1e12 Mohm", "the most that is taken is"},
		{"C1 NC1; C1 0V; off; diode 3 V", ""},
		{"C1 NC1; C1 0V; off; diode 230 V", "the most that is taken is 10 V"},
	} {
		_, err := ParseReading(c.text)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.text, err, c.want)
		}
	}
	for _, q := range []Quantity{Volts, Ohms, Diode, Amps} {
		if Unshown(q, math.NaN()) == "" {
			t.Errorf("%s that is no number is shown", q)
		}
	}
	if Unshown(Amps, 10) != "" || Unshown(Amps, 1e6) == "" {
		t.Error("amperes")
	}
}
