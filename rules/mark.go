// Package rules holds the published conditions under which an electrically locked door lets people out, as data with
// their source: the rules a door is judged by, the families of national rules with their figures, and where two
// families demand different things.
//
// It judges nothing itself. Edition texts change, local amendments win over everything here, and what was not seen in
// the text of a standard says so by its mark.
package rules

import "fmt"

// Caution goes wherever rules are shown or a door is judged by them.
const Caution = "An aid, not an approval. Local codes, the authority in charge and licensed practice decide; " +
	"check the edition in force where the door stands."

// Mark says how well a fact of the world is known.
type Mark int

// The marks, from the surest to the least sure.
const (
	Verified       Mark = iota // seen in the text of the source or of its public copy
	SecondHand                 // seen in a summary or quotation of the source
	Memory                     // from general knowledge, believed right
	MemoryLow                  // from general knowledge, weak or different between editions
	CommonPractice             // habit of the trade without a published source
)

func (m Mark) String() string {
	return nameOf(int(m), "verified", "second-hand", "from memory", "from memory, weak", "common practice")
}

// nameOf is the name at place i; a number that has none shows itself instead of failing.
func nameOf(i int, names ...string) string {
	if i < 0 || i >= len(names) {
		return fmt.Sprintf("unknown (%d)", i)
	}
	return names[i]
}

// MarshalText writes the mark in words.
func (m Mark) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// Source is where a fact comes from: the document with edition and clause, and how well it is known.
type Source struct {
	Text string `json:"text"`
	Mark Mark   `json:"mark"`
}

func (s Source) String() string { return s.Text + " (" + s.Mark.String() + ")" }

// Level is how serious it is when a condition does not hold.
type Level int

// The levels.
const (
	Advice Level = iota
	Error
)

func (l Level) String() string {
	return nameOf(int(l), "advice", "error")
}

// MarshalText writes the level in words.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Bearing is what hangs on a figure.
type Bearing int

// The bearings.
const (
	Preferred Bearing = iota // a preferred number: a height, a distance, a reserve, a time
	DataSheet                // a limit on a data sheet
	WayOut                   // whether people get out
)

// Level is how serious it is to miss a figure with this mark. A data-sheet limit exceeded or a failed way out is an
// error whatever its mark; a preferred number is an error only when it was seen in its source, and advice otherwise.
func (m Mark) Level(b Bearing) Level {
	if b == DataSheet || b == WayOut || m == Verified {
		return Error
	}
	return Advice
}
