package draw

import "sort"

// Shares of the size that a line of text reaches above and below its base line: DejaVu Sans 2.37 has capitals of 0.729
// em, accented ones up to 0.92 em, descenders of 0.236 em. Accents of capitals may reach into the gap between lines.
const (
	ascent  MM = 0.78
	descent MM = 0.24
)

// emUnits is how many units of the font one em has.
const emUnits = 2048

// unknownWide is what a letter takes that the font lacks: a full em, so that nothing runs into it.
const unknownWide = emUnits

// advance is how wide a stretch of letters is that all have one width.
type advance struct {
	first, last rune
	wide        uint16 // in units of the font
}

// Measure is how long a text is when it is set in DejaVu Sans (Book, or Bold) of this size, without kerning.
func Measure(text string, size MM, bold bool) MM {
	table := regularWidths
	if bold {
		table = boldWidths
	}
	total := 0
	for _, r := range text {
		total += widthOf(table, r)
	}
	return size * MM(total) / emUnits
}

func widthOf(table []advance, r rune) int {
	i := sort.Search(len(table), func(i int) bool { return table[i].last >= r })
	if i < len(table) && table[i].first <= r {
		return int(table[i].wide)
	}
	return unknownWide
}

// fit is the text, shortened with an ellipsis where it is longer than wide.
func fit(text string, wide, size MM, bold bool) string {
	if Measure(text, size, bold) <= wide {
		return text
	}
	letters := []rune(text)
	for n := len(letters) - 1; n > 0; n-- {
		if short := string(letters[:n]) + "…"; Measure(short, size, bold) <= wide {
			return short
		}
	}
	return "…"
}
