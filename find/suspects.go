package find

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"doorwright/meter"
)

// Suspects are the groups, likeliest first. Where no single fault explains what was read, two at once are among them.
func (f *Finder) Suspects() []Group {
	f.lookForTwo()
	p := f.posterior()
	byGroup := map[int]int{}
	var all []Group
	order := make([]int, len(f.suspects))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[b], p[a]) })
	for _, i := range order {
		s := f.suspects[i]
		at, ok := byGroup[s.group]
		if !ok {
			at = len(all)
			byGroup[s.group] = at
			all = append(all, Group{})
		}
		all[at].Probability += p[i]
		all[at].Suspects = append(all[at].Suspects, f.told(s, p[i]))
	}
	slices.SortStableFunc(all, func(a, b Group) int { return cmp.Compare(b.Probability, a.Probability) })
	return all
}

// told is a suspect in words.
func (f *Finder) told(s *suspect, p float64) Suspect {
	return Suspect{
		ID: s.id, Class: string(s.class), Name: s.name, Where: s.where, Repair: s.repair, Probability: p,
		Size: f.sizeOf(s), Tests: f.testsAfter(s), Fault: s.fault, Both: len(s.both) > 0,
	}
}

// Explain fills in what tells the members of a group apart, and what the meter would show elsewhere with the likeliest.
func (f *Finder) Explain(g *Group) {
	s := f.suspectOf(g.Suspects[0].ID)
	if s == nil {
		return
	}
	g.Split, g.Against = f.split(g), f.against(s)
	row := likeliest(s).row
	g.Elsewhere = nil
	taken := f.taken()
	for k, x := range row.Shown {
		sound := f.book.Sound.Shown[k]
		q := f.book.Pairs[k].Quantity
		if taken[k] || !told(f.book, k, row, f.book.Sound) || ghost(q, x) || f.book.Pairs[k].In.Pulled != "" || f.book.Pairs[k].In.Alone != "" {
			continue
		}
		g.Elsewhere = append(g.Elsewhere, Elsewhere{f.book.Pairs[k], x.Value, math.IsInf(x.Value, 1), sound.Value})
		if len(g.Elsewhere) == mostElsewhere {
			break
		}
	}
}

// mostElsewhere is how many places are named at which a suspect would show.
const mostElsewhere = 5

func likeliest(s *suspect) *belief {
	best := &s.beliefs[0]
	for i := range s.beliefs {
		if b := &s.beliefs[i]; b.log > best.log {
			best = b
		}
	}
	return best
}

func (f *Finder) suspectOf(id string) *suspect {
	i := slices.IndexFunc(f.suspects, func(s *suspect) bool { return s.id == id })
	if i < 0 {
		return nil
	}
	return f.suspects[i]
}

// split is the act that tells the two likeliest of a group apart; empty for a group of one.
func (f *Finder) split(g *Group) string {
	if len(g.Suspects) < 2 {
		return ""
	}
	a, b := f.suspectOf(g.Suspects[0].ID), f.suspectOf(g.Suspects[1].ID)
	if a == nil || b == nil {
		return ""
	}
	for i := range f.book.Stops {
		s := &f.book.Stops[i]
		if s.In.Pulled == "" && s.In.Alone == "" {
			continue
		}
		for k := s.From; k < s.To; k++ {
			if told(f.book, k, a.beliefs[0].row, b.beliefs[0].row) {
				return "Read " + f.Say(f.book.Pairs[k]) + "."
			}
		}
	}
	if a.id == Healthy || b.id == Healthy {
		return "No reading shows it: look at the place and tug at every core, or leave it at that."
	}
	return "Look at both places; swap the part or core that is quickest to swap, and read again."
}

// taken says of each pair whether it was read.
func (f *Finder) taken() map[int]bool {
	taken := map[int]bool{}
	for _, e := range f.entered {
		taken[e.pair] = true
	}
	return taken
}

// Say is a pair in words.
func (f *Finder) Say(p meter.Pair) string {
	return string(p.Quantity) + ", red lead on " + f.book.Label(p.At) + ", black on " + f.book.Label(p.To) + " (" + p.In.Say() + ")"
}

// SayNext is a suggestion in words.
func (f *Finder) SayNext(n *Next) string {
	if n.Pair != nil {
		return "Read " + f.Say(*n.Pair)
	}
	return "Look: " + SayLook(*n.Look)
}

// SayLook is something to look at, as a question.
func SayLook(o meter.Observation) string {
	what := string(o.What)
	if o.What == meter.NumberRead {
		what = "what number was read"
	}
	return fmt.Sprintf("%s? (%s)", what, o.In.Say())
}
