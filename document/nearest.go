package document

import (
	"fmt"
	"strings"
	"unicode"
)

// Nearest is the known name that a misspelt word was most likely meant to be, and false when none is near enough: one
// slip for every three letters, three at most. A slip is a letter too many, missing, wrong, or two swapped; the case of
// letters does not count. Of equally near names the first counts.
func Nearest(word string, known []string) (string, bool) {
	if len(word) > maxText {
		return "", false
	}
	w := []rune(strings.ToLower(word))
	best, nearest := min(len(w)/3, 3)+1, ""
	for _, k := range known {
		r := []rune(strings.ToLower(k))
		if len(r)-len(w) >= best || len(w)-len(r) >= best {
			continue
		}
		if d := slips(w, r); d < best {
			best, nearest = d, k
		}
	}
	return nearest, nearest != ""
}

// slips is the optimal string alignment distance: Levenshtein's with swapped neighbours counted once. A digit put for
// another digit counts as two slips, because PS1 and PS7 are two things, not two spellings of one.
func slips(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+exchange(a[i-1], b[j-1]))
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

func exchange(a, b rune) int {
	switch {
	case a == b:
		return 0
	case unicode.IsDigit(a) && unicode.IsDigit(b):
		return 2
	}
	return 1
}

// namesShown is how many known names a message lists before it only counts the rest.
const namesShown = 6

// Unknown words the end of a message about a name that is not among the known ones, to follow the word itself:
// `is not a known cable type; did you mean "4x0.75"? known: "2x0.5", "4x0.75"`.
func Unknown(word, what string, known []string) string {
	s := "is not a known " + what
	if len(known) == 0 {
		return s + "; there is none"
	}
	if k, ok := Nearest(word, known); ok {
		s += fmt.Sprintf("; did you mean %q?", k)
	} else {
		s += ";"
	}
	return s + " known: " + list(known)
}

// list quotes the first names and counts the rest.
func list(names []string) string {
	shown := make([]string, 0, namesShown)
	for _, n := range names[:min(len(names), namesShown)] {
		shown = append(shown, fmt.Sprintf("%q", n))
	}
	s := strings.Join(shown, ", ")
	if rest := len(names) - len(shown); rest > 0 {
		s += fmt.Sprintf(" and %d more", rest)
	}
	return s
}
