package job

import "slices"

// Supplies are the supplies that a door hangs on, each once, those of its locks first.
func (d *Door) Supplies() []*Supply {
	var all []*Supply
	enter := func(f Feed) {
		if f.Supply != nil && !slices.Contains(all, f.Supply) {
			all = append(all, f.Supply)
		}
	}
	for _, l := range d.Locks {
		enter(l.Feed)
	}
	enter(d.Controller.Feed)
	return all
}
