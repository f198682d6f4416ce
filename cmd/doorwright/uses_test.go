package main

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// subjects are what a command has the choice of.
func subjects() map[string][]string {
	all := map[string][]string{}
	for _, p := range listings() {
		all["show"] = append(all["show"], p.name)
	}
	for _, d := range drawings() {
		all["draw"] = append(all["draw"], d.name)
	}
	for _, p := range outputs() {
		all["paper"] = append(all["paper"], p.name)
	}
	return all
}

// Every option of a command that has subjects is taken by those that use it and refused by all others, before any file is read.
func TestOptionsBelongToTheirSubjects(t *testing.T) {
	parser, err := kong.New(&grammar{})
	if err != nil {
		t.Fatal(err)
	}
	refused, of := 0, subjects()
	for _, n := range parser.Model.Children {
		for _, f := range n.Flags {
			users := usedBy(f)
			for _, u := range users {
				if !slices.Contains(of[n.Name], u) {
					t.Errorf("%s --%s is used by %q, which is no subject of it", n.Name, f.Name, u)
				}
			}
			for _, subject := range of[n.Name] {
				var stdout, stderr bytes.Buffer
				code := run(slices.Concat([]string{n.Name, subject, "absent.yaml"}, onTheLine(f)), strings.NewReader(""), &stdout, &stderr)
				said := strings.Join(strings.Fields(stderr.String()), " ")
				wrong := len(users) > 0 && !slices.Contains(users, subject)
				if refusal := "--" + f.Name + " belongs to " + n.Name + " "; code != exitUnusable || strings.Contains(said, refusal) != wrong || wrong == strings.Contains(said, "absent.yaml") {
					t.Errorf("%s %s --%s: %d, %q", n.Name, subject, f.Name, code, said)
				}
				if wrong {
					refused++
				}
			}
		}
	}
	if refused < 60 {
		t.Errorf("only %d were refused", refused)
	}
}

// onTheLine is an option with a value that its form allows.
func onTheLine(f *kong.Flag) []string {
	switch {
	case f.IsBool():
		return []string{"--" + f.Name}
	case f.Enum != "":
		return []string{"--" + f.Name, f.EnumSlice()[0]}
	}
	return []string{"--" + f.Name, "1"}
}
