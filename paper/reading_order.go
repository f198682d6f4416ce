package paper

import (
	"slices"
	"strings"
	"unicode"
)

// This file brings text into the order in which it is set from left to right. It does what titles and names of a job
// need of the Unicode Bidirectional Algorithm (UAX 9): one paragraph, no embedding marks. Words of Hebrew and Arabic
// run
// from right to left, figures in them from left to right; a line that begins with such a word runs so as a whole.

// isRight says that a letter belongs to a script that runs from right to left.
func isRight(r rune) bool {
	return r >= 0x590 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana)
}

// isFirm says that a letter has a direction of its own.
func isFirm(r rune) bool { return isRight(r) || unicode.IsLetter(r) || r == leftMark }

// leftMark makes the line that begins with it run from left to right; it is not seen.
const leftMark = '\u200e'

// shown is the text as it is set: shaped, and in the order from left to right.
func shown(text string) string {
	if !hasRight(text) {
		return text
	}
	return strings.ReplaceAll(ordered(shaped([]rune(text))), string(leftMark), "")
}

func hasRight(text string) bool {
	for _, r := range text {
		if isRight(r) {
			return true
		}
	}
	return false
}

// ordered lays stretches of one direction side by side.
func ordered(text []rune) string {
	first := slices.IndexFunc(text, isFirm)
	base := first >= 0 && isRight(text[first])
	right := directions(text, base)
	var stretches [][]rune
	for from := 0; from < len(text); {
		to := from + 1
		for to < len(text) && right[to] == right[from] {
			to++
		}
		part := slices.Clone(text[from:to])
		if right[from] {
			part = backwards(part)
		}
		stretches = append(stretches, part)
		from = to
	}
	if base {
		slices.Reverse(stretches)
	}
	return string(slices.Concat(stretches...))
}

// directions says of each letter whether it runs from right to left. Figures go with the letter before them; brackets
// with the line, unless what is in them and before them runs against it; other marks with their neighbours where these
// agree, else with the line.
func directions(text []rune, base bool) []bool {
	right, known := make([]bool, len(text)), make([]bool, len(text))
	last, open := base, []bool(nil)
	for i, r := range text {
		switch {
		case isFirm(r):
			last = isRight(r)
			right[i], known[i] = last, true
		case unicode.IsDigit(r):
			right[i], known[i] = last, true
		case strings.ContainsRune("([<«", r):
			right[i], known[i] = bracketRight(text[i+1:], base, last), true
			open = append(open, right[i])
		case mirrored[r] != 0:
			right[i], known[i] = base, true
			if n := len(open); n > 0 {
				right[i], open = open[n-1], open[:n-1]
			}
		}
	}
	for i := 0; i < len(text); {
		if known[i] {
			i++
			continue
		}
		end := i
		for end < len(text) && !known[end] {
			end++
		}
		way := base
		if i > 0 && end < len(text) && right[i-1] == right[end] {
			way = right[end]
		}
		for ; i < end; i++ {
			right[i] = way
		}
	}
	return right
}

// bracketRight is the direction of an opening bracket, when before it the letters run as said.
func bracketRight(inside []rune, base, before bool) bool {
	next := slices.IndexFunc(inside, isFirm)
	if before != base && next >= 0 && isRight(inside[next]) != base {
		return !base
	}
	return base
}

// mirrored are the marks that face the other way in a line from right to left.
var mirrored = map[rune]rune{'(': ')', ')': '(', '[': ']', ']': '[', '<': '>', '>': '<', '«': '»', '»': '«'}

// backwards is a stretch from right to left; figures in it keep their order.
func backwards(part []rune) []rune {
	slices.Reverse(part)
	for i := 0; i < len(part); i++ {
		if m, has := mirrored[part[i]]; has {
			part[i] = m
		}
		if !unicode.IsDigit(part[i]) {
			continue
		}
		end := i
		for end < len(part) && (unicode.IsDigit(part[end]) || end+1 < len(part) && unicode.IsDigit(part[end+1]) &&
			(part[end] == '.' || part[end] == ',')) {
			end++
		}
		slices.Reverse(part[i:end])
		i = end
	}
	return part
}
