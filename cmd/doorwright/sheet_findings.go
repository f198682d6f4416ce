package main

import (
	"slices"
	"strconv"
	"strings"

	"doorwright/document"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/rules"
)

// findings is what fails or has too little margin.
type findings struct {
	Job      string    `json:"job"`
	Findings []finding `json:"findings"`
	source   *loaded
	mends    bool // mends were looked for
	faults   bool // single faults were tried
}

// finding is one of them, as programs get it: figures that are no finite numbers are null, and there is always a list
// of mends.
type finding struct {
	proof.Finding
	Figure number       `json:"figure"`
	Limit  number       `json:"limit"`
	Margin number       `json:"margin"`
	Mends  []proof.Mend `json:"mends"`
}

func findingOf(x proof.Finding) finding {
	return finding{x, number(x.Figure), number(x.Limit), number(x.Margin), append([]proof.Mend{}, x.Mends...)}
}

func findingSheet(v *view) (sheet, error) { return findingsOf(v), nil }

func findingsOf(v *view) findings {
	f := findings{Job: v.job.ID, Findings: []finding{}, source: v.loaded, mends: v.mends, faults: v.faults >= proof.SingleFaults}
	for _, x := range v.examined().Findings {
		if v.wants(x.Door) {
			f.Findings = append(f.Findings, findingOf(x))
		}
	}
	return f
}

func (f findings) text(p *page) {
	p.title("FINDINGS " + f.Job)
	f.list(p)
}

// list writes the findings one by one: what is wrong, by how much, when, why it matters, and what mends it.
func (f findings) list(p *page) {
	switch {
	case !f.faults && len(f.Findings) == 0:
		p.say(0, plain, "None by calculation; single faults not tried.")
	case !f.faults:
		p.say(0, plain, "Single faults not tried.")
	case len(f.Findings) == 0:
		p.say(0, plain, "None by calculation.")
	}
	for _, x := range f.Findings {
		p.gap()
		word, s := "ERROR", red
		if x.Severity == rules.Advice {
			word, s = "ADVICE", yellow
		}
		p.label(0, word, s, heading(x.Finding))
		p.say(2, plain, sentence(x.What))
		if text := x.Figures(f.source.job.Measures); text != "" {
			p.say(2, plain, "Calculated "+text+".")
		}
		if x.Cause != "" {
			p.hang(2, "When:", bold, x.When(), 9)
		}
		p.hang(2, "Why:", bold, x.Why, 9)
		f.mending(p, x.Finding)
		p.say(2, dim, "Source: "+x.Source.String())
	}
}

// heading names the door, the requirement and the rule.
func heading(x proof.Finding) string {
	var parts []string
	if x.Door != "" {
		parts = append(parts, "door "+x.Door+":")
	}
	parts = append(parts, mend.TitleOf(x.Requirement))
	if x.Rule != "" {
		parts = append(parts, "("+x.Rule+")")
	}
	return strings.Join(parts, " ")
}

// sentence gives text a capital and a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	first, _, _ := strings.Cut(s, " ")
	if !strings.ContainsAny(first, ".0123456789_-") {
		s = strings.ToUpper(s[:1]) + s[1:]
	}
	return strings.TrimSuffix(s, ".") + "."
}

// mending lists what mends a finding, best first.
func (f findings) mending(p *page, x proof.Finding) {
	if !f.mends {
		return
	}
	switch {
	case x.Mends == nil:
		p.hang(2, "Mend:", bold, "not looked for: the run was stopped.", 9)
		return
	case len(x.Mends) == 0:
		p.hang(2, "Mend:", bold, "none found.", 9)
		return
	}
	for i, m := range x.Mends {
		word := "Mend:"
		if i > 0 {
			word = "  or:"
		}
		if m.Steps == nil {
			p.hang(2, word, bold, sentence(m.Text), 9)
		} else {
			p.hang(2, word, bold, "Two changes together:", 9)
			for n, step := range m.Steps {
				p.hang(9, strconv.Itoa(n+1)+".", bold, sentence(step), 12)
			}
		}
		if m.ProvedAt != "" {
			p.say(11, dim, "proved at "+m.ProvedAt+", which is wired alike; prove it here before it is done")
		}
		for _, c := range lasting(m.Set) {
			p.say(11, dim, "set "+c.Path+": "+orLeftOut(c.Value))
		}
	}
}

// lasting drops the changes that a later one takes back: of the same place, or of one that holds it.
func lasting(all []proof.Change) []proof.Change {
	var last []proof.Change
	for i, c := range all {
		if !slices.ContainsFunc(all[i+1:], func(later proof.Change) bool {
			return c.Path == later.Path || strings.HasPrefix(c.Path, later.Path+".")
		}) {
			last = append(last, c)
		}
	}
	return last
}

func orLeftOut(value string) string {
	if value == "" {
		return "(left out)"
	}
	return document.Flow(value)
}

func (f findings) table() table {
	t := table{head: []string{
		"severity", "door", "requirement", "rule", "where", "what", "figure", "limit", "margin", "unit", "cause",
		"limit_case", "why", "source", "mends",
	}}
	for _, x := range f.Findings {
		var mends []string
		for _, m := range x.Mends {
			mends = append(mends, m.Text)
		}
		t.add(x.Severity.String(), x.Door, x.Requirement, x.Rule, x.Where, x.What, x.Figure.String(),
			x.Limit.String(), x.Margin.String(), x.Unit, x.Cause, x.Case, x.Why, x.Source.String(),
			strings.Join(mends, "; "))
	}
	return t
}
