package meter

import (
	"fmt"
	"slices"

	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// WithLoop is a site in which a run is as long as its measured loop says: the loop of its first two cores of one size,
// at 20 C.
func WithLoop(site *situation.Site, l Loop) (*situation.Site, error) {
	j := *site.Plan.Job
	j.Runs = slices.Clone(j.Runs)
	for i, r := range j.Runs {
		if r.ID != l.Run {
			continue
		}
		cores := r.Type.Cores()
		if len(cores) < 2 {
			return nil, fmt.Errorf("run %s has no two cores to make a loop of", l.Run)
		}
		const metre unit.Metre = 1
		each := cores[0].Conductor.Resistance(metre, 20).Nominal + cores[1].Conductor.Resistance(metre, 20).Nominal
		run := *r
		run.Pulled = unit.Metre(l.Ohms / each)
		if !(run.Pulled > 0) || run.Pulled > longestLoop {
			return nil, fmt.Errorf("%v is no loop of run %s: it would be %v long", l.Ohms, l.Run, run.Pulled)
		}
		j.Runs[i] = &run
		return situation.New(wiring.Make(&j)), nil
	}
	return nil, fmt.Errorf("%q is not a run of this job", l.Run)
}

// longestLoop is longer than any run of a door.
const longestLoop unit.Metre = 20e3
