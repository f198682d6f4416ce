package find

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"doorwright/meter"
)

// bestLook is the look that tells most for its effort.
func (f *Finder) bestLook(guesses []guess) *Next { return f.bestLookBut(guesses, nil) }

func (f *Finder) bestLookBut(guesses []guess, skipped func(*Next) bool) *Next {
	var best *Next
	for i := range f.book.Stops {
		s := &f.book.Stops[i]
		if s.In.Dead() {
			continue
		}
		for _, what := range meter.Sights() {
			o := meter.Observation{What: what, In: s.In}
			if f.looked(o) || skipped != nil && skipped(&Next{Look: &o}) || !seenWhile(what, s.In.Act) {
				continue
			}
			gain := f.lookGain(guesses, i, what)
			n := f.asLook(o, gain)
			if gain > enough && (best == nil || value(gain, n.Effort) > value(best.Gain, best.Effort)) {
				best = n
			}
		}
	}
	return best
}

// seenWhile says that there is something to look at in an act: a number is read when a card is shown.
func seenWhile(what meter.Sight, act meter.Act) bool {
	switch what {
	case meter.NumberRead:
		return act == meter.Card
	case meter.OpensItself:
		return act == meter.Idle
	case meter.Works:
		return false // told by who has tried it all; who has not looks where a look tells most
	}
	return true
}

func (f *Finder) asLook(o meter.Observation, gain float64) *Next {
	return &Next{Look: &o, Effort: f.lookEffort(o), Gain: gain, Before: f.before(o.In, meter.Volts)}
}

func (f *Finder) looked(o meter.Observation) bool {
	return slices.ContainsFunc(f.seen, func(x meter.Observation) bool { return x.What == o.What && x.In == o.In })
}

// lookGain is the information in bits that a look is expected to give.
func (f *Finder) lookGain(guesses []guess, stop int, what meter.Sight) float64 {
	answers := what.Answers()
	mixed := make([]float64, len(answers))
	bits := 0.0
	for _, g := range guesses {
		for k, is := range answers {
			q := f.answer(&g, stop, what, is)
			mixed[k] += g.p * q
			bits += g.p * q * math.Log2(max(q, tiny))
		}
	}
	for _, q := range mixed {
		bits -= q * math.Log2(max(q, tiny))
	}
	return max(bits, 0)
}

func (f *Finder) answer(g *guess, stop int, what meter.Sight, is string) float64 {
	q := 0.0
	for _, s := range g.sizes {
		q += s.p * chance(s.s, s.b.row, stop, what, is)
	}
	return q
}

func (f *Finder) explainLook(n *Next, guesses []guess) {
	stop := f.book.Stop(n.Look.In)
	for _, is := range n.Look.What.Answers() {
		o := Outcome{Says: is}
		var all []share
		for i := range guesses {
			p := guesses[i].p * f.answer(&guesses[i], stop, n.Look.What, is)
			o.Probability += p
			all = append(all, share{guesses[i].s.id, p, guesses[i].p})
		}
		o.leave(all)
		n.Outcomes = append(n.Outcomes, o)
	}
	slices.SortStableFunc(n.Outcomes, func(a, b Outcome) int { return cmp.Compare(b.Probability, a.Probability) })
	n.Why = fmt.Sprintf("a look costs little; %s", f.why(n))
}
