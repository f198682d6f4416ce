package main

import (
	"fmt"
	"math"
	"strings"

	"doorwright/signal"
)

// comparison is an expected number held against the one received.
type comparison struct {
	Expected     string               `json:"expected"`
	Received     string               `json:"received"`
	Agree        bool                 `json:"agree"`
	Explanations []signal.Explanation `json:"explanations"`
	Chance       number               `json:"chance"`          // share of none of them
	Alone        []signal.Hint        `json:"alone,omitempty"` // when nothing explains it: what the read says by itself
	Tip          string               `json:"tip,omitempty"`
}

func comparisonOf(expected, received signal.Number, formats []*signal.Format) comparison {
	c := signal.Compare(expected, received, formats)
	s := comparison{
		Expected: expected.Text, Received: received.Text, Agree: c.Agree(), Explanations: c.Explanations, Chance: number(c.Chance),
		Tip: bitsTip(received),
	}
	if s.Explanations == nil {
		s.Explanations = []signal.Explanation{}
	}
	if len(s.Explanations) == 0 || s.Chance > far {
		s.Alone = signal.Judge(received.Bits, formats).Hints
	}
	return s
}

func (s comparison) text(p *page) {
	if len(s.Explanations) == 0 || s.Chance > far {
		s.nothing(p)
		return
	}
	for i, e := range s.Explanations {
		if i > 0 {
			s.other(p, "Or", e)
			continue
		}
		look := red
		if s.Agree {
			look = bold
		}
		lead := ""
		if e.Share < unsure {
			lead = "Not sure; perhaps: "
		}
		p.say(0, look, strings.ToUpper(lead+e.What))
		s.numbers(p, e)
		sayCause(p, e.Where, e.Cause)
		if len(s.Explanations) > 1 {
			p.gap()
		}
	}
	s.tip(p)
	if s.Chance > 0.05 {
		p.gap()
		p.say(0, plain, fmt.Sprintf("Or (%s) none of this, and the numbers only look related: show a second card.",
			odds(float64(s.Chance))))
	}
}

// other names a further explanation. Where it is the same cause as the first, only the place is said.
func (s comparison) other(p *page, lead string, e signal.Explanation) {
	lead = fmt.Sprintf("%s (%s%s):", lead, odds(e.Share), inFormat(e.Format))
	if first := s.Explanations[0]; e.ID == first.ID && e.Where != first.Where {
		p.say(0, plain, lead+" the same, but "+e.Where+".")
		return
	}
	sayOther(p, lead, e.Where, e.Cause)
}

// far is the share of chance above which no explanation is worth more than a remark.
const far = 0.5

// unsure is the share below which a verdict is only a guess.
const unsure = 0.4

// mostBitsInLine is how many bits stand in one line.
const mostBitsInLine = 64

// numbers gives the two, and under each other the bits where they are known.
func (s comparison) numbers(p *page, e signal.Explanation) {
	p.hang(2, "Expected", plain, s.Expected, 12)
	p.hang(2, "Received", plain, s.Received, 12)
	sent, got := e.Aligned()
	for len(sent) > 0 || len(got) > 0 {
		n, m := min(len(sent), mostBitsInLine), min(len(got), mostBitsInLine)
		p.hang(2, "sent", plain, sent[:n], 12)
		p.hang(2, "arrived", plain, got[:m], 12)
		sent, got = sent[n:], got[m:]
	}
	if !s.Agree {
		p.say(2, plain, fmt.Sprintf("How sure: %s%s.", odds(e.Share), inFormat(e.Format)))
	}
}

func inFormat(id string) string {
	if id == "" {
		return ""
	}
	return ", card format " + id
}

// nothing says honestly that nothing fits, and how to go on.
func (s comparison) nothing(p *page) {
	p.say(0, red, "NOTHING EXPLAINS IT.")
	p.say(2, plain, fmt.Sprintf("No fault of wires or formats known here turns %s into %s. Most often another card "+
		"was shown, or what is "+
		"printed on the card is not what it sends.", s.Expected, s.Received))
	sayChecks(p, []string{
		"Show the same card again: does the same number come?",
		"Take the read as bits, as the controller shows raw reads: bits tell more than numbers.",
		"If the card's format is known and not in the list of \"doorwright card\", name it in a file with --cards.",
	})
	if len(s.Explanations) > 0 {
		p.gap()
		sayOther(p, fmt.Sprintf("Far-fetched (%s):", odds(s.Explanations[0].Share)), s.Explanations[0].Where,
			s.Explanations[0].Cause)
	}
	for i, h := range s.Alone {
		if i == 0 {
			p.gap()
			p.say(0, bold, "By itself, the read received says:")
		}
		sayOther(p, "-", h.Where, h.Cause)
	}
	s.tip(p)
}

// odds writes a share as people say it.
func odds(share float64) string {
	switch n := math.Round(100 * share); {
	case n >= 100:
		return "over 99 in 100"
	case n < 1:
		return "under 1 in 100"
	default:
		return fmt.Sprintf("%.0f in 100", n)
	}
}

// tip tells how to write bits when the number received could be some.
func (s comparison) tip(p *page) {
	if s.Tip != "" {
		p.gap()
		p.say(0, bold, s.Tip)
	}
}

func (s comparison) table() table {
	t := table{head: []string{"cause", "share", "format", "what", "where", "wire", "check"}}
	for _, e := range s.Explanations {
		t.add(e.ID, number(e.Share).String(), e.Format, e.What, e.Where, e.Wire, strings.Join(e.Check, " / "))
	}
	return t
}
