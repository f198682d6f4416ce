package paper

import (
	"fmt"
	"math"
	"strconv"
	"strings"

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
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	return strings.TrimSuffix(s, ".") + "."
}

// figure writes a reading as a meter shows it: about four digits.
func figure(v float64, symbol string) string {
	if symbol != "ohm" {
		return fmt.Sprintf("%.2f %s", v, symbol)
	}
	switch {
	case math.Abs(v) >= 1e6:
		return fmt.Sprintf("%.2f Mohm", v/1e6)
	case math.Abs(v) >= 1e3:
		return fmt.Sprintf("%.2f kohm", v/1e3)
	}
	return fmt.Sprintf("%.1f ohm", v)
}

const overRange = "over range"

// showsWords write what a meter showed, as the sheets write what it should show.
func showsWords(v record.Value) string {
	switch {
	case v.Quantity == meter.Volts:
		return figure(float64(v.Volts), "V")
	case math.IsInf(float64(v.Ohms), 1):
		return overRange
	}
	return figure(float64(v.Ohms), "ohm")
}

// lowered is text with a small letter at the start, to go on within a sentence.
func lowered(s string) string { return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):] }

// nominal writes what a meter should show.
func nominal(e meter.Expectation) string {
	if e.Open {
		return overRange
	}
	return figure(e.Nominal, e.Unit)
}

// band writes within what a reading is as expected.
func band(e meter.Expectation) string {
	if e.Open {
		return figure(e.Low, e.Unit) + " or more"
	}
	return figure(e.Low, e.Unit) + " to " + figure(e.High, e.Unit)
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
