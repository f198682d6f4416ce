package main

import (
	"fmt"
	"math"

	"doorwright/find"
	"doorwright/meter"
)

// found is what a finder makes of what was read.
type found struct {
	Door     string        `json:"door"`
	Suspects int           `json:"suspects"` // how many were held against the readings
	Groups   []foundGroup  `json:"groups"`
	Numbers  []foundNumber `json:"numbers,omitempty"`      // card numbers that were read, with what they say by themselves
	Next     *foundNext    `json:"next"`                   // null when nothing tells the suspects apart any further
	Alarms   []string      `json:"alarms,omitempty"`       // what comes before any search
	Settle   bool          `json:"settle_first,omitempty"` // nothing is searched until the alarms are settled
	Cautions []string      `json:"cautions"`
	Turned   []string      `json:"leads_turned,omitempty"` // readings that would be right with the leads the other way round
	Amiss    []string      `json:"plan_errors,omitempty"`  // what is wrong with the door as planned, by calculation
}

type foundNumber struct {
	Received string `json:"received"`
	Expected string `json:"expected"`
	Cause    string `json:"cause,omitempty"` // none when nothing explains it
	Says     string `json:"says"`
	Where    string `json:"where,omitempty"`
}

type foundGroup struct {
	Probability number           `json:"probability"`
	Suspects    []foundSuspect   `json:"suspects"`
	Split       string           `json:"split,omitempty"`
	Against     []string         `json:"against,omitempty"`
	Elsewhere   []foundElsewhere `json:"elsewhere"`
}

type foundSuspect struct {
	ID          string   `json:"id"`
	Class       string   `json:"class"`
	Name        string   `json:"name"`
	Size        string   `json:"size,omitempty"`
	Where       string   `json:"where"`
	Repair      string   `json:"repair"`
	Probability number   `json:"probability"`
	Both        bool     `json:"two_at_once,omitempty"`
	Tests       []string `json:"repeat_tests,omitempty"`
}

type foundElsewhere struct {
	Reading  string `json:"reading"`
	Expected number `json:"expected"` // null over range
	Sound    number `json:"sound"`
	quantity meter.Quantity
}

type foundNext struct {
	At       string         `json:"at,omitempty"`
	To       string         `json:"to,omitempty"`
	In       string         `json:"in"`
	Quantity string         `json:"quantity,omitempty"`
	Look     string         `json:"look,omitempty"`
	Says     string         `json:"says"`
	ProveOff bool           `json:"prove_dead_first"`
	Effort   number         `json:"effort"`
	Gain     number         `json:"bits"`
	Why      string         `json:"why"`
	Before   []string       `json:"before"`
	Outcomes []foundOutcome `json:"outcomes"`
}

type foundOutcome struct {
	Says        string   `json:"says"`
	Probability number   `json:"probability"`
	Leaves      []string `json:"leaves"`
}

// findSheet is what a finder has to say now.
func findSheet(f *find.Finder, most int) found {
	s := found{Door: f.Book().Door.ID, Groups: []foundGroup{}, Cautions: meter.Cautions(), Amiss: amiss(f.Book())}
	for _, a := range f.Alarms() {
		s.Alarms, s.Settle = append(s.Alarms, a.Says), s.Settle || a.Stop
	}
	if s.Settle {
		return s
	}
	groups := f.Suspects()
	for i := range groups {
		g := &groups[i]
		s.Suspects += len(g.Suspects)
		if i >= most {
			continue
		}
		f.Explain(g)
		x := foundGroup{Probability: number(g.Probability), Split: g.Split, Against: g.Against, Elsewhere: []foundElsewhere{}}
		for _, m := range g.Suspects {
			x.Suspects = append(x.Suspects, foundSuspect{
				m.ID, m.Class, m.Name, m.Size, m.Where, m.Repair, number(m.Probability), m.Both, m.Tests,
			})
		}
		for _, w := range g.Elsewhere {
			x.Elsewhere = append(x.Elsewhere, foundElsewhere{f.Say(w.Pair), number(w.Expected), number(w.Sound), w.Pair.Quantity})
		}
		s.Groups = append(s.Groups, x)
	}
	for _, n := range f.Numbers() {
		x := foundNumber{Received: n.Received, Expected: n.Expected, Says: "Nothing explains it: show the card again."}
		if e := n.Likeliest; e != nil {
			x.Cause, x.Says, x.Where = e.ID, e.What+" "+e.Wire, e.Where
		}
		s.Numbers = append(s.Numbers, x)
	}
	for _, r := range f.Turned() {
		s.Turned = append(s.Turned, fmt.Sprintf("%s against %s, %s: would be right with the leads the other way round. See that red and black are where they are said to be, and read again.",
			f.Book().Label(r.At), f.Book().Label(r.To), meter.Show(r.Quantity, r.Value)))
	}
	s.Next = nextSheet(f, f.Next(find.Suggested))
	return s
}

func nextSheet(f *find.Finder, n *find.Next) *foundNext {
	if n == nil {
		return nil
	}
	x := &foundNext{
		Effort: number(n.Effort), Gain: number(n.Gain), Why: n.Why, Before: n.Before, ProveOff: n.Dead, Says: f.SayNext(n),
		Outcomes: []foundOutcome{},
	}
	if n.Pair != nil {
		x.At, x.To, x.In, x.Quantity = n.Pair.At, n.Pair.To, n.Pair.In.String(), string(n.Pair.Quantity)
	} else {
		x.Look, x.In = string(n.Look.What), n.Look.In.String()
	}
	if x.Before == nil {
		x.Before = []string{}
	}
	for _, o := range n.Outcomes {
		x.Outcomes = append(x.Outcomes, foundOutcome{o.Says, number(o.Probability), o.Leaves})
	}
	return x
}

func (s found) text(p *page) {
	p.title("FIND " + s.Door)
	sayAlarms(p, s.Alarms)
	if s.Settle {
		p.say(0, plain, "Nothing is searched until this is settled.")
		return
	}
	sayAmiss(p, s.Amiss)
	p.say(0, plain, fmt.Sprintf("%d suspects held against what was read. Probabilities are estimates; try each repair and read again.", s.Suspects))
	p.label(0, "CAUTION", yellow, find.FirstPeople)
	p.label(0, "CAUTION", yellow, meter.CautionRelease)
	for _, t := range s.Turned {
		p.label(0, "LEADS", yellow, t)
	}
	p.gap()
	for _, n := range s.Numbers {
		p.label(0, "NUMBER", bold, n.Received+" was read, "+n.Expected+" is expected.")
		p.hang(0, "", plain, n.Says, 7)
		if n.Where != "" {
			p.hang(0, "", dim, n.Where, 7)
		}
		p.gap()
	}
	for i := range s.Groups {
		s.Groups[i].text(p)
	}
	s.Next.text(p)
}

func sayAlarms(p *page, all []string) {
	for _, a := range all {
		p.label(0, "DANGER", red, a)
	}
}

// text writes a group: the likeliest in full, the others by name.
func (g *foundGroup) text(p *page) {
	percent := fmt.Sprintf("%3.0f %%", 100*float64(g.Probability))
	for i, m := range g.Suspects {
		if i == 0 {
			p.label(0, percent, bold, m.Name)
			if m.Size != "" {
				p.hang(6, "size", dim, m.Size+", by what was read", 13)
			}
			if m.Where != "" {
				p.hang(6, "where", dim, m.Where, 13)
			}
			p.hang(6, "mend", dim, m.Repair, 13)
			if float64(g.Probability) > 0.3 && len(m.Tests) > 0 {
				for k, t := range m.Tests {
					p.hang(6, map[bool]string{true: "then", false: ""}[k == 0], dim, "try: "+t, 13)
				}
			}
			continue
		}
		if i > 3 {
			p.hang(6, "or", dim, fmt.Sprintf("%d more that read alike", len(g.Suspects)-i), 13)
			break
		}
		p.hang(6, "or", dim, m.Name, 13)
	}
	if g.Split != "" && len(g.Suspects) > 1 {
		p.hang(6, "split", dim, g.Split, 13)
	}
	for i, a := range g.Against {
		p.hang(6, map[bool]string{true: "but", false: ""}[i == 0], dim, a, 13)
	}
	if float64(g.Probability) > 0.3 {
		for i, w := range g.Elsewhere[:min(len(g.Elsewhere), 2)] {
			p.hang(6, map[bool]string{true: "shows", false: ""}[i == 0], dim,
				fmt.Sprintf("%s: %s, where %s is sound", w.Reading, shownAs(w.quantity, w.Expected), shownAs(w.quantity, w.Sound)), 13)
		}
	}
	p.gap()
}

func shownAs(q meter.Quantity, v number) string {
	if math.IsInf(float64(v), 1) {
		return "over range"
	}
	return meter.Show(q, float64(v))
}

func (n *foundNext) text(p *page) {
	if n == nil {
		p.say(0, bold, "Nothing in reach tells these apart any further: mend the first, then measure again.")
		return
	}
	for _, b := range n.Before {
		p.label(0, "BEFORE", yellow, b)
	}
	p.label(0, "NEXT", bold, n.Says)
	if n.Why != "" {
		p.hang(0, "", plain, n.Why, 5)
	}
}

func (s found) table() table {
	t := table{head: []string{"group", "group_probability", "suspect", "class", "what", "where", "repair", "probability"}}
	for i, g := range s.Groups {
		for _, m := range g.Suspects {
			t.add(fmt.Sprint(i+1), g.Probability.String(), m.ID, m.Class, m.Name, m.Where, m.Repair, m.Probability.String())
		}
	}
	return t
}
