package meter

import (
	"fmt"
	"slices"

	"doorwright/job"
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
		run := *r
		var err error
		if run.Pulled, err = LoopLength(r, l.Ohms); err != nil {
			return nil, err
		}
		j.Runs[i] = &run
		return situation.New(wiring.Make(&j)), nil
	}
	return nil, fmt.Errorf("%q is not a run of this job", l.Run)
}

// LoopLength is how long a run is by the measured loop of its first two cores, joined at the far end, at 20 C. It errs on what
// is no loop of it.
func LoopLength(r *job.Run, ohms unit.Ohm) (unit.Metre, error) {
	cores := r.Type.Cores()
	if len(cores) < 2 {
		return 0, fmt.Errorf("run %s has no two cores to make a loop of", r.ID)
	}
	const metre unit.Metre = 1
	each := cores[0].Conductor.Resistance(metre, 20).Nominal + cores[1].Conductor.Resistance(metre, 20).Nominal
	length := unit.Metre(ohms / each)
	if !(length > 0) || length > longestLoop {
		return 0, fmt.Errorf("%v is no loop of run %s: it would be %v long", ohms, r.ID, length)
	}
	return length, nil
}

// longestLoop is longer than any run of a door.
const longestLoop unit.Metre = 20e3
