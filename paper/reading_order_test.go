package paper

import "testing"

// Orders as the Unicode Bidirectional Algorithm gives them (UAX 9, revision 46); worked by hand from its rules W, N and
// L.
func TestTextIsSetInTheOrderItIsRead(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"left to right", "Door 12 (north)", "Door 12 (north)"},
		{"accents", "Łódź, Ångström", "Łódź, Ångström"},
		{"right to left", "אבג דה", "הד גבא"},
		{"figures keep their order", "אבג 12.5", "12.5 גבא"},
		{"brackets face the other way", "אבג (דה)", "(הד) גבא"},
		{"a word from left to right within", "אבג lab דה", "הד lab גבא"},
		{"a word in brackets against the line", "אבג (lab) דה", "הד (lab) גבא"},
		{"right to left within", "Door אבג דה north", "Door הד גבא north"},
		{"a name at the head of a line", "\u200eאבג 12: high", "12 גבא: high"},
		{"figures behind it within", "Door אבג 12", "Door 12 גבא"},
	} {
		if got := shown(c.text); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Forms of the block Arabic Presentation Forms-B, by the names of its code chart: BAB is beh initial FE91, alef final
// FE8E, beh isolated FE8F; SALAM is seen initial FEB3, lam-alef final FEFC, meem isolated FEE1.
func TestArabicLettersJoin(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"باب", "\uFE91\uFE8E\uFE8F"},
		{"سلام", "\uFEB3\uFEFC\uFEE1"},
		{"بيت", "\uFE91\uFEF4\uFE96"}, // beh initial, yeh medial, teh final
		{"دار", "\uFEA9\uFE8D\uFEAD"}, // letters that do not join on: each alone
	} {
		if got := string(shaped([]rune(c.text))); got != c.want {
			t.Errorf("%q: %+q, want %+q", c.text, got, c.want)
		}
	}
}
