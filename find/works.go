package find

import (
	"math"

	"doorwright/meter"
)

// unnoticed is how often somebody says that all works though something is to be seen (common practice, no source): few look at
// what the controller shows.
const unnoticed = 0.1

// testimonyOfUse is how likely each suspect makes it that somebody says of the door that all works, or not. It speaks for the
// faults that nobody sees, which no complaint ever leads to: a joint still good enough, a release contact welded.
func (f *Finder) testimonyOfUse(is string) testimony {
	return func(s *suspect, row *meter.Row) float64 {
		seen := f.amiss(row)
		yes := seen*unnoticed + (1-seen)*(1-misseen)
		if s.id == Unknown {
			yes = (1-unknownElse)*yes + unknownElse/2
		}
		if is == "yes" {
			return yes
		}
		return 1 - yes
	}
}

// amiss is how likely anything is seen otherwise than at the sound door, in any act with power. A blown fuse is seen by nobody
// who does not look for it, and a fire signal is not given to try a door in use.
func (f *Finder) amiss(row *meter.Row) float64 {
	most := 0.0
	for i := range f.book.Stops {
		if in := f.book.Stops[i].In; in.Power != meter.On || in.Act == meter.Fire {
			continue
		}
		is, sound := &row.Sights[i], &f.book.Sound.Sights[i]
		for what, yes := range is.Yes {
			if what != meter.FuseBlown {
				most = max(most, math.Abs(yes-sound.Yes[what]))
			}
		}
		if is.Number != sound.Number {
			most = 1
		}
	}
	return most
}
