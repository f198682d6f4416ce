package main

import (
	"fmt"
	"slices"

	"doorwright/document"
	"doorwright/job"
	"doorwright/situation"
)

// unknown is the error about a name that is not among the known ones. It names the nearest.
func unknown(word, what string, known []string) error {
	return fmt.Errorf("%q %s", word, document.Unknown(word, what, known))
}

// findDoor is the door with an id; nil for no id.
func findDoor(j *job.Job, id string) (*job.Door, error) {
	if id == "" {
		return nil, nil
	}
	known := make([]string, len(j.Doors))
	for i, d := range j.Doors {
		if d.ID == id {
			return d, nil
		}
		known[i] = d.ID
	}
	return nil, unknown(id, "door", known)
}

func findCause(id string) (situation.Cause, error) {
	all := situation.Causes()
	i := slices.IndexFunc(all, func(c situation.Cause) bool { return c.ID == id })
	if i >= 0 {
		return all[i], nil
	}
	known := make([]string, len(all))
	for i, c := range all {
		known[i] = c.ID
	}
	return situation.Cause{}, unknown(id, "cause", known)
}

// findCase is the limit case of an island with a name; the nominal one for no name.
func findCase(is *situation.Island, name string) (situation.Case, error) {
	all := is.Cases()
	known := make([]string, len(all))
	for i, c := range all {
		if c.Name == name || name == "" {
			return c, nil
		}
		known[i] = c.Name
	}
	return situation.Case{}, unknown(name, "limit case", known)
}
