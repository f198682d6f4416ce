package main

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
)

// assumptions is what a document left out.
type assumptions struct {
	Job         string           `json:"job"`
	Assumptions []job.Assumption `json:"assumptions"`
}

func assumptionSheet(v *view) (sheet, error) { return assumptionsOf(v), nil }

func assumptionsOf(v *view) assumptions {
	a := assumptions{Job: v.job.ID, Assumptions: []job.Assumption{}}
	for _, s := range v.job.Assumed {
		if v.concerns(s.Where) {
			a.Assumptions = append(a.Assumptions, s)
		}
	}
	return a
}

// concerns says whether a path of the document bears on the door that was asked for. What is of no
// door bears on all, but of supplies and runs only those that serve the door.
func (v *view) concerns(path string) bool {
	section, rest, _ := strings.Cut(path, ".")
	switch section {
	case "doors":
		id, _, _ := strings.Cut(rest, ".")
		return v.wants(id)
	case "supplies":
		id, _, _ := strings.Cut(rest, ".")
		return v.door == nil || slices.ContainsFunc(v.suppliesOf(), func(s *job.Supply) bool { return s.ID == id })
	case "runs":
		for _, r := range v.job.Runs {
			if rest == r.ID || strings.HasPrefix(rest, r.ID+".") {
				return v.wantsRun(r)
			}
		}
	}
	return true
}

func (a assumptions) text(p *page) {
	p.title("ASSUMED " + a.Job)
	a.list(p)
}

// list writes what bears on life one by one, and the rest with equal ones together.
func (a assumptions) list(p *page) {
	if len(a.Assumptions) == 0 {
		p.say(0, plain, "Nothing: the document states it all.")
		return
	}
	for _, s := range a.Assumptions {
		if s.Life {
			p.label(2, "BEARS ON LIFE", yellow, s.Where+": "+s.Text)
		}
	}
	t := table{}
	for _, g := range a.alike() {
		t.head = []string{"where", "what was done"}
		t.add(g.where, g.text)
	}
	p.table(2, t)
}

// short writes what bears on life one by one and only counts the rest.
func (a assumptions) short(p *page) {
	life := assumptions{Job: a.Job}
	for _, s := range a.Assumptions {
		if s.Life {
			life.Assumptions = append(life.Assumptions, s)
		}
	}
	if len(life.Assumptions) == 0 {
		p.say(0, plain, "Nothing that bears on life: the document states it all.")
	} else {
		life.list(p)
	}
	if n := len(a.Assumptions) - len(life.Assumptions); n > 0 {
		p.say(0, plain, fmt.Sprintf(`%s taken besides: "show assumptions".`, counted(n, "default")))
	}
}

// likeness is one assumption, made in one or several places.
type likeness struct {
	where, key, text string
	count            int
}

// alike puts together the assumptions that say the same about the same key.
func (a assumptions) alike() []likeness {
	var all []likeness
	for _, s := range a.Assumptions {
		if s.Life {
			continue
		}
		key := pattern(s.Where)
		if i := seek(all, key, s.Text); i >= 0 {
			all[i].count++
			continue
		}
		all = append(all, likeness{s.Where, key, s.Text, 1})
	}
	for i := range all {
		if all[i].count > 1 {
			all[i].where = fmt.Sprintf("%s (%d times)", all[i].key, all[i].count)
		}
	}
	return all
}

func seek(all []likeness, key, text string) int {
	for i, l := range all {
		if l.key == key && l.text == text {
			return i
		}
	}
	return -1
}

// pattern is a path with a star in place of the name in it: "doors.*.settings.unlock-for".
func pattern(path string) string {
	parts := strings.Split(path, ".")
	if len(parts) < 3 {
		return path
	}
	for i, part := range parts {
		if i == 1 || strings.Trim(part, "0123456789") == "" {
			parts[i] = "*"
		}
	}
	return strings.Join(parts, ".")
}

func (a assumptions) table() table {
	t := table{head: []string{"where", "text", "bears_on_life"}}
	for _, s := range a.Assumptions {
		t.add(s.Where, s.Text, fmt.Sprint(s.Life))
	}
	return t
}
