package draw

import (
	"slices"
	"strings"
	"unicode"

	"doorwright/job"
	"doorwright/wiring"
)

// Sizes of type in a wiring diagram.
const (
	labelSize    MM = 2.15 // at wires
	terminalSize MM = 2.15
	roleSize     MM = 2.15
	titleSize    MM = 2.2
	placeSize    MM = 2.2
)

// labelOf is what is written at the end of a wire: run, core and the letters of its colour.
func labelOf(p *pin, id string) string {
	c := p.wire.conductor
	switch c.Kind {
	case wiring.Core:
		return coreLabel(c, id)
	case wiring.Screen:
		return strings.TrimSpace(runTag(c.Run, id) + " screen")
	case wiring.Link:
		if p == p.wire.a {
			return "link"
		}
	}
	return ""
}

// coreLabel is "W3/2 BN"; where the cores bear numbers, "W3/2 black".
func coreLabel(c *wiring.Conductor, id string) string {
	colour, _ := strings.CutSuffix(c.Core.Colour, " "+numberOf(c))
	return runTag(c.Run, id) + "/" + numberOf(c) + " " + colour
}

// numberOf is the number of a core in its run, as its id ends.
func numberOf(c *wiring.Conductor) string {
	return c.ID[strings.LastIndexByte(c.ID, '/')+1:]
}

// runTag is the id of a run without that of what the drawing is of, where it begins with it.
func runTag(r *job.Run, id string) string {
	if r == nil {
		return ""
	}
	return strings.TrimPrefix(r.ID, id+".")
}

// InLine is a name at the head of an English line: one that runs from right to left gets a mark before it (U+200E) so that
// the line does not.
func InLine(name string) string {
	for _, r := range name {
		switch {
		case unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana):
			return leftToRight + name
		case unicode.IsLetter(r):
			return name
		}
	}
	return name
}

const leftToRight = "\u200e"

// wrap breaks a text into lines no wider than wide, at blanks and after hyphens and points where it can. A figure keeps
// its unit.
func wrap(text string, wide, size MM, bold bool) []string {
	var lines []string
	line := ""
	for _, word := range Words(text) {
		for {
			together := strings.TrimPrefix(line+" "+word, " ")
			if Measure(together, size, bold) <= wide {
				line = together
				break
			}
			if line != "" {
				lines, line = append(lines, line), ""
				continue
			}
			head := fitting(word, wide, size, bold)
			lines, word = append(lines, head), word[len(head):]
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Words are the words of a text, each figure with the unit behind it, so that they stay on one line.
func Words(text string) []string {
	words := strings.Fields(text)
	var all []string
	for i, w := range words {
		figure := i > 0 && strings.Trim(words[i-1], "(),.0123456789") == "" && strings.ContainsAny(words[i-1], "0123456789")
		if figure && slices.Contains([]string{"V", "A", "Ah", "ohm", "kohm", "mm", "m", "s"}, strings.Trim(w, "(),.;:")) {
			all[len(all)-1] += " " + w
			continue
		}
		all = append(all, w)
	}
	return all
}

// fitting is as much of a word as fits, but one letter at least, broken after a point or a hyphen where there is one.
func fitting(word string, wide, size MM, bold bool) string {
	n, broken := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		if n > 0 && Measure(word[:end], size, bold) > wide {
			break
		}
		n = end
		if r == '.' || r == '-' || r == '/' {
			broken = end
		}
	}
	if broken > 0 && n < len(word) {
		n = broken
	}
	return word[:n]
}
