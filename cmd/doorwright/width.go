package main

import (
	"io"
	"os"
	"strconv"
)

// How wide a text gets. On anything but a terminal it is paperWidth, the width of a terminal that nobody has widened, so that a
// file is the same wherever it is made. The others are figures of our own choice: with less columns tables fall apart, and
// longer lines are hard to follow.
const (
	paperWidth = 80
	leastWidth = 60
	mostWidth  = 120
)

// widthFor is how wide a text for w gets.
func widthFor(w io.Writer) int {
	if !isTerminal(w) {
		return paperWidth
	}
	return widthOf(os.Getenv("COLUMNS"), columns(w.(*os.File))) // nothing else is a terminal
}

// widthOf is how wide a text for a terminal gets. COLUMNS is the width that its user prefers, and comes before the one that it
// has, 0 where it does not tell (POSIX.1-2024, Base Definitions, 8.3).
func widthOf(preferred string, has int) int {
	n, err := strconv.Atoi(preferred)
	if err != nil || n <= 0 {
		n = has
	}
	if n <= 0 {
		return paperWidth
	}
	return min(max(n, leastWidth), mostWidth)
}
