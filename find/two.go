package find

import (
	"cmp"
	"math"
	"slices"

	"doorwright/fault"
)

// Two faults at once are thought of only where no single one explains what was read, since one mostly hides the other:
// of two, one is nearly always found, and then there is but one.
const (
	twoFrom    = 0.25 // probability of something unknown from which two at once are thought of
	firstOfTwo = 8
	nextOfTwo  = 10
	twoShare   = 0.1 // how often a door with one fault has another
)

// lookForTwo enters two faults at once, when no single one fits.
func (f *Finder) lookForTwo() {
	if f.pairs || len(f.entered) < 2 {
		return
	}
	f.pairs = true
	f.suspects = slices.DeleteFunc(f.suspects, func(s *suspect) bool { return s.both != nil })
	p := f.posterior()
	unknown := 0.0
	for i, s := range f.suspects {
		if s.id == Unknown {
			unknown = p[i]
		}
	}
	if unknown < twoFrom {
		return
	}
	firsts := f.best(p, firstOfTwo)
	var both []*suspect
	var list []*fault.Fault
	groups := 0
	for _, s := range f.suspects {
		groups = max(groups, s.group+1)
	}
	for _, a := range firsts {
		for _, b := range f.complements(a) {
			if slices.ContainsFunc(both, func(s *suspect) bool { return s.both[0] == b && s.both[1] == a }) {
				continue
			}
			x := fault.Both(a.fault, b.fault)
			both = append(both, &suspect{
				id: x.ID, name: x.Name, where: x.Where, class: a.class, fault: x, prior: a.prior * b.prior * twoShare,
				repair: "Two at once: mend the first, then forget what was read and measure again. " + a.repair,
				both:   []*suspect{a, b}, group: groups + len(both),
			})
			list = append(list, x)
		}
	}
	for i, row := range f.book.Rows(list) {
		s := both[i]
		s.beliefs = beliefsOf(row, 1)
		for k := range s.beliefs {
			f.enterAll(s, &s.beliefs[k])
		}
	}
	f.suspects = append(f.suspects, both...)
}

// enterAll tells a fresh belief of a suspect all that was read and seen.
func (f *Finder) enterAll(s *suspect, b *belief) {
	for _, e := range f.entered {
		if !f.proofAt(e.pair) {
			b.enter(f.book, e.pair, e.y, width(f.book.Pairs[e.pair].Quantity, f.highest()))
		}
	}
	for _, o := range f.seen {
		b.tell(&b.saw, f.testimonyOf(o)(s, b.row))
	}
}

func (f *Finder) proofAt(pair int) bool {
	p := f.book.Pairs[pair]
	return f.isProof(p.Shows(0))
}

// best are the likeliest faults, no two of one group.
func (f *Finder) best(p []float64, n int) []*suspect {
	order := make([]int, len(f.suspects))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[b], p[a]) })
	var all []*suspect
	for _, i := range order {
		s := f.suspects[i]
		if s.fault == nil || s.mended || slices.ContainsFunc(all, func(x *suspect) bool { return x.group == s.group }) {
			continue
		}
		if all = append(all, s); len(all) == n {
			break
		}
	}
	return all
}

// complements are the faults that explain best what a fault does not.
func (f *Finder) complements(a *suspect) []*suspect {
	var odd []entered
	base := likeliest(a)
	for _, e := range f.entered {
		if mean, d, _ := base.predictAlone(f.book, e.pair); !f.proofAt(e.pair) && math.Abs(e.y-mean) > 3*d {
			odd = append(odd, e)
		}
	}
	if len(odd) == 0 {
		return nil
	}
	type scored struct {
		s   *suspect
		log float64
	}
	var all []scored
	for _, s := range f.suspects {
		if s.fault == nil || s == a || s.group == a.group || s.mended {
			continue
		}
		log := math.Log(s.prior)
		for _, e := range odd {
			mean, d, _ := s.beliefs[0].predictAlone(f.book, e.pair)
			log += math.Log(student((e.y-mean)/d)/d + wrongShare/width(f.book.Pairs[e.pair].Quantity, f.highest()))
		}
		all = append(all, scored{s, log})
	}
	slices.SortStableFunc(all, func(x, y scored) int { return cmp.Compare(y.log, x.log) })
	var best []*suspect
	for _, x := range all {
		if slices.ContainsFunc(best, func(s *suspect) bool { return s.group == x.s.group }) {
			continue
		}
		if best = append(best, x.s); len(best) == nextOfTwo {
			break
		}
	}
	return best
}
