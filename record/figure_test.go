package record_test

import (
	"strings"
	"testing"

	"doorwright/record"
)

// What a step asks to be measured is a figure with its unit, however people write it; words alone are none.
func TestMeasuredStepsWantAFigure(t *testing.T) {
	for _, c := range []struct{ step, result, lacks string }{
		{"T05", "all ring", "0.8 ohm"},
		{"T05", "W7: 0.4, 0.4 and 0.5 ohm", ""},
		{"T05", "W7 0.4", "0.8 ohm"},
		{"T06", "1,2 Ω; 22 m", ""},
		{"T06", "fine", "0.8 ohm"},
		{"T06", "1.2 \u2126", ""},
		{"T10", "Over range", ""},
		{"T07", "over 200 Mohm each (M2)", ""},
		{"T07", "over range each (M2)", ""},
		{"T07", "good", "200 Mohm"},
		{"T12", "0.2 ohm and over range on both poles", ""},
		{"T14", "four readings", "0.8 ohm"},
		{"T15", "27,4 V; 20 mV", ""},
		{"T16", "27.4 V", "340 mA"},
		{"T16", "fine", "12.8 V, and 340 mA"},
		{"T17", "0.5A", ""},
		{"T19", "11.9 V", ""},
		{"T20", "700 N", ""},
		{"T21", "", ""},
		{"T31", "0.3 s", ""},
		{"T35", "1 s, 0 V", ""},
		{"T49", "see the table", ""},
	} {
		s, ok := record.FindStep(c.step)
		if !ok {
			t.Fatalf("no step %s", c.step)
		}
		if got := s.Lacks(c.result); (got == "") != (c.lacks == "") || !strings.Contains(got, c.lacks) {
			t.Errorf("%s, %q lacks %q, want %q", c.step, c.result, got, c.lacks)
		}
	}
}
