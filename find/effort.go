package find

import (
	"doorwright/job"
	"doorwright/meter"
	"doorwright/wiring"
)

// What a reading takes, in readings at the controller with the door as it stands. Estimates, common practice, no source;
// only their ratios matter.
const (
	atController = 1.0
	atDoorFrame  = 1.5 // a back box beside the door
	atDoorHead   = 2.0 // on a ladder
	elsewhere    = 2.5 // a walk to the supply
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
	secondPerson = 1.0 // the act is at another place than the leads
)

// Effort is what it takes to take a reading as the door stands after the last one.
func (f *Finder) Effort(p meter.Pair) float64 {
	d := f.deviceAt(p.At)
	effort := f.placeEffort(d) + f.change(p.In)
	if p.Quantity != meter.Volts {
		effort += proveDead
	}
	if at := f.actPlace(p.In.Act); at != nil && d != nil && d.Place != at {
		effort += secondPerson
	}
	return effort
}

func (f *Finder) placeEffort(d *wiring.Device) float64 {
	switch {
	case d == nil, d.Place == f.door.Controller.Place:
		return atController
	case d.Door != f.door.ID:
		return elsewhere
	case d.Role == job.RoleLock || d.Role == job.RoleContact || d.Role == job.RoleLoop || f.atHead(d):
		return atDoorHead
	}
	return atDoorFrame
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
	if to.Power != f.now.Power {
		switch to.Power {
		case meter.Off:
			effort += powerOff
		case meter.Battery:
			effort += onBattery
		default:
			effort += powerOn
		}
	}
	switch to.Act {
	case meter.Button, meter.Release:
		effort += heldActs
	case meter.Card, meter.DoorOpen:
		effort += doorActs
	case meter.Fire:
		effort += fireAct
	}
	if to.Pulled != "" && to.Pulled != f.now.Pulled {
		if f.isPlug(to.Pulled) {
			effort += pullPlug
		} else {
			effort += takeOff
		}
	}
	if to.Alone != "" && to.Alone != f.now.Alone {
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
