package paper

import (
	"strings"

	"doorwright/draw"
)

// The sizes of type, in millimetres of an em: 2.5 mm are 7.1 points, and nothing is smaller than 6 points, 2.12 mm. The
// letters of DejaVu are tall for their size.
const (
	small   draw.MM = 2.15
	body    draw.MM = 2.47
	lead    draw.MM = 3.0
	heading draw.MM = 3.4
	title   draw.MM = 5.2
)

// leading is the distance of two base lines, in ems.
const leading draw.MM = 1.15

// measure is how wide a text is set.
func measure(text string, size draw.MM, bold bool) draw.MM {
	return draw.Measure(shown(text), size, bold)
}

// wrapped breaks text into lines no wider than wide: between words, and within a word only when it is wider than a
// line.
func wrapped(text string, wide, size draw.MM, bold bool) []string {
	var lines []string
	for _, paragraph := range strings.Split(text, "\n") {
		lines = append(lines, wrappedLine(paragraph, wide, size, bold)...)
	}
	return lines
}

func wrappedLine(text string, wide, size draw.MM, bold bool) []string {
	if measure(text, size, bold) <= wide {
		return []string{text}
	}
	var lines []string
	line := ""
	for _, word := range draw.Words(text) {
		switch joined := strings.TrimPrefix(line+" "+word, " "); {
		case measure(joined, size, bold) <= wide:
			line = joined
			continue
		case line != "":
			lines = append(lines, line)
		}
		line = word
		for measure(line, size, bold) > wide {
			head, rest := cut(line, wide, size, bold)
			lines, line = append(lines, head), rest
		}
	}
	return append(lines, line)
}

// cut takes as much from the front of a word as fits, at least one letter; after a mark that ends a part, when one is
// in the second half of it.
func cut(word string, wide, size draw.MM, bold bool) (head, rest string) {
	letters := []rune(word)
	n := 1
	for n < len(letters) && measure(string(letters[:n+1]), size, bold) <= wide {
		n++
	}
	if n == len(letters) {
		return word, ""
	}
	for i := n; i > n/2 && i > 0; i-- {
		if strings.ContainsRune("._-/", letters[i-1]) {
			return string(letters[:i]), string(letters[i:])
		}
	}
	return string(letters[:n]), string(letters[n:])
}

// shortened is the text, with an ellipsis where it is wider than wide.
func shortened(text string, wide, size draw.MM, bold bool) string {
	if measure(text, size, bold) <= wide {
		return text
	}
	letters := []rune(text)
	for n := len(letters) - 1; n > 0; n-- {
		if short := strings.TrimRight(string(letters[:n]), " ") + "…"; measure(short, size, bold) <= wide {
			return short
		}
	}
	return "…"
}

// longest is the width of the longest word of a text.
func longest(text string, size draw.MM, bold bool) draw.MM {
	var wide draw.MM
	for _, w := range strings.Fields(text) {
		wide = max(wide, measure(w, size, bold))
	}
	return wide
}
