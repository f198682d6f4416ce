package meter

import (
	"fmt"

	"doorwright/job"
	"doorwright/wiring"
)

// Granted says what readings at a door take for granted because nobody stated it: that the 0 V of a supply is tied to earth.
func Granted(p *wiring.Plan, d *job.Door) []string {
	var all []string
	for _, s := range d.Supplies() {
		for _, w := range p.Conductors {
			if w.Unsure && w.A.Device.ID == s.ID {
				all = append(all, fmt.Sprintf("Whether the 0 V of %s is tied to earth is not stated. What is read against earth takes for granted that it is; "+
					"look, and state it.", s.ID))
			}
		}
	}
	return all
}
