package main

import (
	"strings"
	"unicode/utf8"
)

// wrap breaks text into lines of at most width characters, between words. A word longer than a line is broken after a
// mark that names are put together with, or, if it has none, where the line ends. There is always one line.
func wrap(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
			continue
		default:
			lines = append(lines, line)
			line = word
		}
		for utf8.RuneCountInString(line) > width {
			head, rest := split(line, width)
			lines = append(lines, head)
			line = rest
		}
	}
	return append(lines, line)
}

// joints are the characters that names are put together with.
const joints = ".:/-_"

// split breaks a word that is longer than width.
func split(word string, width int) (head, rest string) {
	runes := []rune(word)
	for i := width; i > width/2; i-- {
		if strings.ContainsRune(joints, runes[i-1]) {
			return string(runes[:i]), string(runes[i:])
		}
	}
	return string(runes[:width]), string(runes[width:])
}

// longestWord is the length of the longest word of a text.
func longestWord(text string) int {
	n := 0
	for _, word := range strings.Fields(text) {
		n = max(n, utf8.RuneCountInString(word))
	}
	return n
}

// longestPart is the length of the longest part of a word, between the marks that names are put together with.
func longestPart(text string) int {
	n := 0
	for _, word := range strings.Fields(text) {
		for word != "" {
			end := strings.IndexAny(word, joints) + 1
			if end == 0 {
				end = len(word)
			}
			n = max(n, utf8.RuneCountInString(word[:end]))
			word = word[end:]
		}
	}
	return n
}
