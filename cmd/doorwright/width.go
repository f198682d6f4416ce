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

// widthFor is how wide a text for w gets. COLUMNS is the width of the terminal that its user prefers, and comes before the
// one it has (POSIX.1-2024, Base Definitions, 8.3).
func widthFor(w io.Writer) int {
	if !isTerminal(w) {
		return paperWidth
	}
	n, err := strconv.Atoi(os.Getenv("COLUMNS"))
	if err != nil || n <= 0 {
		n = columns(w.(*os.File)) // nothing else is a terminal
	}
	if n <= 0 {
		return paperWidth
	}
	return min(max(n, leastWidth), mostWidth)
}
