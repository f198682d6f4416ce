package find

import (
	"math"

	"doorwright/meter"
)

// grouped gives suspects that no reading with everything on its wires tells apart the same group.
func grouped(book *meter.Book, all []*suspect) {
	var heads []*suspect
	for _, s := range all {
		s.group = -1
		if s.id == Unknown || s.class == Use && s.id != Healthy {
			s.group = len(heads)
			heads = append(heads, s)
			continue
		}
		for _, h := range heads {
			if h.class != Use && h.id != Unknown || h.id == Healthy {
				if same(book, s.beliefs[0].row, h.beliefs[0].row) {
					s.group = h.group
					break
				}
			}
		}
		if s.group < 0 {
			s.group = len(heads)
			heads = append(heads, s)
		}
	}
}

// apart is how many deviations of the meter alone two readings must differ by to be told apart.
const apart = 3.0

// same says that two rows cannot be told apart with everything on its wires.
func same(book *meter.Book, a, b *meter.Row) bool {
	if a == b {
		return true
	}
	for i := range book.Stops {
		s := &book.Stops[i]
		if s.In.Pulled != "" || s.In.Alone != "" {
			continue
		}
		if !s.In.Dead() && !seenAlike(&a.Sights[i], &b.Sights[i]) {
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
