package document

import "testing"

func TestNearest(t *testing.T) {
	known := []string{"title", "doors", "lock", "4x0.75", "2x0.5", "PS1", "PS2"}
	tests := []struct{ word, want string }{
		{"titel", "title"},   // swapped
		{"door", "doors"},    // missing
		{"tittle", "title"},  // too many
		{"lack", "lock"},     // wrong
		{"Title", "title"},   // case only
		{"4x0.57", "4x0.75"}, // swapped digits
		{"ps1", "PS1"},
		{"PS7", ""}, // another thing, not a slip
		{"xx", ""},
		{"", ""},
		{"window", ""},
	}
	for _, tt := range tests {
		if got, ok := Nearest(tt.word, known); got != tt.want || ok != (tt.want != "") {
			t.Errorf("Nearest(%q) = %q, %v; want %q", tt.word, got, ok, tt.want)
		}
	}
}

// Distances of the literature: kitten/sitting is the example of Wagner and Fischer's distance in most textbooks (from
// memory); ca/abc is 3 by optimal string alignment and 2 by the unrestricted distance (from memory).
func TestSlips(t *testing.T) {
	tests := []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"same", "same", 0}}
	for _, tt := range tests {
		if got := slips([]rune(tt.a), []rune(tt.b)); got != tt.want {
			t.Errorf("%q to %q takes %d slips, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}

func TestUnknown(t *testing.T) {
	got := Unknown("4x0.57", "cable type", []string{"4x0.75", "a", "b", "c", "d", "e", "f", "g"})
	want := `is not a known cable type; did you mean "4x0.75"? known: "4x0.75", "a", "b", "c", "d", "e" and 2 more`
	if got != want {
		t.Errorf("said %s\nwant %s", got, want)
	}
}
