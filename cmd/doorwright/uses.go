package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// given lists the options that stand on the command line, each once.
func given(c *kong.Context) []*kong.Flag {
	var all []*kong.Flag
	for _, p := range c.Path {
		if p.Flag != nil && !slices.Contains(all, p.Flag) {
			all = append(all, p.Flag)
		}
	}
	return all
}

// gave says whether an option was given, by its name.
func (e *env) gave(name string) bool {
	return slices.ContainsFunc(e.given, func(f *kong.Flag) bool { return f.Name == name })
}

// usedBy lists the subjects of its command that use an option, from its tag "of"; none when all do.
func usedBy(f *kong.Flag) []string {
	if of := f.Tag.Get("of"); of != "" {
		return strings.Split(of, ",")
	}
	return nil
}

// fits says which options were given that a subject of a command does not use, and which subjects do.
func (e *env) fits(command, subject string) error {
	var wrong []error
	for _, f := range e.given {
		users := usedBy(f)
		if len(users) == 0 || slices.Contains(users, subject) {
			continue
		}
		wrong = append(wrong, fmt.Errorf("--%s belongs to %s %s; %s %s does not use it", f.Name, command, listed(users), command, subject))
	}
	return errors.Join(wrong...)
}

// listed writes "a", "a and b", "a, b and c".
func listed(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
