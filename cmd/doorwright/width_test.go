package main

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestWidthIsThatOfTheTerminalWithinReason(t *testing.T) {
	for _, c := range []struct {
		preferred string
		has, want int
	}{
		{"", 80, 80},
		{"", 100, 100},
		{"", 300, mostWidth},
		{"", 20, leastWidth},
		{"", 0, paperWidth},
		{"90", 300, 90},
		{"500", 80, mostWidth},
		{"5", 80, leastWidth},
		{"wide", 100, 100},
		{"0", 100, 100},
		{"-7", 0, paperWidth},
	} {
		if got := widthOf(c.preferred, c.has); got != c.want {
			t.Errorf("COLUMNS=%q and %d columns: %d, want %d", c.preferred, c.has, got, c.want)
		}
	}
}

// Text fills the width it has, and no line is longer.
func TestTextTakesTheWidthItHas(t *testing.T) {
	for _, width := range []int{leastWidth, 70, paperWidth, 100, mostWidth} {
		for _, call := range []string{"show landings demo:brackwater --door staff --reasons", "show matrix demo:brackwater"} {
			var out bytes.Buffer
			if code := runWide(strings.Fields(call), strings.NewReader(""), &out, io.Discard, width); code != exitFine {
				t.Errorf("%s: %d", call, code)
			}
			longest := 0
			for line := range strings.Lines(out.String()) {
				longest = max(longest, utf8.RuneCountInString(strings.TrimRight(line, "\n")))
			}
			if longest > width || longest < width*3/4 {
				t.Errorf("%s with %d columns is %d wide", call, width, longest)
			}
		}
	}
}

// A device of characters stands for the screen; how wide it is it does not tell, but its user may.
func TestOnlyAScreenIsAsWideAsItsUserWants(t *testing.T) {
	screen, err := os.OpenFile("/dev/zero", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer screen.Close() //nolint:errcheck // nothing is in it
	for _, columns := range []string{"", "110"} {
		t.Setenv("COLUMNS", columns)
		onScreen := paperWidth
		if columns != "" {
			onScreen = 110
		}
		if got := widthFor(screen); got != onScreen {
			t.Errorf("COLUMNS=%q: a screen is %d wide", columns, got)
		}
		if got := widthFor(&bytes.Buffer{}); got != paperWidth {
			t.Errorf("COLUMNS=%q: a file is %d wide", columns, got)
		}
	}
}
