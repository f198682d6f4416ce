package main

import (
	"strconv"

	"doorwright/proof"
	"doorwright/rules"
)

// ruleDoors is how every rule of every door stands.
type ruleDoors struct {
	Job     string           `json:"job"`
	Doors   []ruleDoor       `json:"doors"`
	Clashes []rules.Conflict `json:"conflicts"`
}

// ruleDoor is one door of it.
type ruleDoor struct {
	Name   string               `json:"name"`
	Title  string               `json:"title"`
	Family string               `json:"family"`
	Rules  []proof.RuleStanding `json:"rules"`
}

func ruleSheet(v *view) (sheet, error) { return rulesOf(v), nil }

func rulesOf(v *view) ruleDoors {
	s := ruleDoors{Job: v.job.ID, Doors: []ruleDoor{}, Clashes: append([]rules.Conflict{}, v.examined().Conflicts...)}
	for _, d := range v.examined().Doors {
		if v.wants(d.Door.ID) {
			s.Doors = append(s.Doors, ruleDoor{d.Door.ID, d.Door.Title, d.Family.Title, d.Rules})
		}
	}
	return s
}

func (s ruleDoors) text(p *page) {
	p.title("RULES " + s.Job)
	for _, d := range s.Doors {
		p.gap()
		p.title("DOOR " + d.Name + ": " + d.Title)
		p.say(0, plain, "Judged by: "+d.Family)
		for _, r := range d.Rules {
			d.rule(p, r)
		}
	}
	s.conflicts(p)
	p.gap()
	p.say(0, plain, rules.Caution)
}

func (d ruleDoor) rule(p *page, r proof.RuleStanding) {
	style := plain
	word := "held"
	switch r.Standing {
	case proof.Broken:
		style, word = red, "BROKEN"
	case proof.NotJudged:
		style, word = yellow, "not judged"
	}
	p.hang(2, word, style, r.Rule.ID+" "+r.Rule.Title, 14)
	if r.LookAt != "" {
		p.say(14, dim, "Look at: "+r.LookAt)
	}
}

// conflicts names what the families of a job ask differently.
func (s ruleDoors) conflicts(p *page) {
	if len(s.Clashes) == 0 {
		return
	}
	p.gap()
	p.title("RULES THAT ASK DIFFERENT THINGS")
	for _, c := range s.Clashes {
		p.say(2, bold, c.Title)
		p.say(4, plain, c.A.Family+": "+c.A.Text)
		p.say(4, plain, c.B.Family+": "+c.B.Text)
		p.say(4, plain, c.Settles)
	}
}

// counts writes how many rules are held, broken and not judged, door by door.
func (s ruleDoors) counts(p *page) {
	t := table{head: []string{"door", ">held", ">broken", ">not judged", "judged by"}}
	for _, d := range s.Doors {
		n := map[proof.Standing]int{}
		for _, r := range d.Rules {
			n[r.Standing]++
		}
		t.add(d.Name, strconv.Itoa(n[proof.HeldRule]), strconv.Itoa(n[proof.Broken]), strconv.Itoa(n[proof.NotJudged]), d.Family)
	}
	p.table(2, t)
}

func (s ruleDoors) table() table {
	t := table{head: []string{"door", "rule", "title", "level", "standing", "look_at"}}
	for _, d := range s.Doors {
		for _, r := range d.Rules {
			t.add(d.Name, r.Rule.ID, r.Rule.Title, r.Rule.Level.String(), string(r.Standing), r.LookAt)
		}
	}
	return t
}
