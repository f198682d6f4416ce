package meter

import (
	"doorwright/unit"
)

// Quantity is what a meter is set to.
type Quantity string

// The quantities.
const (
	Volts Quantity = "volts"
	Ohms  Quantity = "ohms"
	Diode Quantity = "diode" // volts at the test current of the diode range
	Amps  Quantity = "amps"  // in line with one terminal: recorded at power-up, nothing of a Book
)

// Reading is what a meter showed between two terminals in a condition.
//
// Terminals are named as nodes are, device and pin ("C1.lock1.common"), or by the text beside the screw ("C1 NC1").
// At is where the red lead is, To where the black one is.
type Reading struct {
	At, To   string
	In       Condition
	Quantity Quantity
	Value    float64 // V or ohm; of no meaning when Open
	Open     bool    // over range: ohms and diode only
}

// Pair is where and how a reading is taken, without what was shown.
type Pair struct {
	At, To   string
	In       Condition
	Quantity Quantity
}

// Pair is where and how the reading was taken.
func (r Reading) Pair() Pair { return Pair{r.At, r.To, r.In, r.Quantity} }

// Shows makes the reading that a pair of terminals gave.
func (p Pair) Shows(v float64) Reading { return Reading{p.At, p.To, p.In, p.Quantity, v, false} }

// ShowsOpen makes the reading of a meter over its range.
func (p Pair) ShowsOpen() Reading { return Reading{p.At, p.To, p.In, p.Quantity, 0, true} }

// Sight is what can be seen, heard or felt at a door without a meter.
type Sight string

// The sights.
const (
	LockHolds   Sight = "lock holds"                 // all locks of the door hold it
	ShowsOpen   Sight = "controller shows door open" // its contact input reads active
	ShowsExit   Sight = "controller shows exit request"
	ShowsFault  Sight = "controller shows a line fault" // an input reads cut, short or between states
	Runs        Sight = "controller runs"
	ReaderDark  Sight = "reader dark"
	CardRead    Sight = "card is read"    // a valid card shown reaches the controller
	NumberRead  Sight = "number read was" // right, none, complement, zeros, ones, wrong, or both numbers
	FuseBlown   Sight = "fuse blown"      // any fuse or electronic trip of the door's supply or feed
	OpensItself Sight = "opens by itself" // now and then, or when touched
	RelayClicks Sight = "relay clicks"    // the lock relay changes over when asked
	Works       Sight = "all works"       // the door was tried in every act with power, and nothing was amiss
)

// Sights lists the sights in the order in which they are asked for.
func Sights() []Sight {
	return []Sight{
		LockHolds, Runs, ReaderDark, CardRead, NumberRead, ShowsOpen, ShowsExit, ShowsFault, FuseBlown, RelayClicks, OpensItself, Works,
	}
}

// Answers lists what may be answered to a sight: yes or no, but for the number read. To that, both numbers may be given as
// well, which tell more: "165/65211 expected 90/324".
func (s Sight) Answers() []string {
	if s == NumberRead {
		return []string{"right", "none", "complement", "zeros", "ones", "wrong"}
	}
	return []string{"yes", "no"}
}

// Observation is something seen in a condition.
type Observation struct {
	What Sight
	Is   string // one of the answers of What, or both numbers
	In   Condition
	// Called says that it is no answer to a question: somebody called for it, out of all that he met with.
	Called bool
}

// Loop is a measured loop resistance: two cores of a run, joined at the far end. It stands in place of the length.
type Loop struct {
	Run  string
	Ohms unit.Ohm
}
