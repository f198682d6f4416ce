package web

import (
	"sync"

	"doorwright/find"
)

// openings are the first questions at each door of each job, the last that were worked out. They outlast the document: a
// finder begins only with what was worked out for a plan that is the same as far as the door goes.
type openings struct {
	mu sync.Mutex
	by map[[2]string]*find.Opening // by job and door
}

// of is the opening of a door; nil while there is none.
func (o *openings) of(job, door string) *find.Opening {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.by[[2]string{job, door}]
}

func (o *openings) keep(job, door string, x *find.Opening) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.by == nil {
		o.by = map[[2]string]*find.Opening{}
	}
	o.by[[2]string{job, door}] = x
}
