package main

import (
	"fmt"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/standby"
)

// proofReport is the whole of what prove says.
type proofReport struct {
	Job         string           `json:"job"`
	Title       string           `json:"title"`
	Around      string           `json:"around,omitempty"` // the door with which alone what shares copper was examined
	Findings    []finding        `json:"findings"`
	Doors       []proofDoor      `json:"doors"`
	Assumptions []job.Assumption `json:"assumptions"`
	Conflicts   []rules.Conflict `json:"conflicts"`
	Counts      proof.Counts     `json:"counts"`
	Faults      []faultDoor      `json:"fault_counts"`
	LeftOut     []string         `json:"left_out"`
	Caution     string           `json:"caution"`

	view  *view
	rules bool
}

// proofDoor is one door of it.
type proofDoor struct {
	Name    string               `json:"name"`
	Title   string               `json:"title"`
	Family  string               `json:"family"`
	Effects []effect             `json:"effects"`
	Rules   []proof.RuleStanding `json:"rules"`
}

func proofSheet(v *view, rulesToo bool) sheet {
	x := v.examined()
	r := proofReport{
		Job: v.job.ID, Title: v.job.Title, Findings: findingsOf(v).Findings, Doors: []proofDoor{},
		Assumptions: assumptionsOf(v).Assumptions, Conflicts: append([]rules.Conflict{}, x.Conflicts...), Counts: x.Counts,
		LeftOut: x.Left, Caution: rules.Caution, view: v, rules: rulesToo,
	}
	if x.Partial() {
		r.Around = v.door.ID
	}
	r.Faults = []faultDoor{}
	if v.faults != notAsked {
		r.Faults = faultsOf(v).Counts
	}
	for _, d := range x.Doors {
		if v.wants(d.Door.ID) {
			r.Doors = append(r.Doors, proofDoor{d.Door.ID, d.Door.Title, d.Family.Title, effectsOf(d.Matrix), d.Rules})
		}
	}
	return r
}

func (r proofReport) text(p *page) {
	r.opening(p)
	p.gap()
	p.title("FINDINGS")
	findingsOf(r.view).list(p)
	p.gap()
	p.title("CAUSE AND EFFECT")
	m := matrixOf(r.view)
	m.legend(p)
	m.block(p, combinations()[0])
	p.gap()
	p.say(0, plain, `Each was also combined with a fire signal and with the manual release: "show matrix".`)
	if r.view.faults != notAsked {
		p.gap()
		p.title("FAULTS")
		faultsOf(r.view).summary(p)
		p.gap()
		p.say(0, plain, `"show faults" lists each, with an id for "netlist" and "show nodes".`)
	}
	p.gap()
	r.standing(p)
	p.gap()
	p.title("ASSUMED")
	assumptionsOf(r.view).short(p)
	p.gap()
	r.closing(p)
}

func (r proofReport) opening(p *page) {
	p.title(r.Job + ": " + r.Title)
	p.say(0, plain, fmt.Sprintf("%s, %s, %s. Put through %d situations, %d instants solved.",
		counted(len(r.view.job.Doors), "door"), counted(len(r.view.plan.Devices), "device"), counted(len(r.view.plan.Conductors), "conductor"),
		r.Counts.Situations, r.Counts.Solved))
	if r.Around != "" {
		p.say(0, plain, fmt.Sprintf("Only %s and what shares copper with it was examined, %s in all; without --door, the whole job is.",
			r.Around, counted(len(r.view.examined().Doors), "door")))
	}
}

// standing says how the rules stand.
func (r proofReport) standing(p *page) {
	s := rulesOf(r.view)
	if r.rules {
		s.text(p)
		return
	}
	p.title("RULES")
	s.counts(p)
	s.conflicts(p)
	p.say(0, plain, `"show rules" lists each, and what a person must look at where it is not judged.`)
}

// closing says what was not tried, that this is an aid only, and what it came to.
func (r proofReport) closing(p *page) {
	p.title("NOT TRIED")
	for _, s := range r.LeftOut {
		p.hang(2, "-", plain, s, 4)
	}
	if len(r.view.examined().Standby) > 0 {
		p.hang(2, "-", plain, standby.Label, 4)
	}
	p.gap()
	p.say(0, plain, r.Caution)
	p.gap()
	where := overAll
	if r.Around != "" {
		where = fmt.Sprintf("over %s, with %s", counted(len(r.view.examined().Doors), "door"), r.Around)
	}
	p.say(0, bold, closingLine(r.Counts, where))
}

const overAll = "over all doors"

// closingLine is the last line of a proof: what was found, and how the rules stand over which doors.
func closingLine(c proof.Counts, where string) string {
	found := counted(c.Errors, "error")
	if c.Errors == 0 {
		found = "No error found by calculation"
	}
	advice := counted(c.Advice, "piece") + " of advice"
	if c.Advice == 0 {
		advice = "no advice"
	}
	return fmt.Sprintf("%s, %s. Rules %s: %d held, %d broken, %d not judged.",
		found, advice, where, c.Held, c.Broken, c.NotJudged)
}

func (r proofReport) table() table { return findingsOf(r.view).table() }

// sarif gives the findings.
func (r proofReport) sarif() any { return findingsOf(r.view).sarif() }
