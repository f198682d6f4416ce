package record

import (
	"fmt"

	"doorwright/meter"
)

// Say is what was seen, in a sentence where it answers one of the questions of the search for a fault.
func (s Sight) Say() string {
	if o, err := meter.ParseSeen(s.What); err == nil {
		return fmt.Sprintf("%s: %s (%s)", o.What, o.Is, o.In.Say())
	}
	return s.What
}
