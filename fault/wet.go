package fault

import (
	"fmt"

	"doorwright/unit"
	"doorwright/wiring"
)

// wetOhms is the leakage between two cores of a cable that water has got into: kilohms to tens of kilohms, against more
// than 100 megohm of a sound one (common practice, no source).
const wetOhms unit.Ohm = 10e3

// wet lists every run with leakage between all its neighbouring cores in use.
func (c *lister) wet() {
	for _, run := range c.runs {
		cores := c.cores[run]
		if !c.mine(cores...) {
			continue
		}
		var leaks []Edit
		for i := 1; i < len(cores); i++ {
			a, b := endAt(cores[i-1], run.To).String(), endAt(cores[i], run.To).String()
			if !c.nets.same(a, b) {
				leaks = append(leaks, Edit{Op: Join, A: a, B: b, Ohms: wetOhms})
			}
		}
		if len(leaks) == 0 {
			continue
		}
		c.put(Fault{
			ID: "wet:" + run.ID, Class: Wet,
			Name:   fmt.Sprintf("water in %s: %s between neighbouring cores", run.ID, wetOhms),
			Where:  fmt.Sprintf("%s, from %s to %s", run.ID, run.From.ID, run.To.ID),
			Repair: "Find where the water comes in, pull a new cable and seal its way.",
			Spread: jointSpread,
			Edits:  leaks, At: append([]*wiring.Conductor(nil), cores...), Of: endsOf(cores...),
		})
	}
}
