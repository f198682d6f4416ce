package meter

import (
	"fmt"
	"slices"

	"doorwright/document"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// WithLoop is a site in which a run is as long as its measured loop says: the loop of its first two cores of one size,
// at 20 C.
func WithLoop(site *situation.Site, l Loop) (*situation.Site, error) {
	r, err := RunOf(site.Plan.Job, l.Run)
	if err != nil {
		return nil, err
	}
	run := *r
	if run.Pulled, err = LoopLength(r, l.Ohms); err != nil {
		return nil, err
	}
	j := *site.Plan.Job
	j.Runs = slices.Clone(j.Runs)
	j.Runs[slices.Index(j.Runs, r)] = &run
	return situation.New(wiring.Make(&j)), nil
}

// RunOf is the run of a job with an id.
func RunOf(j *job.Job, id string) (*job.Run, error) {
	known := make([]string, len(j.Runs))
	for i, r := range j.Runs {
		if r.ID == id {
			return r, nil
		}
		known[i] = r.ID
	}
	return nil, fmt.Errorf("%q %s", id, document.Unknown(id, "run", known))
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
