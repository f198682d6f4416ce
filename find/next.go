package find

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"doorwright/meter"
)

// enough is the information below which a reading is not worth its effort, in bits.
const enough = 0.02

// value is what a reading is worth: its information for its effort, with some more weight on the information, as each question
// takes thought and the next ones begin from what it leaves. On the simulated doors the plain ratio asks many questions that
// tell little and is no surer at any effort; the square walks too far too early.
func value(gain, effort float64) float64 { return math.Pow(gain, moreThanLinear) / effort }

// moreThanLinear is the power of the information: the best of a few on the simulated doors (docs/finding.md).
const moreThanLinear = 1.4

// mostGuesses bounds the suspects that a suggestion thinks of.
const mostGuesses = 150

// Candidates are all pairs that may be suggested.
func (f *Finder) Candidates() []meter.Pair {
	var all []meter.Pair
	taken := f.taken()
	for i, p := range f.book.Pairs {
		if !taken[i] && !f.isProof(p.Shows(0)) {
			all = append(all, p)
		}
	}
	return all
}

// Next is the reading or look that comes next; nil when nothing tells the suspects apart any further.
func (f *Finder) Next(rule Rule) *Next {
	switch rule.Name {
	case FixedOrder.Name:
		return f.fixed()
	case Random(0).Name:
		return f.random(rule.Seed)
	}
	guesses := f.guesses(mostGuesses)
	if !rule.MeterOnly {
		if n := f.opened(guesses, nil); n != nil {
			return n
		}
	}
	best := f.bestPair(guesses)
	if !rule.MeterOnly {
		if n := f.bestLook(guesses); n != nil && (best == nil || value(n.Gain, n.Effort) > value(best.Gain, best.Effort)) {
			best = n
		}
	}
	if best == nil || best.Gain < enough {
		return nil
	}
	f.explain(best, guesses)
	return best
}

// NextBut is the suggested reading or look among those that are not skipped: what cannot be reached just now.
func (f *Finder) NextBut(skipped func(*Next) bool) *Next {
	guesses := f.guesses(mostGuesses)
	if n := f.opened(guesses, skipped); n != nil {
		return n
	}
	var best *Next
	for _, n := range []*Next{f.bestPairBut(guesses, skipped), f.bestLookBut(guesses, skipped)} {
		if n != nil && n.Gain >= enough && (best == nil || value(n.Gain, n.Effort) > value(best.Gain, best.Effort)) {
			best = n
		}
	}
	if best != nil {
		f.explain(best, guesses)
	}
	return best
}

// bestPair is the pair that tells most for its effort.
func (f *Finder) bestPair(guesses []guess) *Next { return f.bestPairBut(guesses, nil) }

func (f *Finder) bestPairBut(guesses []guess, skipped func(*Next) bool) *Next {
	taken := f.taken()
	pairs := f.book.Pairs
	var open []int
	for i, p := range pairs {
		if !taken[i] && !f.isProof(p.Shows(0)) && (skipped == nil || !skipped(&Next{Pair: &pairs[i]})) {
			open = append(open, i)
		}
	}
	if few := likeliestOf(guesses, firstLook); len(few) < len(guesses) {
		worth := make([]float64, len(pairs))
		for i, gain := range f.gains(open, few) {
			worth[open[i]] = value(gain, f.Effort(pairs[open[i]]))
		}
		slices.SortStableFunc(open, func(a, b int) int { return cmp.Compare(worth[b], worth[a]) })
		open = open[:min(len(open), secondLook)]
		slices.Sort(open)
	}
	best, most, worth := -1, 0.0, 0.0
	for i, gain := range f.gains(open, guesses) {
		if gain < enough {
			continue
		}
		if w := value(gain, f.Effort(pairs[open[i]])); w > worth*(1+1e-9) {
			best, most, worth = open[i], gain, w
		}
	}
	if best < 0 {
		return nil
	}
	return f.asNext(pairs[best], most)
}

// To weigh every pair with every suspect would take most of a suggestion's time: first the likeliest guesses sift the pairs,
// then all guesses choose among the best of them.
const (
	firstLook  = 40 // guesses
	secondLook = 60 // pairs
)

// likeliestOf are the first few of some guesses, as if there were no others.
func likeliestOf(guesses []guess, most int) []guess {
	few := slices.Clone(guesses[:min(len(guesses), most)])
	sum := 0.0
	for i := range few {
		sum += few[i].p
	}
	for i := range few {
		few[i].p /= sum
	}
	return few
}

// gains are what some pairs are expected to tell, in bits.
func (f *Finder) gains(pairs []int, guesses []guess) []float64 {
	gains := make([]float64, len(pairs))
	var done sync.WaitGroup
	const hands = 2
	for h := range hands {
		done.Go(func() {
			w := weigher{book: f.book, guesses: guesses}
			for i := h; i < len(pairs); i += hands {
				gains[i] = w.gain(pairs[i])
			}
		})
	}
	done.Wait()
	return gains
}

func (f *Finder) asNext(p meter.Pair, gain float64) *Next {
	return &Next{
		Pair: &p, Dead: p.Quantity != meter.Volts, Effort: f.Effort(p), Gain: gain, Before: f.before(p.In, p.Quantity),
	}
}

// explain gives the reason of a suggestion and what each outcome would leave.
func (f *Finder) explain(n *Next, guesses []guess) {
	if n.Look != nil {
		f.explainLook(n, guesses)
		return
	}
	w := weigher{book: f.book, guesses: guesses}
	pair := f.book.Index(*n.Pair)
	if !w.expect(pair) {
		return
	}
	w.cut()
	w.fill()
	cells := len(w.edges) + 1
	type ends struct{ low, high float64 }
	var from []ends
	for k := range cells {
		o := Outcome{}
		var all []share
		for i, g := range guesses {
			p := g.p * w.cells[i*cells+k]
			o.Probability += p
			all = append(all, share{g.s.id, p, g.p})
		}
		o.leave(all)
		low, high := math.Inf(-1), math.Inf(1)
		if k > 0 {
			low = w.edges[k-1]
		}
		if k < cells-1 {
			high = w.edges[k]
		}
		o.Says = between(n.Pair.Quantity, low, high)
		if last := len(n.Outcomes) - 1; last >= 0 && len(o.Leaves) > 0 && slices.Equal(n.Outcomes[last].Leaves[:1], o.Leaves[:1]) {
			n.Outcomes[last].Probability += o.Probability // two bins that speak for the same are one answer
			from[last].high = high
			n.Outcomes[last].Says = between(n.Pair.Quantity, from[last].low, high)
			continue
		}
		if len(o.Leaves) > 0 {
			n.Outcomes, from = append(n.Outcomes, o), append(from, ends{low, high})
		}
	}
	slices.SortStableFunc(n.Outcomes, func(a, b Outcome) int { return cmp.Compare(b.Probability, a.Probability) })
	n.Why = f.why(n)
}

// share is a suspect's part of an outcome, and what it had before.
type share struct {
	id        string
	p, before float64
}

// leave names the suspects that an outcome speaks for: those that it makes likelier, most first. One that leads either way is not
// spoken for by all outcomes. What is unknown goes with almost every outcome and is named only where nothing else is.
func (o *Outcome) leave(all []share) {
	gains := func(s share) float64 { return s.p - s.before*o.Probability }
	slices.SortStableFunc(all, func(a, b share) int { return cmp.Compare(gains(b), gains(a)) })
	for _, unknown := range []bool{false, true} {
		for _, s := range all {
			if len(o.Leaves) < leavesNamed && (s.id == Unknown) == unknown && gains(s) > 0 && s.p > leastShare*o.Probability {
				o.Leaves = append(o.Leaves, s.id)
			}
		}
	}
}

// leastShare is the probability that a suspect has in an outcome that speaks for it.
const leastShare = 0.03

// leavesNamed is how many suspects an outcome names.
const leavesNamed = 3

// why is the reason of a suggestion in a sentence.
func (f *Finder) why(n *Next) string {
	var parts []string
	for _, o := range n.Outcomes[:min(len(n.Outcomes), 3)] {
		if len(o.Leaves) > 0 && o.Leaves[0] != Unknown {
			parts = append(parts, fmt.Sprintf("%s speaks for %s", o.Says, f.nameOf(o.Leaves[0])))
		}
	}
	return strings.Join(parts, "; ")
}

func (f *Finder) nameOf(id string) string {
	if id == Healthy {
		return "a door as planned"
	}
	if s := f.suspectOf(id); s != nil {
		return s.name
	}
	return id
}

// between is a range of a reading in words.
func between(q meter.Quantity, low, high float64) string {
	write := func(v float64) string {
		if q == meter.Ohms {
			return meter.Show(q, math.Exp(v)-1)
		}
		return meter.Show(q, v)
	}
	switch {
	case math.IsInf(low, -1) && math.IsInf(high, 1):
		return "anything"
	case math.IsInf(low, -1):
		return "below " + write(high)
	case math.IsInf(high, 1):
		return "above " + write(low)
	}
	return write(low) + " to " + write(high)
}

// random is any reading not taken yet.
func (f *Finder) random(seed uint64) *Next {
	all := f.Candidates()
	if len(all) == 0 {
		return nil
	}
	// SplitMix64 (Steele, Lea and Flood 2014, from memory), so that a seed gives the same order everywhere.
	x := seed + uint64(len(f.entered)+1)*0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	p := all[(x^x>>31)%uint64(len(all))]
	n := f.asNext(p, 0)
	n.Why = "taken at random"
	return n
}
