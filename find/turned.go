package find

import "doorwright/meter"

// Turned are the readings that would be those of a sound door with the leads the other way round: likelier a slip of the
// hand than a fault.
func (f *Finder) Turned() []meter.Reading {
	var all []meter.Reading
	for _, r := range f.readings {
		if i, read, ok := f.find(r); ok && f.book.Band(i).Turned(read) {
			all = append(all, r)
		}
	}
	return all
}
