package find

import "slices"

// Forget forgets all that was read, seen and mended, as if the door had just been opened. Measured loops stay.
func (f *Finder) Forget() {
	f.readings, f.entered, f.seen, f.pairs = nil, nil, nil, false
	f.suspects = withoutPairs(f.suspects)
	for _, s := range f.suspects {
		s.mended = false
		for k := range s.beliefs {
			s.beliefs[k].forget()
		}
	}
}

// withoutPairs leaves two faults at once out: they are looked for anew after each reading.
func withoutPairs(all []*suspect) []*suspect {
	return slices.DeleteFunc(all, func(s *suspect) bool { return s.both != nil })
}
