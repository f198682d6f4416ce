package web

import (
	"fmt"

	"doorwright/wiring"
)

// wireName names a conductor as it is found on site: run, core and colour.
func wireName(c *wiring.Conductor) string {
	switch c.Kind {
	case wiring.Core:
		return fmt.Sprintf("%s/%d %s", c.Run.ID, c.Core.Index, c.Core.Colour)
	case wiring.Screen:
		return c.Run.ID + " screen"
	}
	return string(c.Kind)
}
