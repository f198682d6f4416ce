package paper

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"doorwright/cable"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/record"
)

// whole writes a count.
func whole(n int) string { return strconv.Itoa(n) }

// counted writes a count with its word, which gets an s for other than one.
func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return whole(n) + " " + word + "s"
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

func colourName(colour string) string {
	if name := cable.ColourName(colour); name != colour {
		return colour + " " + name
	}
	return colour
}

// sentence gives text a capital and a full stop; text that begins with a name keeps it.
func sentence(s string) string {
	if s == "" {
		return s
	}
	first, _, _ := strings.Cut(s, " ")
	if !strings.ContainsAny(first, ".0123456789_-") {
		s = capital(s)
	}
	return strings.TrimSuffix(s, ".") + "."
}

// capital gives text a capital.
func capital(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(string(first)) + s[n:]
}

const overRange = "over range"

// showsWords write what a meter showed, as the sheets write what it should show.
func showsWords(v record.Value) string {
	switch v.Quantity {
	case meter.Amps:
		return v.String()
	case meter.Diode:
		return meter.Show(v.Quantity, v.Figure()) + " diode"
	}
	return meter.Show(v.Quantity, v.Figure())
}

// lowered is text with a small letter at the start, to go on within a sentence.
func lowered(s string) string { return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):] }

// bandWords write within what a reading is as expected.
func bandWords(q meter.Quantity, b meter.Band) string {
	switch {
	case b.Open:
		return meter.Show(q, b.Low) + " or more"
	case b.Low <= 0 && q != meter.Volts:
		return "at most " + meter.Show(q, b.High)
	}
	low, high := meter.Show(q, b.Low), meter.Show(q, b.High)
	if figure, unit, _ := strings.Cut(low, " "); strings.HasSuffix(high, " "+unit) {
		low = figure
	}
	return low + " to " + high
}

// escapeWords say which way people escape.
func escapeWords(d *job.Door) string {
	words := map[job.Direction]string{
		job.EscapeNone: "none", job.EscapeOut: "out, from the secured side", job.EscapeIn: "in, to the secured side",
		job.EscapeBoth: "both ways",
	}[d.Escape]
	if !d.EscapeStated {
		words += " (not stated, strictest)"
	}
	return words
}

func fireWords(d *job.Door) string {
	words := yesNo(d.FireRated)
	if !d.FireRatedStated {
		words += " (not stated, strictest)"
	}
	return words
}

// openingWords are leaves, size, handing and swing, as far as they are known.
func openingWords(d *job.Door) string {
	words := counted(d.Leaves, "leaf")
	if d.Leaves == 2 {
		words = "2 leaves"
	}
	o := d.Opening
	if o.Width > 0 && o.Height > 0 {
		words += fmt.Sprintf(", %.0f mm by %.0f mm", float64(o.Width)*1000, float64(o.Height)*1000)
	}
	if o.Handing != "" {
		words += ", hinges " + o.Handing + " from outside"
	}
	if o.Swing != "" {
		words += ", swings " + o.Swing
	}
	return words
}

// modelsOf names fitted devices by what they are, equal ones counted.
func modelsOf(all []*job.Fitted) string {
	var titles []string
	counts := map[string]int{}
	for _, f := range all {
		if f == nil {
			continue
		}
		if counts[f.Model.Title]++; counts[f.Model.Title] == 1 {
			titles = append(titles, f.Model.Title)
		}
	}
	for i, t := range titles {
		if counts[t] > 1 {
			titles[i] = whole(counts[t]) + " × " + t
		}
	}
	return strings.Join(titles, "; ")
}
