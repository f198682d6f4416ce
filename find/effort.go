package find

import (
	"doorwright/job"
	"doorwright/meter"
	"doorwright/wiring"
)

// What a reading takes, in readings at the controller with the door as it stands and the meter in hand there. Estimates,
// common practice, no source; only their ratios matter. What is paid once stays paid: whoever stands on the ladder takes
// the next reading there as cheaply as the first at the controller.
const (
	oneReading   = 1.0
	toController = 0.5 // a walk to it
	toDoorFrame  = 0.5 // a back box beside the door
	toDoorHead   = 1.0 // up a ladder
	toElsewhere  = 1.5 // a walk to the supply
	powerOff     = 1.5 // isolate mains, battery and all else, and wait
	powerOn      = 1.0
	onBattery    = 1.0
	doorActs     = 0.3 // open the door, show a card
	heldActs     = 0.5 // somebody keeps a button or release operated
	fireAct      = 3.0 // whoever monitors it is told before and after
	pullPlug     = 0.3
	takeOff      = 1.0 // cores off a unit, and on again
	proveDead    = 0.3
	justLooking  = 0.3
	alsoSeen     = 0.1 // what else is seen there in the same glance
	secondPerson = 1.0 // the act is at another place than the leads: somebody is fetched, and stays
)

// stand is how the door and the people stand after a reading.
type stand struct {
	in     meter.Condition
	at     *job.Place // where the meter is
	helped bool       // a second person is there
	eyes   spot       // where they looked just now; nowhere after a reading
}

// spot is where something is seen.
type spot string

const (
	nowhere      spot = ""
	atLock       spot = "lock"
	atReader     spot = "reader"
	atController spot = "controller" // its lights, its relay, what its program shows
)

func spotOf(what meter.Sight) spot {
	switch what {
	case meter.LockHolds, meter.OpensItself:
		return atLock
	case meter.ReaderDark:
		return atReader
	}
	return atController
}

// standing is how they stand before anything was read: at the controller, the door undisturbed.
func (f *Finder) standing() stand { return stand{in: meter.Undisturbed(), at: f.door.Controller.Place} }

// after is how they stand after a pair was read.
func (f *Finder) after(p meter.Pair) stand {
	d := f.deviceAt(p.At)
	now := stand{in: p.In, at: f.now.at, helped: f.now.helped || f.needsHelp(p.In, d)}
	if d != nil {
		now.at = d.Place
	}
	return now
}

// Effort is what it takes to take a reading as the door stands after the last one.
func (f *Finder) Effort(p meter.Pair) float64 {
	d := f.deviceAt(p.At)
	effort := oneReading + f.walk(d) + f.change(p.In)
	if p.Quantity != meter.Volts {
		effort += proveDead
	}
	if !f.now.helped && f.needsHelp(p.In, d) {
		effort += secondPerson
	}
	return effort
}

// lookEffort is what it takes to look at something. An act that was done for a look is done for all that is looked at then.
func (f *Finder) lookEffort(o meter.Observation) float64 {
	switch {
	case f.now.in != o.In || f.now.eyes == nowhere:
		return justLooking + f.change(o.In)
	case f.now.eyes == spotOf(o.What):
		return alsoSeen
	}
	return justLooking
}

// needsHelp says that an act is done at another place than the reading.
func (f *Finder) needsHelp(in meter.Condition, d *wiring.Device) bool {
	at := f.actPlace(in.Act)
	return at != nil && d != nil && d.Place != at
}

// walk is what it takes to bring the meter to a unit.
func (f *Finder) walk(d *wiring.Device) float64 {
	switch {
	case d == nil, d.Place == f.now.at:
		return 0
	case d.Place == f.door.Controller.Place:
		return toController
	case d.Door != f.door.ID:
		return toElsewhere
	case d.Role == job.RoleLock || d.Role == job.RoleContact || d.Role == job.RoleLoop || f.atHead(d):
		return toDoorHead
	}
	return toDoorFrame
}

// atHead says that a unit is where the locks are.
func (f *Finder) atHead(d *wiring.Device) bool {
	for _, l := range f.door.Locks {
		if l.Place == d.Place {
			return true
		}
	}
	return false
}

// change is what it takes to bring the door into a condition.
func (f *Finder) change(to meter.Condition) float64 {
	effort := 0.0
	now := f.now.in
	if to.Power != now.Power {
		switch to.Power {
		case meter.Off:
			effort += powerOff
		case meter.Battery:
			effort += onBattery
		default:
			effort += powerOn
		}
	}
	switch {
	case to.Act == now.Act && to.Act != meter.Card: // still kept up
	case to.Act == meter.Button, to.Act == meter.Release:
		effort += heldActs
	case to.Act == meter.Card, to.Act == meter.DoorOpen:
		effort += doorActs
	case to.Act == meter.Fire:
		effort += fireAct
	}
	if to.Pulled != "" && to.Pulled != now.Pulled {
		if f.isPlug(to.Pulled) {
			effort += pullPlug
		} else {
			effort += takeOff
		}
	}
	if to.Alone != "" && to.Alone != now.Alone {
		effort += takeOff
	}
	return effort
}

func (f *Finder) isPlug(what string) bool { return f.site.Plan.Device(what) == nil }

// actPlace is where an act is done, nil for one that needs nobody there.
func (f *Finder) actPlace(a meter.Act) *job.Place {
	switch {
	case a == meter.Button && len(f.door.Exits) > 0:
		return f.door.Exits[0].Place
	case a == meter.Release && len(f.door.Releases) > 0:
		return f.door.Releases[0].Place
	case a == meter.Card && f.door.Entry != nil:
		return f.door.Entry.Place
	}
	return nil
}

// deviceAt is the device of a terminal.
func (f *Finder) deviceAt(terminal string) *wiring.Device { return f.book.Device(terminal) }
