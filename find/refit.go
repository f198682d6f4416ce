package find

import (
	"cmp"
	"math"
	"slices"

	"doorwright/fault"
	"doorwright/meter"
	"doorwright/situation"
)

// A bad joint has any resistance, a drifted part any value. A suspect is thought of at a few sizes, each with a deviation of its
// logarithm, which sways what is read as tolerances do. What was read tells how far off the size is; where that is more than a little,
// what the door shows is worked out anew at the size that fits, as sways are straight lines and what is read bends (the iterated Kalman
// filter; Jazwinski, Stochastic Processes and Filtering Theory, 9.7, from memory). Its probability beforehand stays as it was.
const (
	refitFrom  = 0.15 // of the logarithm of the size: what bends less than the meter errs
	refitMost  = 2.0  // deviations from the middle of its sizes
	refitTurns = 3
	refitLeast = 1e-4 // of the probability of what leads
	refitAtAll = 6    // suspects in a turn: each costs a door worked out anew
	refitWorse = 0.5  // of the logarithm of the likelihood: so much may be lost where the line was too good
)

// sizeSway is what a deviation of the size does to a reading, of its sways.
func sizeSway(book *meter.Book, sways []situation.KnobSway) float64 {
	if n := len(sways) - 1; n >= 0 && int(sways[n].Knob) == book.Knobs.Size {
		return float64(sways[n].By)
	}
	return 0
}

// fits is the size that fits best what was read, in deviations from that of the row; left is what remains of its deviation, 1 where
// nothing tells.
func (b *belief) fits(book *meter.Book) (at, left float64) {
	at, left = b.size, 1
	row := make([]float64, 0, len(b.used))
	for i, u := range b.used {
		p := pointOf(book.Pairs[u].Quantity, b.row.Shown[u].Value, false)
		c := sizeSway(book, b.sways(book, u)) * p.scale
		for k := range i {
			c -= row[k] * b.factor[i][k]
		}
		row = append(row, c/b.factor[i][i])
		at += row[i] * b.white[i]
		left -= row[i] * row[i]
	}
	return at, math.Sqrt(max(left, 0))
}

// refit moves suspects of any size to the size that fits what was read, as far as they count. A step after which less fits than before
// was too long, as beyond a bend, and is halved.
func (f *Finder) refit() {
	step := map[*belief]float64{}
	for range refitTurns {
		var all []*resized
		var list []*fault.Fault
		for _, s := range f.thatCount() {
			best := likeliest(s).log
			for k := range s.beliefs {
				b := &s.beliefs[k]
				if b.log < best+math.Log(refitLeast) {
					continue
				}
				if step[b] == 0 {
					step[b] = 1
				}
				fits, _ := b.fits(f.book)
				by := step[b] * (max(-refitMost, min(refitMost, fits-b.size)) + b.size) // from the size of the row
				if math.Abs(by)*s.fault.Spread < refitFrom {
					continue
				}
				all = append(all, &resized{s, b, b.size - by})
				list = append(list, sized(b.row.Fault, math.Exp(by*s.fault.Spread)))
			}
		}
		if len(all) == 0 {
			return
		}
		for i, row := range f.book.Rows(list) {
			if x := all[i]; !f.takes(x, row) {
				step[x.b] /= 2
			}
		}
	}
}

// resized is a belief that is tried at another size.
type resized struct {
	s    *suspect
	b    *belief
	size float64 // where the middle of its sizes is then
}

// takes puts a belief to another row, unless that fits what was read less well.
func (f *Finder) takes(x *resized, row *meter.Row) bool {
	b := belief{row: row, base: cmp.Or(x.b.base, x.b.row), size: x.size, weight: x.b.weight, jumps: x.b.jumps}
	f.enterAll(x.s, &b)
	if b.log < x.b.log-refitWorse {
		return false
	}
	*x.b = b
	return true
}

// thatCount are the likeliest suspects of any size.
func (f *Finder) thatCount() []*suspect {
	type likely struct {
		s   *suspect
		log float64
	}
	most := math.Inf(-1)
	var all []likely
	for _, s := range f.suspects {
		log := s.log(nothing)
		most = max(most, log)
		if s.fault != nil && s.fault.Spread > 0 && !s.mended {
			all = append(all, likely{s, log})
		}
	}
	slices.SortStableFunc(all, func(a, b likely) int { return cmp.Compare(b.log, a.log) })
	var count []*suspect
	for _, x := range all[:min(len(all), refitAtAll)] {
		if x.log > most+math.Log(refitLeast) {
			count = append(count, x.s)
		}
	}
	return count
}
