package proof

import (
	"doorwright/fault"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// Result is what the proof of a job came to.
type Result struct {
	Job       *job.Job
	Plan      *wiring.Plan
	Site      *situation.Site
	Doors     []DoorResult // in the order of the job; of a proof around some doors those that share copper with them
	Findings  []Finding    // errors first, then by door in the order of the job
	Loads     []Load
	Counts    Counts
	Conflicts []rules.Conflict
	Faults    *FaultReport // what the faults came to; nil while none were tried
	Left      []string     // what the model leaves out, in sentences

	catalogue func() (*fault.Catalogue, []fault.Fault) // of the plan, and what its doors share: made once, when first asked for
}

// DoorResult is one door's part of the result.
type DoorResult struct {
	Door     *job.Door
	Family   rules.Family // all that apply, the stricter of each taken
	Rules    []RuleStanding
	Matrix   []Row
	Standby  bool // the standby hours of its supplies were judged
	Recharge bool // so was how soon their batteries are charged again

	Restless bool // what it shares copper with did not come to rest in some situation, which was not judged then
}

// Row is one row of the cause-and-effect matrix of a door.
type Row struct {
	Cause  string                 `json:"cause"` // id of the cause
	Title  string                 `json:"title"`
	With   string                 `json:"with,omitempty"` // "fire" or "release" when combined with it
	Step   string                 `json:"step"`           // what happened last
	Effect situation.Effect       `json:"-"`
	Says   string                 `json:"effect"`          // held, released, undecided, one after another, "differs" between limit cases, or Restless
	Volts  unit.Band[unit.Volt]   `json:"volts"`           // at the door's first lock, over the limit cases
	Amps   unit.Band[unit.Ampere] `json:"amps"`            // in its winding
	Alarm  string                 `json:"alarm,omitempty"` // forced, held open, tamper
}

// Load is what one supply has to give.
type Load struct {
	Supply  *job.Supply
	Idle    unit.Ampere          // nominal, doors locked
	Highest unit.Ampere          // over all causes and limit cases, with mains
	Rated   unit.Ampere          // what the data sheet lets it give
	Volts   unit.Band[unit.Volt] // at its terminals, over all causes and limit cases with mains
	Battery unit.Ampere          // highest on battery
	Items   []LoadItem

	Restless bool // some instant did not come to rest: the figures are of the others
}

// LoadItem is one consumer of a supply at idle, nominal.
type LoadItem struct {
	Device string      `json:"device"`
	Amps   unit.Ampere `json:"amps"`
}

// Counts says how much was examined.
type Counts struct {
	Situations int `json:"situations"` // causes, combined causes and limit cases put together
	Solved     int `json:"solved"`     // instants settled
	Held       int `json:"held"`       // rules held, over all doors
	Broken     int `json:"broken"`
	NotJudged  int `json:"not_judged"`
	Errors     int `json:"errors"`
	Advice     int `json:"advice"`
}
