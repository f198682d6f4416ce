package journal

import (
	"doorwright/job"
	"doorwright/wiring"
)

// Teller says what entries of several jobs are about, with terminals as they are labelled in the present plan of each.
type Teller struct {
	state *State
	plans map[string]*wiring.Plan
}

// NewTeller makes one of a state. It is for one request: it plans each job that it is asked about, once.
func NewTeller(s *State) *Teller { return &Teller{s, map[string]*wiring.Plan{}} }

// Words says what an entry is about, in one line. Terminals of a job whose document has mistakes are told by their pins.
func (t *Teller) Words(e *Entry) string { return Words(e.Body, t.plan(e.Job())) }

func (t *Teller) plan(id string) *wiring.Plan {
	p, known := t.plans[id]
	if j := t.state.Job(id); !known && j != nil {
		if read, _ := job.Read(id, j.Document); read != nil {
			p = wiring.Make(read)
		}
	}
	t.plans[id] = p
	return p
}
