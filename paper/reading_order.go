package paper

import (
	"slices"
	"unicode"
)

// This file brings text into the order in which it is set from left to right. It does what titles and names of a job
// need of the Unicode Bidirectional Algorithm (UAX 9): one paragraph, no embedding marks. Words of Hebrew and Arabic run
// from right to left, figures in them from left to right; a line that begins with such a word runs so as a whole.

// isRight says that a letter belongs to a script that runs from right to left.
func isRight(r rune) bool {
	return r >= 0x590 && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana)
}

// isFirm says that a letter has a direction of its own.
func isFirm(r rune) bool { return isRight(r) || unicode.IsLetter(r) }

// shown is the text as it is set: shaped, and in the order from left to right.
func shown(text string) string {
	if !hasRight(text) {
		return text
	}
	return ordered(shaped([]rune(text)))
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
	var stretches [][]rune
	for len(text) > 0 {
		n := stretch(text, base)
		part := slices.Clone(text[:n])
		if goesRight(part, base) {
			part = turned(part)
		}
		stretches = append(stretches, part)
		text = text[n:]
	}
	if base {
		slices.Reverse(stretches)
	}
	return string(slices.Concat(stretches...))
}

// goesRight says which way a stretch runs: that of its first letter, else that of the line.
func goesRight(part []rune, base bool) bool {
	if i := slices.IndexFunc(part, isFirm); i >= 0 {
		return isRight(part[i])
	}
	return base
}

// stretch is how many letters from the start run the same way. What has no direction of its own goes with the letters
// on both sides when they agree, else with the line.
func stretch(text []rune, base bool) int {
	way := goesRight(text, base)
	end := len(text)
	for i, r := range text {
		if isFirm(r) && isRight(r) != way {
			end = i
			break
		}
	}
	if end == len(text) || way == base {
		return end
	}
	for end > 1 && !isFirm(text[end-1]) && !unicode.IsDigit(text[end-1]) {
		end--
	}
	return end
}

// mirrored are the marks that face the other way in a line from right to left.
var mirrored = map[rune]rune{'(': ')', ')': '(', '[': ']', ']': '[', '<': '>', '>': '<', '«': '»', '»': '«'}

// turned is a stretch from right to left; figures in it keep their order.
func turned(part []rune) []rune {
	slices.Reverse(part)
	for i := 0; i < len(part); i++ {
		if m, has := mirrored[part[i]]; has {
			part[i] = m
		}
		if !unicode.IsDigit(part[i]) {
			continue
		}
		end := i
		for end < len(part) && (unicode.IsDigit(part[end]) || end+1 < len(part) && unicode.IsDigit(part[end+1]) && (part[end] == '.' || part[end] == ',')) {
			end++
		}
		slices.Reverse(part[i:end])
		i = end
	}
	return part
}
