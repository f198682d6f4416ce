package find

import (
	"testing"

	"doorwright/meter"
)

// Whatever is offered to be called for is something the door knows, is not so at a sound door, and speaks against one.
func TestWhatMayBeCalledForSpeaksAgainstASoundDoor(t *testing.T) {
	for _, door := range []string{"plant", "staff", "visitor"} {
		calls := finderOf(t, door).Calls()
		if len(calls) < 8 {
			t.Errorf("%s: only %d calls", door, len(calls))
		}
		for _, c := range calls {
			f := finderOf(t, door)
			before := chanceOfGroup(f, Healthy)
			if err := f.See(c.Seen); err != nil {
				t.Errorf("%s: %s: %v", door, c.Says, err)
				continue
			}
			if after := chanceOfGroup(f, Healthy); c.Seen.What != meter.Works && after > before {
				t.Errorf("%s: %s makes a sound door likelier: %.3f, %.3f before", door, c.Says, after, before)
			}
		}
	}
}
