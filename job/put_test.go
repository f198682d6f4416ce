package job

import (
	"slices"
	"testing"

	"doorwright/document"
)

func TestPutWritesAsAPersonWould(t *testing.T) {
	for _, c := range []struct {
		name, was, value, want string
		path                   []string
	}{
		{"a model in place of another", "doors: {a: {locks: [{model: x, handle: frees}]}}", "m", "{locks: [{model: m, handle: frees}]}\n", []string{"doors", "a", "locks", "1", "model"}},
		{"a device written as its model", "doors: {a: {entry: x}}", "m", "{entry: m}\n", []string{"doors", "a", "entry", "model"}},
		{"the first of a list", "doors: {a: {title: t}}", "m", "{title: t, exit: [m]}\n", []string{"doors", "a", "exit", "1", "model"}},
		{"one more of a list", "doors: {a: {exit: [x]}}", "m", "{exit: [x, m]}\n", []string{"doors", "a", "exit", "2", "model"}},
		{"a device taken out", "doors: {a: {exit: [x, z]}}", "", "{exit: [z]}\n", []string{"doors", "a", "exit", "1", "model"}},
		{"a text that looks like something else", "doors: {a: {title: t}}", "yes: no", "{title: 'yes: no'}\n", []string{"doors", "a", "title"}},
		{"a list of words", "doors: {a: {title: t}}", "uk-b, eu-en", "{title: t, rules: [uk-b, eu-en]}\n", []string{"doors", "a", "rules"}},
		{"a yes", "doors: {a: {title: t}}", "yes", "{title: t, fire-rated: yes}\n", []string{"doors", "a", "fire-rated"}},
	} {
		tree, err := document.ReadTree([]byte(c.was))
		if err != nil {
			t.Fatal(err)
		}
		if err := Put(tree, c.path, c.value); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got, err := tree.Get("doors", "a"); err != nil || got != c.want {
			t.Errorf("%s: %q, %v, want %q", c.name, got, err, c.want)
		}
	}
}

// The name of a run may have dots of its own.
func TestPathOfARun(t *testing.T) {
	for text, want := range map[string][]string{
		"doors.D1.locks.1.feed":      {"doors", "D1", "locks", "1", "feed"},
		"runs.W3.cable":              {"runs", "W3", "cable"},
		"runs.W3.passes.1.side":      {"runs", "W3", "passes", "1", "side"},
		"runs.D1.in.p":               {"runs", "D1.in.p"},
		"runs.D1.in.p.cable":         {"runs", "D1.in.p", "cable"},
		"runs.D1.in.p.passes.2.side": {"runs", "D1.in.p", "passes", "2", "side"},
		"runs.W3":                    {"runs", "W3"},
		"runs":                       {"runs"},
	} {
		if got := Path(text); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}

// What ends at the board of a supply may be left out, the supply itself may not: its model is a text like any other.
func TestPutAtASupply(t *testing.T) {
	for _, c := range []struct {
		name, was, value, want string
		path                   []string
	}{
		{"another supply", "supplies: {PS1: {model: x}}", "m", "{model: m}\n", []string{"supplies", "PS1", "model"}},
		{"a fire signal", "supplies: {PS1: {model: x}}", "m", "{model: x, fire: m}\n", []string{"supplies", "PS1", "fire", "model"}},
		{"no fire signal", "supplies: {PS1: {model: x, fire: m}}", "", "{model: x}\n", []string{"supplies", "PS1", "fire", "model"}},
	} {
		tree, err := document.ReadTree([]byte(c.was))
		if err == nil {
			err = Put(tree, c.path, c.value)
		}
		got, e := tree.Get("supplies", "PS1")
		if err != nil || e != nil || got != c.want {
			t.Errorf("%s: %q, %v, %v, want %q", c.name, got, err, e, c.want)
		}
	}
}
