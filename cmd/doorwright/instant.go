package main

import (
	"fmt"

	"doorwright/situation"
)

// instant says which moment of which door something was taken at.
type instant struct {
	Job   string `json:"job"`
	Door  string `json:"door"`
	Cause string `json:"cause"`
	Step  string `json:"step"` // what happened last
	Case  string `json:"case"`
}

// after puts a door's island through a cause, up to the last of its instants that are watched.
func (l *loaded) after(door, cause, limit string) (instant, *situation.Bench, error) {
	d, err := findDoor(l.job, door)
	if err != nil {
		return instant{}, nil, err
	}
	if d == nil {
		return instant{}, nil, fmt.Errorf("say which door, such as --door %s", l.job.Doors[0].ID)
	}
	c, err := findCause(cause)
	if err != nil {
		return instant{}, nil, err
	}
	island := situation.New(l.plan).Island(d.Controller.ID)
	k, err := findCase(island, limit)
	if err != nil {
		return instant{}, nil, err
	}
	steps := c.Steps(island, d)
	if len(steps) == 0 {
		return instant{}, nil, fmt.Errorf("%q (%s) cannot happen at door %s: it has nothing fitted for it", c.ID, c.Title, d.ID)
	}
	bench := island.Bench(k)
	at := instant{Job: l.job.ID, Door: d.ID, Cause: c.ID, Case: k.Name}
	for _, s := range steps[:lastWatched(steps)+1] {
		bench.Take(s)
		at.Step = s.Say
	}
	return at, bench, nil
}

// lastWatched is the place of the last step whose outcome the cause is about.
func lastWatched(steps []situation.Step) int {
	last := len(steps) - 1
	for i, s := range steps {
		if s.Watched {
			last = i
		}
	}
	return last
}
