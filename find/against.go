package find

import (
	"fmt"
	"math"
	"slices"

	"doorwright/meter"
)

// seldom is the chance below which an answer speaks against a suspect: hardly more than people's mistakes.
const seldom = 0.1

// against are the readings and looks that a suspect does not explain, in words, as they were told: if it is what is wrong, then each
// of these is mistaken, and is worth to be taken again. Nothing speaks against what is unknown.
func (f *Finder) against(s *suspect) []string {
	if s.id == Unknown {
		return nil
	}
	var all []string
	b := likeliest(s)
	for _, r := range f.readings {
		i, r, ok := f.find(r)
		if !ok || !slices.Contains(b.odd, i) {
			continue
		}
		mean, _, _ := b.predictAlone(f.book, i)
		expected := "over range"
		if !math.IsInf(b.row.Shown[i].Value, 1) {
			expected = meter.Show(r.Quantity, valueOf(r.Quantity, mean))
		}
		read := "over range"
		if !r.Open {
			read = meter.Show(r.Quantity, r.Value)
		}
		all = append(all, fmt.Sprintf("%s: %s was read, with this it would be %s. Read it again.", f.Say(f.book.Pairs[i]), read, expected))
	}
	for _, o := range f.seen {
		if o.What == meter.Works || o.What == meter.NumberRead || chance(s, b.row, f.book.Stop(o.In), o.What, o.Is) >= seldom {
			continue
		}
		all = append(all, fmt.Sprintf("%s (%s): %s was told, with this it would not be so. Look again.", o.What, o.In.Say(), o.Is))
	}
	return all
}
