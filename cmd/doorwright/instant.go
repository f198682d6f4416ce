package main

import (
	"fmt"

	"doorwright/fault"
	"doorwright/situation"
)

// instant says which moment of which door something was taken at.
type instant struct {
	Job   string `json:"job"`
	Door  string `json:"door"`
	Cause string `json:"cause"`
	Step  string `json:"step"` // what happened last
	Case  string `json:"case"`
	Fault string `json:"fault,omitempty"`
}

// after puts a door's island through a cause, up to the last of its instants that are watched.
func (l *loaded) after(door, cause, limit, faultID string) (instant, *situation.Bench, error) {
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
	site := situation.New(l.plan)
	island := site.Island(d.Controller.ID)
	var f *fault.Fault
	if faultID != "" {
		if f, err = l.findFault(d.ID, faultID); err != nil {
			return instant{}, nil, err
		}
		island = site.IslandOf(f)
	}
	k, err := findCase(island, limit)
	if err != nil {
		return instant{}, nil, err
	}
	steps := c.Steps(island, d)
	if len(steps) == 0 {
		return instant{}, nil, fmt.Errorf("%q (%s) cannot happen at door %s: it has nothing fitted for it", c.ID, c.Title, d.ID)
	}
	bench := island.FaultyBench(k, f)
	at := instant{Job: l.job.ID, Door: d.ID, Cause: c.ID, Case: k.Name, Fault: faultID}
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

// findFault finds a fault of a door, of what it shares, or of what can be done to it from outside.
func (l *loaded) findFault(door, id string) (*fault.Fault, error) {
	catalogue := fault.New(l.plan)
	for _, list := range [][]fault.Fault{catalogue.Of(door), catalogue.Of(""), catalogue.Attacks(door)} {
		for i := range list {
			if list[i].ID == id {
				return &list[i], nil
			}
		}
	}
	return nil, fmt.Errorf("door %s has no fault %q; \"show faults\" lists them", door, id)
}

// withFault is the end of a title.
func withFault(id string) string {
	if id == "" {
		return ""
	}
	return "; fault " + id
}
