package paper

import (
	"slices"

	"doorwright/draw"
)

// among writes parts of a paper one below the other, and drawings, in their order, after one or another of them: never
// inside one. Of all places those are taken with which the paper ends first. A part may be written several times, each time
// to the same effect.
func (w *flow) among(drawings []*draw.Sheet, parts ...func(*flow)) {
	var pieces []*draw.Sheet
	for _, s := range drawings {
		pieces = append(pieces, w.pieces(s)...)
	}
	// best[k] is the shortest way to write the parts so far with the first k of the pieces.
	best := make([]*flow, len(pieces)+1)
	best[0] = w.copied()
	for _, write := range parts {
		for k, f := range best {
			if f != nil {
				write(f)
			}
			if k == 0 {
				continue
			}
			with := best[k-1].copied()
			with.drawing(pieces[k-1])
			if f == nil || with.shorter(f) {
				best[k] = with
			}
		}
	}
	*w = *best[len(pieces)]
}

// copied is the same flow: what is written to one of them does not stand in the other.
func (w *flow) copied() *flow {
	c := *w
	c.pages = slices.Clone(w.pages)
	last := *c.pages[len(c.pages)-1]
	last.Items = slices.Clone(last.Items)
	c.pages[len(c.pages)-1] = &last
	return &c
}

// shorter says that a flow ends before another.
func (w *flow) shorter(than *flow) bool {
	if len(w.pages) != len(than.pages) {
		return len(w.pages) < len(than.pages)
	}
	return w.at < than.at
}
