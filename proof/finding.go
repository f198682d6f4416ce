// Package proof puts a wiring plan through every cause and limit case and judges the requirements.
//
// It says what was shown by calculation and under which assumptions; it never says "safe". Every rule of a door's
// family appears for it as held, broken or not judged, with what a person must look at.
package proof

import (
	"fmt"
	"math"

	"doorwright/rules"
	"doorwright/situation"
	"doorwright/unit"
)

// Finding is a requirement that fails or has too little margin.
type Finding struct {
	Door        string       `json:"door"`            // id; empty when it is about a supply or the job
	Requirement string       `json:"requirement"`     // id of the requirement
	Rule        string       `json:"rule,omitempty"`  // id of the rule it breaks, such as R-21
	Severity    rules.Level  `json:"severity"`        // error or advice
	Where       string       `json:"where"`           // device, terminal, conductor or run
	What        string       `json:"what"`            // what is wrong, in one sentence
	Figure      float64      `json:"figure"`          // as computed, in Unit
	Limit       float64      `json:"limit"`           // what it is held against
	Margin      float64      `json:"margin"`          // how far the figure is on the good side; negative: beyond
	Unit        string       `json:"unit"`            // SI unit of the three; empty for counts and yes or no
	Cause       string       `json:"cause,omitempty"` // what happens when it shows
	Case        string       `json:"case,omitempty"`  // the limit case
	Idle        bool         `json:"idle,omitempty"`  // it is there while nothing happens, too, though less badly
	Why         string       `json:"why"`             // why it matters, in one sentence
	Source      rules.Source `json:"source"`
	Mends       []Mend       `json:"mends"` // filled by package mend, best first; empty: none found
	Subject     Subject      `json:"-"`     // for mends: what to change
}

// Key tells a finding apart from others: what is broken, and where.
func (f Finding) Key() string { return f.Door + "|" + f.Requirement + "|" + f.Where }

// Figures holds what was calculated against its limit, in words; nothing for a finding that is a plain yes or no.
func (f Finding) Figures(in unit.Measures) string {
	if f.Unit == "" && (f.Limit == 0 || f.Limit == 1) {
		return ""
	}
	side, by := "within it by", f.Margin
	if f.Margin < 0 {
		side, by = "beyond it by", -f.Margin
	}
	say := func(v float64) string { return quantity(v, f.Unit, in) }
	figure, limit := say(f.Figure), say(f.Limit)
	if f.Margin < 0 && figure == limit {
		figure = fmt.Sprintf("%.6g %s", f.Figure, f.Unit)
	}
	return fmt.Sprintf("%s, limit %s, %s %s", figure, limit, side, say(by))
}

// When says what happens when a finding shows worst, with the limit case where that is not the nominal one, behind that it is
// there already at rest where it is; nothing where it does not take anything to happen.
func (f Finding) When() string {
	when := f.Cause
	if f.Cause != "" && f.Case != "" && f.Case != situation.Nominal().Name {
		when += " (" + f.Case + ")"
	}
	if f.Idle && f.Cause != situation.NothingHappens {
		when = "already while " + situation.NothingHappens + "; worst: " + when
	}
	return when
}

// Mend is a change to the job that was proved to make a finding go and bring no new one, there or at a door alike.
type Mend struct {
	Text string   `json:"text"` // what to do, in one sentence
	Cost int      `json:"cost"` // rank: 1 a setting, 2 a small part, 3 a device, 4 a cable or supply; of two changes the sum
	Set  []Change `json:"set"`  // the change to the document

	// ProvedAt is the door that it was proved at, when that is another one that is wired alike; empty when it is this one.
	ProvedAt string `json:"proved_at,omitempty"`

	// Steps says the same as Text step by step where it takes two changes; empty where it takes one.
	Steps []string `json:"steps,omitempty"`
}

// Change sets one field of the job document.
type Change struct {
	Path  string `json:"path"`  // "runs.W3.cable"
	Value string `json:"value"` // as it is written in the document; empty: left out
}

// Subject names by id what a finding is about, for those who look for mends. Empty: nothing of that sort.
type Subject struct {
	Supply string
	Lock   string
	Run    string
	Device string
}

// Standing is how a rule stands at a door.
type Standing string

// The standings.
const (
	HeldRule  Standing = "held"
	Broken    Standing = "broken"
	NotJudged Standing = "not judged"
)

// RuleStanding is one rule of a door's family.
type RuleStanding struct {
	Rule     rules.Rule `json:"rule"`
	Standing Standing   `json:"standing"`
	LookAt   string     `json:"look_at,omitempty"` // what a person must look at, when it is not judged
}

// nothing is below what any meter at a door shows, in any unit: what leaks through open contacts in the calculation.
const nothing = 1e-6

// quantity writes a figure of a finding with its unit, lengths in the measures of the job and times as people say them.
func quantity(v float64, symbol string, m unit.Measures) string {
	if math.Abs(v) < nothing {
		v = 0
	}
	switch symbol {
	case "":
		return fmt.Sprintf("%.4g", v)
	case "m":
		return m.Length(unit.Metre(v))
	case "s":
		return unit.Second(v).String()
	case "A", "V":
		if v != 0 && math.Abs(v) < 0.001 {
			return fmt.Sprintf("%.3g m%s", 1000*v, symbol)
		}
	}
	return fmt.Sprintf("%.4g %s", v, symbol)
}
