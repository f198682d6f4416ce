package find

import (
	"cmp"
	"fmt"
	"slices"

	"doorwright/meter"
)

// Listed is one reading of a proposed list.
type Listed struct {
	meter.Listed
	Shows int // faults that this reading shows and none chosen before it does
}

// List is few readings that together show every fault that any reading can show, chosen by what each shows for its
// effort, in the order of the work: dead before live, place by place. Unseen counts the faults of the catalogue that no
// reading shows.
//
// Choosing so is at most ln n above the smallest list there is (Chvatal 1979, Mathematics of Operations Research 4, from
// memory).
func (f *Finder) List() (list []Listed, shown, unseen int) {
	cover := f.covers()
	open := map[int]bool{}
	for i := range f.suspects {
		if f.suspects[i].fault != nil {
			open[i] = true
		}
	}
	all := len(open)
	for {
		best := f.mostFor(cover, open)
		if best < 0 {
			break
		}
		list = append(list, f.listed(best, cover[best], open))
	}
	f.inOrder(list)
	return list, all - len(open), len(open)
}

// mostFor is the pair that shows most of what is still open for its effort; -1 when none shows any.
func (f *Finder) mostFor(cover [][]int, open map[int]bool) int {
	best, worth := -1, 0.0
	for k := range f.book.Pairs {
		n := 0
		for _, i := range cover[k] {
			if open[i] {
				n++
			}
		}
		if w := float64(n) / f.Effort(f.book.Pairs[k]); n > 0 && w > worth*(1+1e-9) {
			best, worth = k, w
		}
	}
	return best
}

// listed is a reading with what it shows, which is open no more.
func (f *Finder) listed(pair int, shows []int, open map[int]bool) Listed {
	l := Listed{Listed: meter.Listed{Pair: f.book.Pairs[pair], Band: f.book.Band(pair)}}
	var first *suspect
	for _, i := range shows {
		if !open[i] {
			continue
		}
		delete(open, i)
		l.Shows++
		if first == nil || f.suspects[i].prior > first.prior {
			first = f.suspects[i]
		}
	}
	l.Why = "shows when " + first.name
	if l.Shows > 1 {
		l.Why += fmt.Sprintf("; and %d more", l.Shows-1)
	}
	return l
}

// covers lists for each pair the suspects that it shows.
func (f *Finder) covers() [][]int {
	cover := make([][]int, len(f.book.Pairs))
	for k, p := range f.book.Pairs {
		if f.book.Across(k) || f.isProof(p.Shows(0)) || ghost(p.Quantity, f.book.Sound.Shown[k]) {
			continue
		}
		band := f.book.Band(k)
		for i, s := range f.suspects {
			if s.fault == nil {
				continue
			}
			x := s.beliefs[0].row.Shown[k]
			if x != f.book.Sound.Shown[k] && !ghost(p.Quantity, x) && !band.Holds(x.Value) {
				cover[k] = append(cover[k], i)
			}
		}
	}
	return cover
}

// inOrder puts the readings in the order that saves steps.
func (f *Finder) inOrder(list []Listed) {
	dead := func(l *Listed) int {
		if l.Pair.In.Dead() {
			return 0
		}
		return 1
	}
	place := func(l *Listed) string {
		if d := f.deviceAt(l.Pair.At); d != nil && d.Place != nil && d.Place != f.door.Controller.Place {
			return d.Place.ID
		}
		return ""
	}
	slices.SortStableFunc(list, func(a, b Listed) int {
		return cmp.Or(cmp.Compare(dead(&a), dead(&b)), cmp.Compare(place(&a), place(&b)),
			cmp.Compare(f.book.Stop(a.Pair.In), f.book.Stop(b.Pair.In)), cmp.Compare(b.Shows, a.Shows))
	})
}
