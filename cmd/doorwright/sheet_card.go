package main

import (
	"fmt"
	"strings"

	"doorwright/signal"
)

// cardSheet is one number taken apart.
type cardSheet struct {
	Number string        `json:"number"`
	Bits   string        `json:"bits,omitempty"` // when it was given as bits
	Cards  []card        `json:"cards"`
	Hints  []signal.Hint `json:"hints,omitempty"`
	Tip    string        `json:"tip,omitempty"`
}

// card is a read in one format.
type card struct {
	Format  string           `json:"format"`
	Title   string           `json:"title"`
	Fields  []signal.Field   `json:"fields"`
	Bits    string           `json:"bits"`
	Hex     string           `json:"hex"`
	Valid   bool             `json:"parity_right"`
	Checks  []signal.Check   `json:"checks"`
	Note    string           `json:"note,omitempty"`
	Written []signal.Written `json:"written"`

	words string // the fields in words
}

func cardOf(c signal.Possible) card {
	return card{
		c.Format.ID, c.Format.Title, c.Fields, string(c.Bits), c.Bits.Hex(), c.Valid(), c.Checks, c.Note, c.Written(), c.String(),
	}
}

func (s cardSheet) text(p *page) {
	for i, h := range s.Hints {
		if i > 0 {
			sayOther(p, "Or:", h.Where, h.Cause)
			continue
		}
		p.say(0, red, strings.ToUpper(h.What))
		sayCause(p, h.Where, h.Cause)
		if len(s.Hints) > 1 {
			p.gap()
		}
	}
	if s.Tip != "" {
		p.say(0, bold, s.Tip)
		p.gap()
	}
	if len(s.Hints) > 0 && len(s.Cards) > 0 {
		p.gap()
		p.say(0, dim, "As it was read:")
	}
	for i, c := range s.Cards {
		if i > 0 {
			p.gap()
		}
		if i > 0 && s.Bits == "" {
			c.brief(p)
			continue
		}
		c.text(p)
	}
}

// text shows a card in full.
func (c card) text(p *page) {
	p.title(fmt.Sprintf("%s (format %s: %s)", c.words, c.Format, c.Title))
	if c.Note != "" {
		p.say(2, plain, "If "+c.Note+".")
	}
	p.hang(2, "Bits", bold, c.Bits, 9)
	p.hang(2, "Hex", bold, c.Hex, 9)
	for i, k := range c.Checks {
		verdict, look := "right", plain
		if !k.Holds {
			verdict, look = "WRONG", red
		}
		word := "Parity"
		if i > 0 {
			word = ""
		}
		p.hang(2, word, bold, p.styled(look, verdict)+fmt.Sprintf(": bit %d with bits %s has %s, must be %s", k.Bit,
			k.Over, counted(k.Ones, "one"), k.Sense), 9)
	}
	t := table{head: []string{"as one number", ">decimal", ">hex"}}
	for _, w := range c.Written {
		t.add(w.Note, w.Decimal, w.Hex)
	}
	p.table(2, t)
}

// brief names a card that the number may stand for as well.
func (c card) brief(p *page) {
	p.say(0, plain, fmt.Sprintf("Or %s (format %s), if %s.", c.words, c.Format, orElse(c.Note,
		"the card has that format")))
	p.say(2, dim, c.Bits)
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// sayCause writes what a cause means and what to check.
func sayCause(p *page, where string, c signal.Cause) {
	if where != "" {
		p.say(2, plain, strings.ToUpper(where[:1])+where[1:]+".")
	}
	p.hang(2, "On the wire:", bold, c.Wire, 15)
	sayChecks(p, c.Check)
}

// sayOther names a further cause in one paragraph, with the first thing to check.
func sayOther(p *page, lead, where string, c signal.Cause) {
	text := c.What
	if where != "" {
		text += " " + strings.ToUpper(where[:1]) + where[1:] + "."
	}
	p.say(0, plain, lead+" "+text+" "+c.Check[0])
}

// sayChecks numbers what to look at.
func sayChecks(p *page, checks []string) {
	for i, k := range checks {
		word := "Check:"
		if i > 0 {
			word = ""
		}
		p.hang(2, word, bold, fmt.Sprintf("%d. %s", i+1, k), 15)
	}
}

func (s cardSheet) table() table {
	t := table{head: []string{"format", "fields", "bits", "hex", "parity_right", "note"}}
	for _, c := range s.Cards {
		t.add(c.Format, c.words, c.Bits, c.Hex, fmt.Sprint(c.Valid), c.Note)
	}
	return t
}

// formatList is the card formats known.
type formatList struct {
	Formats []formatLine `json:"formats"`
}

type formatLine struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	Bits   int    `json:"bits"`
	Fields string `json:"fields"`
	Parity string `json:"parity"`
}

func formatLines(all []*signal.Format) []formatLine {
	lines := []formatLine{}
	for _, f := range all {
		var fields, parity []string
		for _, e := range f.Fields {
			fields = append(fields, e.Key+" "+e.Value.String())
		}
		for _, k := range f.Parity {
			parity = append(parity, fmt.Sprintf("bit %d %s over %s", k.Bit, k.Sense, k.Over))
		}
		lines = append(lines, formatLine{f.ID, f.Title, f.Bits, strings.Join(fields, "; "), strings.Join(parity, "; ")})
	}
	return lines
}

func (s formatList) text(p *page) {
	p.title("CARD FORMATS")
	p.say(0, plain, "Bits are counted from 1 in the order sent. Only the 26-bit format is open and fixed; how "+
		"longer ones are "+
		"split differs, so check with a card whose number is known.")
	p.gap()
	t := table{head: []string{"format", ">bits", "fields", "parity"}}
	for _, f := range s.Formats {
		t.add(f.ID, fmt.Sprint(f.Bits), f.Fields, f.Parity)
	}
	p.table(2, t)
}

func (s formatList) table() table {
	t := table{head: []string{"id", "title", "bits", "fields", "parity"}}
	for _, f := range s.Formats {
		t.add(f.ID, f.Title, fmt.Sprint(f.Bits), f.Fields, f.Parity)
	}
	return t
}
