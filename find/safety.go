package find

import (
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/wiring"
)

// The safety rules that every suggestion keeps. They are not advice: what would break one is never suggested, and what
// has to be done first stands in Before.
const (
	FirstPeople  = "See that nobody is shut in, and how to free the door: manual release, key, or power off where the lock lets go without it."
	FirstFire    = "Tell whoever monitors the fire signal, before and after; watch the doors it opens."
	FirstOff     = "Switch off mains, battery, any second supply and network power. A door that is held by power is then free: somebody watches it."
	FirstDead    = "Read the same two terminals on volts first: only at 0 V turn to this range. Anything else means that something still feeds them: stop and find it."
	FirstPlug    = "Pull the plug only now, with everything off, and put it back before power returns."
	FirstCores   = "Mark the cores before they come off; take them off only with everything off, and land them again before power returns."
	FirstOnAgain = "Put every plug and core back, then give power with somebody at the door."
	FirstRelease = "Say at the door that the release is tried. Operate the release itself; never bridge its contacts or a fire contact, not for a moment."
	FirstMains   = "Leave mains terminals alone: the mains are switched off at the isolator, by whoever may do that."
)

// before lists what must be made sure of before a reading, in order.
func (f *Finder) before(in meter.Condition, q meter.Quantity) []string {
	var all []string
	if len(f.readings) == 0 || in.Power != f.now.in.Power { // what was seen may be what somebody called for
		all = append(all, FirstPeople)
	}
	if in.Act == meter.Fire {
		all = append(all, FirstFire)
	}
	if in.Act == meter.Release {
		all = append(all, FirstRelease)
	}
	switch {
	case in.Dead() && !f.now.in.Dead():
		all = append(all, FirstOff, FirstMains)
	case in.Power == meter.Battery && f.now.in.Power != meter.Battery:
		all = append(all, FirstMains)
	case !in.Dead() && f.now.in.Dead():
		all = append(all, FirstOnAgain)
	}
	if q != meter.Volts {
		all = append(all, FirstDead)
	}
	if in.Alone != "" || in.Pulled != "" && !f.isPlug(in.Pulled) {
		all = append(all, FirstCores)
	} else if in.Pulled != "" {
		all = append(all, FirstPlug)
	}
	return all
}

// test is a function test to repeat after a repair.
type test struct {
	says string
	when func(*job.Door) bool
	life bool // of getting out: repeated after any repair of a lock or release circuit
}

// tests is the one list of them, in the order of handing over. That every way of getting out is tried again after a
// repair of lock or release is common practice, and asked for by most rules of maintenance.
func tests() []test {
	always := func(*job.Door) bool { return true }
	hasFire := func(d *job.Door) bool {
		return d.Fire != nil || slices.ContainsFunc(d.Supplies(), func(s *job.Supply) bool { return s.Fire != nil })
	}
	return []test{
		{"volts at the lock, all locks on: at least what the lock needs", always, true},
		{"lock off: the leaf is free, nothing holds on", always, true},
		{"valid card: opens, locks again after the set time", func(d *job.Door) bool { return d.Entry != nil }, false},
		{"exit device: opens, no alarm", func(d *job.Door) bool { return len(d.Exits) > 0 }, true},
		{"manual release with the controller off: the lock lets go at once", func(d *job.Door) bool { return len(d.Releases) > 0 }, true},
		{"manual release let go: stays released as agreed", func(d *job.Door) bool { return len(d.Releases) > 0 }, true},
		{"manual release operated: card and software do not lock the door", func(d *job.Door) bool { return len(d.Releases) > 0 }, true},
		{"fire alarm, monitoring told: the lock lets go and stays released until reset", hasFire, true},
		{"one core of the fire signal off: the lock lets go", hasFire, true},
		{"mains off, battery on: the lock does what was agreed", always, true},
		{"mains and battery off: the door can be left", always, true},
		{"supply of the controller off: the door can be left", always, true},
		{"door forced and held open: both are reported", func(d *job.Door) bool { return len(d.Contacts) > 0 }, false},
	}
}

// testsAfter are the tests to repeat after the repair of a suspect.
func (f *Finder) testsAfter(s *suspect) []string {
	life := f.inRelease(s)
	var all []string
	for _, t := range tests() {
		if t.when(f.door) && (t.life == life || !t.life) {
			all = append(all, t.says)
		}
	}
	if s.fault == nil {
		return nil
	}
	return all
}

// inRelease says that a suspect touches the circuit of a lock, a release or a fire signal, or what feeds it.
func (f *Finder) inRelease(s *suspect) bool {
	if s.fault == nil {
		return false
	}
	for _, w := range s.fault.At {
		if w.Reason.Effect == wiring.LockDead {
			return true
		}
	}
	for _, d := range s.fault.Of {
		switch d.Role {
		case job.RoleLock, job.RoleRelease, job.RoleFire, job.RoleWatch, job.RoleInterpose, job.RoleSupply, job.RoleBattery,
			job.RoleBoard, job.RoleLoop, job.RoleController, job.RoleExit:
			return true
		}
		if len(d.Model.PortsOf(device.Fuse)) > 0 || len(d.Model.PortsOf(device.Diode)) > 0 || len(d.Model.PortsOf(device.Clamp)) > 0 {
			return true
		}
	}
	return false
}
