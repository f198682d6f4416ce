package situation

import (
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// Cause is something that happens in the world: a sequence of steps from the undisturbed state.
type Cause struct {
	ID    string
	Title string
	// Unbuffered is the title at an island without any battery; empty where it is the same.
	Unbuffered string
	Door       bool // it happens at one door; else to everything at once
	// Before says that the cause is there before what it is combined with: what comes later would hide it.
	Before bool
	// Steps are what happens, at door d when the cause is of one door, else to the whole island; nil when the cause
	// cannot happen there (no reader to show a card at).
	Steps func(is *Island, d *job.Door) []Step
}

// NothingHappens is the title of the undisturbed state.
const NothingHappens = "nothing happens"

// TitleAt is the title of a cause at an island.
func (c Cause) TitleAt(is *Island) string {
	if c.Unbuffered != "" && !is.hasBattery() {
		return c.Unbuffered
	}
	return c.Title
}

func (is *Island) hasBattery() bool {
	return slices.ContainsFunc(is.Supplies, func(s *job.Supply) bool { return s.Battery != nil })
}

// Causes is the one list of causes.
func Causes() []Cause {
	return []Cause{
		{ID: "idle", Title: NothingHappens, Steps: idle},
		{ID: "granted", Title: "access granted", Door: true, Steps: granted},
		{ID: "exit", Title: "exit request", Door: true, Steps: exitRequest},
		{ID: "opened", Title: "door opened after a grant", Door: true, Steps: openedAfterGrant},
		{ID: "forced", Title: "door forced open", Door: true, Steps: forcedOpen},
		{ID: "held", Title: "door held open", Door: true, Steps: heldOpen},
		{ID: "release", Title: "manual release operated, then reset", Door: true, Steps: releaseAndReset},
		{ID: "fire", Title: "fire signal", Steps: fire},
		{ID: "fire-silence", Title: "fire signal, sounders silenced", Steps: fireSilenced},
		{ID: "fire-reset", Title: "fire signal, then reset", Steps: fireAndReset},
		{ID: "fire-line", Title: "line of the fire signal lost", Steps: fireLine},
		{ID: "mains", Title: "mains lost, battery full", Unbuffered: "mains lost, no battery fitted", Steps: mainsLost},
		{ID: "mains-flat", Title: "mains lost, battery at its end", Steps: mainsLostFlat},
		{ID: "no-battery", Title: "mains lost, battery missing", Steps: mainsLostNoBattery},
		{ID: "unfed", Title: "controller without supply", Door: true, Steps: controllerUnfed},
		{ID: "hung-holding", Title: "controller hangs while locked", Door: true, Before: true, Steps: hungHolding},
		{ID: "hung-granting", Title: "controller hangs while unlocked", Door: true, Steps: hungGranting},
		{ID: "all-on", Title: "all locks powered at once", Steps: allOn},
	}
}

// A moment lets contacts and relays fall in and out: longer than any relay of a door takes (tens of milliseconds).
const moment unit.Second = 1

func idle(*Island, *job.Door) []Step {
	return []Step{{Say: NothingHappens, Wait: moment, Watched: true}}
}

func granted(_ *Island, d *job.Door) []Step {
	if d.Entry == nil {
		return nil
	}
	return []Step{
		{Say: "valid card shown", Show: d.Entry.ID, Watched: true},
		{Say: "time passes", Wait: unlockFor(d) + moment, Watched: true},
	}
}

func exitRequest(_ *Island, d *job.Door) []Step {
	on := exitActions(d, true)
	if len(on) == 0 {
		return nil
	}
	return []Step{
		{Say: "exit device operated", Do: on, Watched: true},
		{Say: "exit device let go, time passes", Do: exitActions(d, false), Wait: unlockFor(d) + moment, Watched: true},
	}
}

// exitActions operate, or let go of, the first exit device, or the inside handle where it tells the controller.
func exitActions(d *job.Door, on bool) []Action {
	for _, e := range d.Exits {
		for _, s := range []string{"pressed", "sees"} {
			if contains(e.Model.World(), s) {
				return []Action{{e.ID, s, on}}
			}
		}
	}
	for _, l := range d.Locks {
		if contains(l.Model.World(), "handle") {
			return []Action{{l.ID, "handle", on}}
		}
	}
	return nil
}

func leaves(d *job.Door, closed bool) []Action {
	var all []Action
	for _, c := range d.Contacts {
		all = append(all, Action{c.ID, "door-closed", closed})
	}
	return all
}

func openedAfterGrant(_ *Island, d *job.Door) []Step {
	if d.Entry == nil || len(d.Contacts) == 0 {
		return nil
	}
	return []Step{
		{Say: "valid card shown", Show: d.Entry.ID},
		{Say: "door opened", Do: leaves(d, false), Wait: moment, Watched: true},
		{Say: "door closed, time passes", Do: leaves(d, true), Wait: unlockFor(d) + moment, Watched: true},
	}
}

func forcedOpen(_ *Island, d *job.Door) []Step {
	if len(d.Contacts) == 0 {
		return nil
	}
	return []Step{{Say: "door forced open", Do: leaves(d, false), Wait: moment, Watched: true}}
}

func heldOpen(_ *Island, d *job.Door) []Step {
	if d.Entry == nil || len(d.Contacts) == 0 {
		return nil
	}
	return []Step{
		{Say: "valid card shown", Show: d.Entry.ID},
		{Say: "door opened", Do: leaves(d, false), Wait: moment},
		{Say: "door held open", Wait: heldAfter(d) + moment, Watched: true},
	}
}

func releaseAndReset(_ *Island, d *job.Door) []Step {
	on := Releases(d, true)
	if len(on) == 0 {
		return nil
	}
	return []Step{
		{Say: "manual release operated", Do: on, Wait: moment, Watched: true},
		{Say: "manual release reset", Do: Releases(d, false), Wait: unlockFor(d) + moment, Watched: true},
	}
}

// Releases operate, or reset, every manual release of a door.
func Releases(d *job.Door, on bool) []Action {
	var all []Action
	for _, r := range d.Releases {
		all = append(all, Action{r.ID, "operated", on})
	}
	return all
}

// Fires set one signal of every fire interface of the island: "fire" or "line-lost".
func Fires(is *Island, signal string, on bool) []Action { return is.all("fire-interface", signal, on) }

// all sets a signal of every unit of a kind.
func (is *Island) all(kind, signal string, on bool) []Action {
	var all []Action
	for _, u := range is.Units {
		if u.Device.Model.Kind == kind {
			all = append(all, Action{u.Device.ID, signal, on})
		}
	}
	return all
}

func fire(is *Island, _ *job.Door) []Step {
	on := Fires(is, "fire", true)
	if len(on) == 0 {
		return nil
	}
	return []Step{{Say: "fire signal", Do: on, Wait: moment, Watched: true}}
}

func fireSilenced(is *Island, d *job.Door) []Step {
	steps := fire(is, d)
	if steps == nil {
		return nil
	}
	return append(steps, Step{Say: "sounders silenced; the fire signal stays", Wait: moment, Watched: true})
}

func fireAndReset(is *Island, d *job.Door) []Step {
	steps := fireSilenced(is, d)
	if steps == nil {
		return nil
	}
	return append(steps,
		Step{Say: "fire alarm reset", Do: Fires(is, "fire", false), Wait: moment},
		Step{Say: "boards reset by key", Do: is.all("key-switch", "turned", true), Wait: moment},
		Step{Say: "key let go, time passes", Do: is.all("key-switch", "turned", false), Wait: longWait, Watched: true})
}

// longWait outlasts every unlock time that a job may set.
const longWait unit.Second = 3600

func fireLine(is *Island, _ *job.Door) []Step {
	on := Fires(is, "line-lost", true)
	if len(on) == 0 {
		return nil
	}
	return []Step{{Say: "line of the fire signal lost", Do: on, Wait: moment, Watched: true}}
}

func mainsLost(is *Island, _ *job.Door) []Step {
	return []Step{{Say: "mains lost", Do: is.all("supply", "mains", false), Wait: moment, Watched: true}}
}

func mainsLostFlat(is *Island, _ *job.Door) []Step {
	if !is.hasBattery() {
		return nil
	}
	return []Step{
		{Say: "mains lost", Do: is.all("supply", "mains", false), Wait: moment},
		{Say: "battery at its end", Flat: true, Wait: moment, Watched: true},
	}
}

func mainsLostNoBattery(is *Island, _ *job.Door) []Step {
	off := is.all("battery", "connected", false)
	return []Step{
		{Say: "battery missing", Do: off, Wait: moment},
		{Say: "mains lost", Do: is.all("supply", "mains", false), Wait: moment, Watched: true},
	}
}

func controllerUnfed(_ *Island, d *job.Door) []Step {
	return []Step{{Say: "controller loses its supply", Do: []Action{{d.Controller.ID, Unfed, true}}, Wait: moment, Watched: true}}
}

func hungHolding(_ *Island, d *job.Door) []Step {
	steps := []Step{{Say: "controller hangs", Do: []Action{{d.Controller.ID, "hung", true}}, Wait: moment}}
	if on := exitActions(d, true); len(on) > 0 {
		steps = append(steps, Step{Say: "exit device operated in vain", Do: on, Wait: moment})
	}
	steps[len(steps)-1].Watched = true
	return steps
}

func hungGranting(_ *Island, d *job.Door) []Step {
	if d.Entry == nil {
		return nil
	}
	return []Step{
		{Say: "valid card shown", Show: d.Entry.ID},
		{Say: "controller hangs", Do: []Action{{d.Controller.ID, "hung", true}}, Wait: longWait, Watched: true},
	}
}

// allOn powers every lock: those that are powered while locked are so anyway, the others get a card or an exit request.
func allOn(is *Island, _ *job.Door) []Step {
	var steps []Step
	for _, d := range is.Doors {
		if name, ok := d.Locks[0].Model.FindPort(device.LockCoil, "", 0, ""); !ok || d.Locks[0].Model.Port(name).Action == device.FailSafe {
			continue
		}
		if d.Entry != nil {
			steps = append(steps, Step{Say: "valid card shown at " + d.ID, Show: d.Entry.ID})
		} else if on := exitActions(d, true); len(on) > 0 {
			steps = append(steps, Step{Say: "exit device operated at " + d.ID, Do: on})
		}
	}
	if len(steps) == 0 {
		return nil
	}
	steps[len(steps)-1].Watched = true
	return steps
}

func unlockFor(d *job.Door) unit.Second { return channelOf(d).UnlockFor }

func heldAfter(d *job.Door) unit.Second {
	c := channelOf(d)
	return c.HeldAfter + c.UnlockFor
}

func channelOf(d *job.Door) device.ChannelSettings {
	if ch := d.Controller.Settings.Channels; d.Channel <= len(ch) {
		return ch[d.Channel-1]
	}
	return device.ChannelSettings{}
}
