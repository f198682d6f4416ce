// Package find traces readings back to what is wrong at a door: suspects with their probabilities, and the next reading
// that tells them apart best for its effort.
//
// A Finder is made for one door. Readings and observations go in one by one, in any order; the same input gives the same
// answer to the last digit.
//
//	f, err := find.New(site, "visitor", meter.Default())
//	pair := meter.Pair{At: "C1.lock1.nc", To: "C1.feed.minus", In: meter.Undisturbed(), Quantity: meter.Volts}
//	err = f.Add(pair.Shows(0.02))
//	err = f.See(meter.Observation{What: meter.LockHolds, Is: "no", In: meter.Undisturbed()})
//	for _, g := range f.Suspects() {
//		fmt.Println(g.Probability, g.Suspects[0].Name, g.Suspects[0].Where)
//	}
//	next := f.Next(find.Suggested) // nil when nothing tells the suspects apart any further
//
// The terminals, conditions and quantities are those of package meter; meter.At makes the network in which a simulator
// would take the same reading.
package find

import (
	"doorwright/fault"
	"doorwright/meter"
)

// The suspects that are no fault of the catalogue.
const (
	Healthy = "healthy" // as planned; what was seen has another reason
	Unknown = "unknown" // something that the catalogue does not hold
)

// Suspect is one thing that may be wrong.
type Suspect struct {
	ID          string // of the fault, or Healthy or Unknown
	Class       string
	Name        string // in plain words
	Where       string // device, terminal, core and colour
	Repair      string
	Size        string // how large it is by what was read, "about 9.1 ohm"; empty where nothing tells
	Probability float64
	Tests       []string     // function tests to repeat after the repair, when it touches a lock or release circuit
	Fault       *fault.Fault // nil for Healthy, Unknown and what no circuit shows
	Both        bool         // two faults at once: mend the first, then measure again
}

// Group is suspects that no reading at terminals in reach tells apart. Split, Against and Elsewhere are filled in by
// Finder.Explain.
type Group struct {
	Probability float64
	Suspects    []Suspect   // likeliest first
	Split       string      // the act that would tell them apart; empty for a group of one
	Against     []string    // readings and looks that the likeliest suspect does not explain, in words
	Elsewhere   []Elsewhere // what the meter would show where it has not been, likeliest suspect
}

// Elsewhere is what a meter would show at a place not yet measured.
type Elsewhere struct {
	Pair     meter.Pair
	Expected float64 // V or ohm, with the suspect
	Open     bool
	Sound    float64 // with a sound door
}

// Rule says how the next reading is chosen.
type Rule struct {
	Name      string
	Seed      uint64 // of Random
	MeterOnly bool   // of Suggested: readings only, nothing to look at
}

// The rules. FixedOrder walks from the supply to the lock and then over the inputs and data lines, as a checklist does.
var (
	Suggested  = Rule{Name: "suggested"}
	FixedOrder = Rule{Name: "fixed order"}
)

// Random takes any reading not taken yet.
func Random(seed uint64) Rule { return Rule{Name: "random", Seed: seed} }

// Next is the reading or look that comes next.
type Next struct {
	Pair     *meter.Pair        // what to read; nil when it is something to look at
	Look     *meter.Observation // what to look at, Is left empty
	Dead     bool               // first the same pair on volts: only at 0 V turn to ohms or diode
	Effort   float64            // in readings at the controller
	Gain     float64            // bits it is expected to tell
	Why      string
	Outcomes []Outcome // likeliest first
	Before   []string  // what has to be done or made sure of before
}

// Outcome is one way a reading can come out, and what it would leave.
type Outcome struct {
	Says        string // "0 V to 0.4 V"
	Probability float64
	Leaves      []string // ids of the suspects it speaks for, those that it makes likelier, most first
}
