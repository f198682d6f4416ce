package tryout

import (
	"fmt"

	"doorwright/situation"
	"doorwright/unit"
)

// Play is what somebody does to a door under try-out.
type Play struct {
	// Wrong are alterations of the wiring, there from the beginning: ids of the fault catalogue, "cut CONDUCTOR", or
	// "join NODE NODE" with nodes named device.pin, or "earth".
	Wrong []string
	// Copper is the temperature of the cables; nil for 20 C.
	Copper *unit.Celsius
	// Cell is the voltage of each battery cell behind its resistance; 0 for full.
	Cell unit.Volt
	// Supply is -1, 0 or 1: supplies at the low end, the middle or the high end of their tolerance.
	Supply int
	Acts   []Act
}

// most bounds a play: a replay of more would be slow, and nobody can follow it.
const (
	mostWrong = 12
	mostActs  = 60
)

// The copper a door may have: from the coldest site to the limit of PVC insulation (70 C, IEC 60228 with HD 21 cables;
// common practice) with room above.
const (
	coldest unit.Celsius = -40
	hottest unit.Celsius = 90
)

// check says what of a play is out of range.
func (p *Play) check() error {
	full, end := situation.CellVolts()
	switch {
	case len(p.Wrong) > mostWrong:
		return fmt.Errorf("%d alterations at once: at most %d", len(p.Wrong), mostWrong)
	case len(p.Acts) > mostActs:
		return fmt.Errorf("%d steps: at most %d; begin again", len(p.Acts), mostActs)
	case p.Copper != nil && !(*p.Copper >= coldest && *p.Copper <= hottest):
		return fmt.Errorf("copper at %v: from %v to %v", *p.Copper, coldest, hottest)
	case p.Cell != 0 && !(p.Cell >= end && p.Cell <= full):
		return fmt.Errorf("%v a cell: from %v (at its end) to %v (full)", p.Cell, end, full)
	case p.Supply < -1 || p.Supply > 1:
		return fmt.Errorf("supply %d: -1 for low, 0, or 1 for high", p.Supply)
	}
	return nil
}
