package main

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// words draws text of words from one letter to far more than a line holds, some put together with marks.
func words(t *rapid.T, label string) string {
	return strings.Join(rapid.SliceOfN(rapid.StringMatching(`[a-zåß.:/_-]{1,40}`), 0, 30).Draw(t, label), " ")
}

func TestWrapKeepsEveryLetterAndTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, width := words(t, "text"), rapid.IntRange(1, 90).Draw(t, "width")
		lines := wrap(text, width)
		for _, line := range lines {
			if utf8.RuneCountInString(line) > width {
				t.Fatalf("%q is wider than %d", line, width)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(text, " ", ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func TestWrapBreaksOnlyWordsThatAreLongerThanALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, width := words(t, "text"), rapid.IntRange(40, 90).Draw(t, "width")
		if got := strings.Fields(strings.Join(wrap(text, width), " ")); !slices.Equal(got, strings.Fields(text)) {
			t.Fatalf("%q was broken inside a word: %q", text, got)
		}
	})
}

func TestTableKeepsEveryCellAndThePage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		columns := rapid.IntRange(1, 6).Draw(t, "columns")
		tab := table{head: make([]string, columns)}
		letters := 0
		for i := range tab.head {
			tab.head[i] = rapid.SampledFrom([]string{"left", ">right"}).Draw(t, "head")
			letters += len(strings.TrimPrefix(tab.head[i], ">"))
		}
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			row := make([]string, columns)
			for i := range row {
				row[i] = words(t, "cell")
				letters += utf8.RuneCountInString(strings.ReplaceAll(row[i], " ", ""))
			}
			tab.add(row...)
		}
		var out strings.Builder
		newPage(&out, false, paperWidth).table(rapid.IntRange(0, 8).Draw(t, "indent"), tab)
		for line := range strings.Lines(out.String()) {
			if utf8.RuneCountInString(strings.TrimSuffix(line, "\n")) > paperWidth {
				t.Fatalf("runs over the page: %q", line)
			}
		}
		if got := utf8.RuneCountInString(strings.Join(strings.Fields(out.String()), "")); got != letters {
			t.Fatalf("%d letters of %d are printed", got, letters)
		}
	})
}

func TestColumnsLineUp(t *testing.T) {
	tab := table{head: []string{"terminal", ">ohm", "for"}}
	tab.add("+12V", "7", "controller supply")
	tab.add("0V", "1200", "controller supply, the return of it, in so many words that they do not fit on one line")
	var out strings.Builder
	newPage(&out, false, paperWidth).table(2, tab)
	want := `  terminal   ohm  for
  +12V         7  controller supply
  0V        1200  controller supply, the return of it, in so many words that
                  they do not fit on one line
`
	if out.String() != want {
		t.Errorf("\n%swant\n%s", out.String(), want)
	}
}
