package main

import (
	"strings"

	"doorwright/cable"
)

// colourText names a core colour by its letters and in words: "RD red". A marking of its own stands as it is.
func colourText(colour string) string {
	if name := cable.ColourName(colour); name != colour {
		return colour + " " + name
	}
	return colour
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 1)) }
