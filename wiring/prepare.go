package wiring

import (
	"fmt"

	"doorwright/cable"
)

// ferrules are the nominal sizes of ferrules with a plastic collar, in mm2 (DIN 46228-4, from memory).
var ferrules = []float64{0.14, 0.25, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16}

// Prepare says how the end of a core is made ready for its terminal: a fine or stranded one gets a ferrule of its size or
// the next, on a strip of the barrel and 2 mm (common practice); a solid one gets none. Empty for what is no core of a cable.
func (l Landing) Prepare() string {
	c := l.Conductor
	if c.Kind != Core {
		return ""
	}
	if c.Core.Conductor.Strand == cable.Solid {
		return "solid: strip as the terminal says, no ferrule"
	}
	area := c.Core.Conductor.Size.Area()
	for _, size := range ferrules {
		// Rounding of a metric size must not lead to the next one.
		if area <= size*1.001 {
			return fmt.Sprintf("strip 10 mm, ferrule %g mm2 with a barrel of 8 mm; shorter where the terminal says so", size)
		}
	}
	return "strip as the terminal says; a lug for its size"
}
