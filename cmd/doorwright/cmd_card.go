package main

import (
	"fmt"
	"strings"

	"doorwright/document"
	"doorwright/signal"
)

// cardCmd takes card numbers apart and explains wrong ones.
type cardCmd struct {
	Number   *string `arg:"" optional:"" help:"A card number, or the number expected."`
	Received *string `arg:"" optional:"" help:"The number received in its place."`
	Cards    string  `help:"File with card formats of your own." placeholder:"FILE"`
	As       string  `help:"Only this card format." placeholder:"FORMAT"`
}

// Help is what the command's help says beyond its flags.
func (cardCmd) Help() string {
	return `With one number: its bits, parity check by check, and the ways to write it. With two, the expected and the ` +
		`received: what went wrong between card and controller. Without any: the card formats known.

A number is written as facility and card (90/324), in decimal, in hexadecimal (0x5A0144 or 5A0144), or as bits in the ` +
		`order sent (at least twelve 0 and 1, or 0b before fewer). Exit code 1 says that something is wrong with it.

A file of formats of your own:

    formats:
      site-34:
        title: as on the cards of this site
        bits: 34
        fields: {facility: 2-17, card: 18-33}
        parity:
          - {bit: 1, sense: even, over: 2-17}
          - {bit: 34, sense: odd, over: 18-33}

Examples:

    doorwright card 90/324
    doorwright card 90/324 165/65211
    doorwright card 00101101000000001010001000
    doorwright card 1234/5678 --cards site.yaml --as site-34
`
}

// Run reads the numbers and shows what they say.
func (c *cardCmd) Run(e *env) error {
	formats, err := c.formats(e)
	if err != nil {
		return err
	}
	if c.Number == nil {
		return e.show(formatList{formatLines(formats)})
	}
	number, wrong := signal.ParseNumber(*c.Number)
	problems := unfit(*c.Number, wrong, signal.NoCard(number, formats))
	if c.Received == nil {
		if len(problems) > 0 {
			return e.refuse(problemsOf(problems))
		}
		return e.single(number, formats)
	}
	received, wrong := signal.ParseNumber(*c.Received)
	if problems = append(problems, unfit(*c.Received, wrong, signal.NoRead(received, formats))...); len(problems) > 0 {
		return e.refuse(problemsOf(problems))
	}
	s := comparisonOf(number, received, formats)
	if !s.Agree {
		e.code = exitErrors
	}
	return e.show(s)
}

func problemsOf(p document.Problems) problems { return problems{Document: p} }

// unfit is what is wrong in an argument: as a number, else as one that no card carries.
func unfit(text string, wrong document.Problems, no string) document.Problems {
	if len(wrong) == 0 && no != "" {
		wrong = document.Problems{{Want: no + "; name a format of your own with --cards"}}
	}
	return placed(text, wrong)
}

// placed says in which argument a problem stands, and at which of its characters.
func placed(text string, wrong document.Problems) document.Problems {
	for i := range wrong {
		wrong[i].Where = fmt.Sprintf("%.40q", text)
		if wrong[i].Column > 1 {
			wrong[i].Where += fmt.Sprintf(", character %d", wrong[i].Column)
		}
		wrong[i].Line, wrong[i].Column = 0, 0
	}
	return wrong
}

// formats are the built-in ones and those of the file, or the one asked for.
func (c *cardCmd) formats(e *env) ([]*signal.Format, error) {
	all := signal.Formats()
	if c.Cards != "" {
		data, err := e.fetch(c.Cards, "a file of card formats")
		if err != nil {
			return nil, err
		}
		own, wrong := signal.ReadFormats(c.Cards, data)
		if len(wrong) > 0 {
			return nil, e.refuse(problemsOf(wrong))
		}
		all = append(own, all...)
	}
	if c.As == "" {
		return all, nil
	}
	known := make([]string, len(all))
	for i, f := range all {
		if f.ID == c.As {
			return []*signal.Format{f}, nil
		}
		known[i] = f.ID
	}
	return nil, unknown(c.As, "card format", known)
}

// single shows one number: as bits it is judged, else every card it may stand for is shown.
func (e *env) single(n signal.Number, formats []*signal.Format) error {
	s := cardSheet{Number: n.Text, Tip: bitsTip(n)}
	if n.Bits != "" {
		j := signal.Judge(n.Bits, formats)
		s.Bits, s.Hints = string(n.Bits), j.Hints
		for _, c := range j.Cards {
			s.Cards = append(s.Cards, cardOf(signal.Possible{Card: c}))
		}
	} else {
		for _, c := range signal.Cards(n, formats) {
			s.Cards = append(s.Cards, cardOf(c))
		}
	}
	if len(s.Hints) > 0 {
		e.code = exitErrors
	}
	return e.show(s)
}

// bitsTip is for a number of 0 and 1 only that was too short to be taken for bits.
func bitsTip(n signal.Number) string {
	if n.Value == nil || n.Hex || len(n.Text) < 4 || strings.Trim(n.Text, "01") != "" {
		return ""
	}
	return fmt.Sprintf("%s was taken for a decimal number; if these are bits, write 0b%s.", n.Text, n.Text)
}
