package find

import (
	"slices"

	"doorwright/meter"
)

// Call is what somebody may call for, in his words and as what is seen.
type Call struct {
	Says string
	Seen meter.Observation
}

// everydayCalls are what people at a door say of it, most frequent first (common practice, no source).
func everydayCalls() []Call {
	call := func(says string, what meter.Sight, is string, act meter.Act) Call {
		return Call{says, meter.Observation{What: what, Is: is, In: meter.Condition{Power: meter.On, Act: act}, Called: true}}
	}
	return []Call{
		call("a valid card does not free the door", meter.LockHolds, "yes", meter.Card),
		call("the exit device does not free the door", meter.LockHolds, "yes", meter.Button),
		call("the manual release does not free the door", meter.LockHolds, "yes", meter.Release),
		call("the fire signal does not free the door", meter.LockHolds, "yes", meter.Fire),
		call("the door does not lock", meter.LockHolds, "no", meter.Idle),
		call("a card is not read", meter.CardRead, "no", meter.Card),
		call("the reader is dark", meter.ReaderDark, "yes", meter.Idle),
		call("the controller does not run", meter.Runs, "no", meter.Idle),
		call("the closed door is shown as open", meter.ShowsOpen, "yes", meter.Idle),
		call("the open door is shown as closed", meter.ShowsOpen, "no", meter.DoorOpen),
		call("an exit request is shown though nobody asks", meter.ShowsExit, "yes", meter.Idle),
		call("a line fault is shown", meter.ShowsFault, "yes", meter.Idle),
		call("it opens by itself", meter.OpensItself, "yes", meter.Idle),
		call("nothing: all works, and it is to be looked over", meter.Works, "yes", meter.Idle),
	}
}

// Calls are what somebody may call for at this door: what the door has, and does not do when it is sound.
func (f *Finder) Calls() []Call {
	sound := f.suspectOf(Healthy)
	return slices.DeleteFunc(everydayCalls(), func(c Call) bool {
		stop := f.book.Stop(c.Seen.In)
		return stop < 0 || c.Seen.What != meter.Works && chance(sound, f.book.Sound, stop, c.Seen.What, c.Seen.Is) >= 0.5
	})
}
