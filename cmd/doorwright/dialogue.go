package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"doorwright/find"
	"doorwright/meter"
)

// sure is the probability from which a suspect is taken for found.
const sure = 0.9

// talk asks for one reading after another until the fault is found, nothing tells any more, or the input ends. Asking says
// that it begins with what was called for, most how many groups of suspects stand at the end.
func talk(e *env, f *find.Finder, asking bool, most int) error {
	p, in := e.page, bufio.NewScanner(e.stdin)
	p.title("FIND " + f.Book().Door.ID)
	sayAmiss(p, amiss(f.Book()))
	p.say(0, plain, "Answer with what the meter shows (26.4, 4.7 kohm, open) or with yes and no. Other words: ?, skip, back, suspects, mended, quit.")
	if asking && !askCall(e, f, in) {
		return left(e, f, most)
	}
	skipped := map[string]bool{}
	var told []string // of what comes before any search, what was said and still stands
	for {
		if groups := f.Suspects(); groups[0].Probability >= sure && !stops(f) {
			return finish(e, f, "Found, as far as readings can tell:", most)
		}
		n := f.NextBut(func(n *find.Next) bool { return skipped[key(n)] })
		if n == nil {
			return finish(e, f, "Nothing in reach tells any more:", most)
		}
		told = settle(p, f, told)
		if stops(f) {
			p.say(0, plain, "Nothing is searched until this is settled: back takes the reading back, quit ends.")
		} else {
			ask(p, f, n)
		}
		for {
			e.flush()
			if !in.Scan() {
				return left(e, f, most)
			}
			again, err := answer(e, f, n, strings.TrimSpace(in.Text()), skipped)
			if err != nil {
				p.label(0, "AGAIN", yellow, err.Error())
				continue
			}
			if again == stop {
				return left(e, f, most)
			}
			if again == next {
				break
			}
		}
	}
}

// settle says what comes before any search when it arises, and not again while it stands: what stands before every question is
// soon read by nobody. It gives what stands.
func settle(p *page, f *find.Finder, told []string) []string {
	var all, fresh []string
	for _, a := range f.Alarms() {
		all = append(all, a.Says)
		if !slices.Contains(told, a.Says) {
			fresh = append(fresh, a.Says)
		}
	}
	sayAlarms(p, fresh)
	return all
}

func stops(f *find.Finder) bool {
	return slices.ContainsFunc(f.Alarms(), func(a find.Alarm) bool { return a.Stop })
}

// What follows an answer.
type follow int

const (
	next follow = iota
	stay
	stop
)

func key(n *find.Next) string {
	if n.Pair != nil {
		return fmt.Sprint(*n.Pair)
	}
	return string(n.Look.What) + n.Look.In.String()
}

func ask(p *page, f *find.Finder, n *find.Next) {
	p.gap()
	for _, b := range n.Before {
		p.label(0, "BEFORE", yellow, b)
	}
	p.label(0, "NEXT", bold, f.SayNext(n))
	if n.Why != "" {
		p.hang(0, "", plain, n.Why, 5)
	}
	if n.Look == nil {
		return
	}
	may := strings.Join(n.Look.What.Answers(), " or ")
	if n.Look.What == meter.NumberRead {
		may = "right; none: nothing arrives; complement: each bit the other way; zeros, ones: all bits alike; wrong: any other; " +
			"or both numbers, which tell more: 165/65211 expected 90/324"
	}
	p.hang(0, "", plain, "Answer "+may+".", 5)
}

// answer takes one line.
func answer(e *env, f *find.Finder, n *find.Next, text string, skipped map[string]bool) (follow, error) {
	if stops(f) && text != "quit" && text != "back" {
		return stay, errors.New("nothing is searched now: back takes the reading back, quit ends")
	}
	switch text {
	case "quit":
		return stop, nil
	case "", "skip":
		skipped[key(n)] = true
		return next, nil
	case "?":
		explainAsked(e.page, f, n)
		return stay, nil
	case "back":
		if ok, err := f.Back(); !ok || err != nil {
			return stay, cmp.Or(err, errors.New("there is nothing to take back"))
		}
		e.page.say(2, plain, "The last answer is taken back.")
		return next, nil
	case "suspects":
		for _, g := range f.Suspects()[:3] {
			e.page.say(2, plain, fmt.Sprintf("%.0f %% %s", 100*g.Probability, g.Suspects[0].Name))
		}
		return stay, nil
	case "mended":
		s := f.Suspects()[0].Suspects[0]
		e.page.say(2, plain, "Mended: "+s.Name+". What was read before is forgotten: measure again.")
		return next, f.Mend(s.ID)
	}
	if n.Look != nil {
		o := *n.Look
		o.Is = map[string]string{"y": "yes", "n": "no"}[text]
		if o.Is == "" {
			o.Is = text
		}
		return next, f.See(o)
	}
	r, err := meter.ParseShown(*n.Pair, text)
	if err != nil {
		return stay, err
	}
	return next, f.Add(r)
}

// explainAsked says what each answer would mean, and what may be answered.
func explainAsked(p *page, f *find.Finder, n *find.Next) {
	names := map[string]string{}
	for _, g := range f.Suspects() {
		for _, s := range g.Suspects {
			names[s.ID] = s.Name
		}
	}
	names[find.Healthy], names[find.Unknown] = "a door as planned", "none of the known faults"
	for _, o := range n.Outcomes {
		p.say(2, bold, fmt.Sprintf("%s (%.0f %%) speaks for", o.Says, 100*o.Probability))
		for i, id := range o.Leaves {
			p.hang(4, map[bool]string{true: "", false: "or"}[i == 0], plain, names[id], 7)
		}
	}
	p.say(2, plain, "skip: not this one. back: take the last answer back. suspects: the likeliest three. "+
		"mended: the likeliest was found and mended. quit: stop here.")
}

// left ends before the fault is found. Before anything is told, faults are as likely as at any door: nothing is suspected.
func left(e *env, f *find.Finder, most int) error {
	if f.Told() > 0 {
		return finish(e, f, "As far as it was read:", most)
	}
	e.page.gap()
	e.page.say(0, bold, "Nothing was read or seen yet, so nothing is suspected.")
	e.page.say(0, plain, "To go on, answer one question at least, or give what is known at once with --see, --read or --readings FILE; "+
		"doorwright find --help shows how they are written.")
	return nil
}

func finish(e *env, f *find.Finder, says string, most int) error {
	e.page.gap()
	e.page.say(0, bold, says)
	s := findSheet(f, most)
	s.Next = nil
	sayAlarms(e.page, s.Alarms)
	for i := range s.Groups {
		s.Groups[i].text(e.page)
	}
	return nil
}
