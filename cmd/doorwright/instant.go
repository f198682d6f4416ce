package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorwright/fault"
	"doorwright/situation"
)

// instant says which moment of which door something was taken at.
type instant struct {
	Job   string `json:"job"`
	Door  string `json:"door"`
	Cause string `json:"cause"`
	Step  string `json:"step"` // what happened last
	// Steps are all steps of the cause in their order, and Number is the place of this one, counted from 1.
	Steps  []string `json:"steps"`
	Number int      `json:"number"`
	Case   string   `json:"case"`
	Fault  string   `json:"fault,omitempty"`
}

// after puts a door's island through a cause, up to the step that was asked for.
func (l *loaded) after(door, cause, step, limit, faultID string) (instant, *situation.Bench, error) {
	d, err := oneDoor(l.job, door)
	if err != nil {
		return instant{}, nil, err
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
	last, err := stepOf(c, steps, step)
	if err != nil {
		return instant{}, nil, err
	}
	bench := island.FaultyBench(k, f)
	for _, s := range steps[:last+1] {
		bench.Take(s)
	}
	return instant{
		Job: l.job.ID, Door: d.ID, Cause: c.ID, Step: steps[last].Say, Steps: saysOf(steps), Number: last + 1, Case: k.Name, Fault: faultID,
	}, bench, nil
}

// stepOf is the place of the step that was asked for, by its number or its name. Without one it is where the cause acts:
// the first step that is watched. Of what follows a fire signal that would be the fire signal itself, so there it is the last.
func stepOf(c situation.Cause, steps []situation.Step, asked string) (int, error) {
	if asked != "" {
		for i, s := range steps {
			if asked == strconv.Itoa(i+1) || strings.EqualFold(asked, s.Say) {
				return i, nil
			}
		}
		return 0, fmt.Errorf("%s (%s) has no step %q; its steps: %s", c.ID, c.Title, asked, numbered(saysOf(steps), 0))
	}
	acts := len(steps) - 1
	for i, s := range slices.Backward(steps) {
		if s.Watched {
			acts = i
			if strings.HasPrefix(c.ID, "fire-") {
				break
			}
		}
	}
	return acts, nil
}

func saysOf(steps []situation.Step) []string {
	var all []string
	for _, s := range steps {
		all = append(all, s.Say)
	}
	return all
}

// numbered lists steps with their numbers, all but one.
func numbered(steps []string, but int) string {
	var all []string
	for i, s := range steps {
		if i+1 != but {
			all = append(all, fmt.Sprintf("%d: %s", i+1, s))
		}
	}
	return strings.Join(all, "; ")
}

// place says which step of the cause this is, and which others there are.
func (at instant) place() string {
	if len(at.Steps) == 1 {
		return "cause " + at.Cause
	}
	return fmt.Sprintf("step %d of %d of cause %s; with --step %s", at.Number, len(at.Steps), at.Cause, numbered(at.Steps, at.Number))
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
