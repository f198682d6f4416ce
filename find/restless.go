package find

import (
	"math"
	"slices"

	"doorwright/meter"
)

// Where a unit keeps restarting (common practice, no source).
const (
	jumpsShare  = 0.6 // of such units: slow enough for a meter to show one state after another
	jumpsElse   = 0.2 // of the readings then: a jump between two states
	jumpsUnsaid = 0.6 // the same where no other state is known
	turnsShare  = 0.1 // of the way from one state to another, as a deviation: around no resting point nothing is small
)

// beliefsOf are the beliefs of a row. Where the door does not come to rest, a meter either shows the state of the row all the
// time, as one of the states is short, or one state after another.
func beliefsOf(row *meter.Row, weight float64) []belief {
	if !slices.Contains(row.Restless, true) {
		return []belief{{row: row, weight: weight}}
	}
	return []belief{{row: row, weight: weight * (1 - jumpsShare)}, {row: row, weight: weight * jumpsShare, jumps: true}}
}

// restless says that a reading of a pair is of any state.
func (b *belief) restless(book *meter.Book, pair int) bool {
	return b.jumps && b.row.Restless[book.StopOf(pair)]
}

// turns are what else a restless pair may show.
func (b *belief) turns(pair int) []float64 {
	if b.row.Turns == nil {
		return nil
	}
	return b.row.Turns[pair]
}

// turnDeviation is how exactly a turn is known; d is the deviation of the meter.
func (b *belief) turnDeviation(pair int, turn, d float64) float64 {
	return math.Hypot(d, turnsShare*(turn-b.row.Shown[pair].Value))
}

// unsaid is the share of the readings of a restless pair that are of no known state.
func (b *belief) unsaid(pair int) float64 {
	if len(b.turns(pair)) > 0 {
		return jumpsElse
	}
	return jumpsUnsaid
}

// restlessDensity is how likely a reading of a restless pair is; right is the density of the state of the row.
func (b *belief) restlessDensity(pair int, y, d, right, space float64) float64 {
	turns := b.turns(pair)
	for _, turn := range turns {
		wide := b.turnDeviation(pair, turn, d)
		right += student((y-turn)/wide) / wide
	}
	unsaid := b.unsaid(pair)
	return (1-unsaid)*right/float64(1+len(turns)) + unsaid/space
}
