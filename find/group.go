package find

import (
	"math"

	"doorwright/meter"
)

// grouped gives suspects that nothing read or seen with everything on its wires tells apart the same group.
func grouped(book *meter.Book, all []*suspect) {
	for i, g := range groupsOf(book, all, true) {
		all[i].group = g
	}
}

// groupsOf numbers the groups of suspects, by readings alone or by what is seen as well.
func groupsOf(book *meter.Book, all []*suspect, bySight bool) []int {
	of := make([]int, len(all))
	var heads []*suspect
	ownGroup := func(s *suspect) bool { return s.id == Unknown || bySight && s.class == Use && s.id != Healthy }
	for i, s := range all {
		of[i] = len(heads)
		if !ownGroup(s) {
			for g, h := range heads {
				if !ownGroup(h) && same(book, s.beliefs[0].row, h.beliefs[0].row, bySight) {
					of[i] = g
					break
				}
			}
		}
		if of[i] == len(heads) {
			heads = append(heads, s)
		}
	}
	return of
}

// apart is how many deviations of the meter alone two readings must differ by to be told apart.
const apart = 3.0

// same says that two rows cannot be told apart with everything on its wires.
func same(book *meter.Book, a, b *meter.Row, bySight bool) bool {
	if a == b {
		return true
	}
	for i := range book.Stops {
		s := &book.Stops[i]
		if s.In.Pulled != "" || s.In.Alone != "" {
			continue
		}
		if bySight && !s.In.Dead() && !seenAlike(&a.Sights[i], &b.Sights[i]) {
			return false
		}
		for k := s.From; k < s.To; k++ {
			if told(book, k, a, b) {
				return false
			}
		}
	}
	return true
}

// told says that a pair tells two rows apart.
func told(book *meter.Book, k int, a, b *meter.Row) bool {
	x, y := a.Shown[k], b.Shown[k]
	if x == y {
		return false
	}
	q := book.Pairs[k].Quantity
	d := math.Abs(pointOf(q, x.Value, false).at - pointOf(q, y.Value, false).at)
	return d > apart*(noise(book.Meter, q, x)+noise(book.Meter, q, y))/2
}

func seenAlike(a, b *meter.Sighting) bool {
	for _, s := range meter.Sights() {
		x, known := a.Yes[s]
		y, also := b.Yes[s]
		if known && also && math.Abs(x-y) > 0.4 {
			return false
		}
	}
	return a.Number == b.Number
}
