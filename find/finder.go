package find

import (
	"fmt"

	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
)

// Finder keeps what was read at one door and what it speaks for.
type Finder struct {
	site  *situation.Site
	door  *job.Door
	meter meter.Meter
}

// New makes a finder of a door.
func New(site *situation.Site, door string, m meter.Meter) (*Finder, error) {
	for _, d := range site.Plan.Job.Doors {
		if d.ID == door {
			return &Finder{site: site, door: d, meter: m}, nil
		}
	}
	return nil, fmt.Errorf("%q is not a door of this job", door)
}

// Add enters a reading. It errs on a terminal or condition that the door does not have.
func (f *Finder) Add(r meter.Reading) error { return nil }

// See enters an observation.
func (f *Finder) See(o meter.Observation) error { return nil }

// Loop enters a measured loop resistance of a run.
func (f *Finder) Loop(l meter.Loop) error { return nil }

// Mend says that a fault was found and mended. All readings taken before are forgotten: measure again.
func (f *Finder) Mend(faultID string) error { return nil }

// Suspects are the groups, likeliest first.
func (f *Finder) Suspects() []Group { return nil }

// Next is what to read or look at next; nil when nothing tells the suspects apart any further.
func (f *Finder) Next(rule Rule) *Next { return nil }

// Candidates are all pairs that may be suggested.
func (f *Finder) Candidates() []meter.Pair { return nil }

// Effort is what it takes to take a reading where and as the door stands after the last one.
func (f *Finder) Effort(p meter.Pair) float64 { return 1 }
