package proof

import (
	"slices"

	"doorwright/job"
	"doorwright/situation"
)

// Combined names what a cause is combined with.
const (
	withFire    = "fire"
	withRelease = "release"
)

// sequence is a cause at a door (or everywhere), perhaps with a fire signal or a manual release that stands operated.
type sequence struct {
	cause situation.Cause
	with  string    // "", withFire or withRelease
	door  *job.Door // where the cause happens; nil for one that happens everywhere
	at    *job.Door // where the release stands operated, for withRelease
	steps []situation.Step
}

// sequences lists every cause of an island, alone and combined with fire and with each door's manual release. Near a door
// those are left out that happen at another one.
func sequences(is *situation.Island, near *job.Door) []sequence {
	var all []sequence
	for _, c := range situation.Causes() {
		doors := []*job.Door{nil}
		if c.Door {
			doors = is.Doors
		}
		for _, d := range doors {
			if near != nil && d != nil && d != near {
				continue
			}
			steps := c.Steps(is, d)
			if steps == nil {
				continue
			}
			all = append(all, sequence{c, "", d, nil, steps})
			all = append(all, combined(is, c, d, near, steps)...)
		}
	}
	return all
}

// combined puts a fire signal, and a manual release, before a cause that does not begin with it itself: such a cause would
// tell nothing new, or, where it goes on to reset it, undo what it is combined with.
func combined(is *situation.Island, c situation.Cause, d, near *job.Door, steps []situation.Step) []sequence {
	var all []sequence
	if on := situation.Fires(is, "fire", true); len(on) > 0 && !slices.Equal(steps[0].Do, on) {
		first := situation.Step{Say: "fire signal", Do: on, Wait: moment}
		all = append(all, sequence{c, withFire, d, nil, together(c, first, steps)})
	}
	for _, r := range releaseDoors(is, d) {
		on := situation.Releases(r, true)
		if near != nil && r != near || slices.Equal(steps[0].Do, on) {
			continue
		}
		first := situation.Step{Say: "manual release operated at " + r.ID, Do: on, Wait: moment}
		all = append(all, sequence{c, withRelease, d, r, together(c, first, steps)})
	}
	return all
}

// moment lets contacts fall in and out before a cause goes on.
const moment = 1

// together puts a step before the steps of a cause, or behind them when the cause is one that has to be there first: a
// controller that hangs while locked would not be locked any more.
func together(c situation.Cause, step situation.Step, steps []situation.Step) []situation.Step {
	if !c.Before {
		return append([]situation.Step{step}, steps...)
	}
	step.Watched = true
	all := slices.Clone(steps)
	for i := range all {
		all[i].Watched = false
	}
	return append(all, step)
}

// releaseDoors lists the doors whose manual release is combined with a cause: the door where it happens, or each when
// it happens everywhere.
func releaseDoors(is *situation.Island, d *job.Door) []*job.Door {
	doors := is.Doors
	if d != nil {
		doors = []*job.Door{d}
	}
	var all []*job.Door
	for _, r := range doors {
		if len(r.Releases) > 0 {
			all = append(all, r)
		}
	}
	return all
}
