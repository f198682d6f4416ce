package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"doorwright/draw"
	"doorwright/job"
	"doorwright/situation"
)

// supplyDrawing draws the tree of a supply after a cause at one of its doors.
func supplyDrawing(v *view) (*draw.Sheet, error) {
	s, err := v.supplyNamed()
	if err != nil {
		return nil, err
	}
	at, err := v.instantOf(s)
	if err != nil {
		return nil, err
	}
	return draw.SupplyTree(v.plan, s, at, 0)[0], nil
}

// supplyNamed finds the supply that was asked for: the one named, that of the door, or the only one.
func (v *view) supplyNamed() (*job.Supply, error) {
	var known []string
	for _, s := range v.job.Supplies {
		if s.ID == v.supply {
			return s, nil
		}
		known = append(known, s.ID)
	}
	switch {
	case v.supply != "":
		return nil, unknown(v.supply, "supply", known)
	case v.door != nil:
		if of := v.suppliesOf(); len(of) > 0 {
			return of[0], nil
		}
	case len(known) == 1:
		return v.job.Supplies[0], nil
	}
	if len(known) == 0 {
		return nil, fmt.Errorf("the job has no supply")
	}
	return nil, fmt.Errorf("say which supply, such as --supply %s", known[0])
}

// instantOf puts the island of a supply through the cause that was asked for, at the door that was, or at the first that
// the supply feeds.
func (v *view) instantOf(s *job.Supply) (draw.Instant, error) {
	island := situation.New(v.plan).Island(s.ID)
	k, err := findCase(island, v.limit)
	if err != nil {
		return draw.Instant{}, err
	}
	c, err := findCause(v.cause)
	if err != nil {
		return draw.Instant{}, err
	}
	at := draw.Instant{Island: island, Bench: island.Bench(k), Say: fmt.Sprintf("%s; limit case: %s", c.Title, k.Name)}
	door := v.door
	if door == nil && len(island.Doors) > 0 {
		door = island.Doors[0]
	}
	switch {
	case door == nil && c.ID == "idle":
		return at, nil
	case door == nil:
		return draw.Instant{}, fmt.Errorf("%q (%s) cannot happen at %s: no door hangs on it", c.ID, c.Title, s.ID)
	case !slices.Contains(island.Doors, door):
		return draw.Instant{}, fmt.Errorf("door %s shares no copper with %s; doors that do: %s", door.ID, s.ID, doorsOf(island))
	}
	steps := c.Steps(island, door)
	if len(steps) == 0 {
		return draw.Instant{}, fmt.Errorf("%q (%s) cannot happen at door %s: it has nothing fitted for it", c.ID, c.Title, door.ID)
	}
	last, err := stepOf(c, steps, v.step)
	if err != nil {
		return draw.Instant{}, err
	}
	for _, step := range steps[:last+1] {
		at.Bench.Take(step)
	}
	if c.ID != "idle" {
		at.Say = fmt.Sprintf("%s at door %s; limit case: %s", steps[last].Say, door.ID, k.Name)
	}
	return at, nil
}

// doorsOf names the doors of an island; "none" where there are none.
func doorsOf(is *situation.Island) string {
	var ids []string
	for _, d := range is.Doors {
		ids = append(ids, d.ID)
	}
	return cmp.Or(strings.Join(ids, ", "), "none")
}
