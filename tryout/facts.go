package tryout

import (
	"fmt"

	"doorwright/device"
	"doorwright/situation"
	"doorwright/unit"
)

// rank is where in the chain of events a fact stands: power comes before what runs on it, what is seen before what is
// decided, what is decided before what moves.
type rank int

const (
	ofPower rank = iota
	ofRunning
	ofContact
	ofInput
	ofDecision
	ofRelay
	ofLock
	ofAlarm
	ranks
)

// fact is one thing about the door at one instant.
type fact struct {
	rank    rank
	subject string
	state   string
}

// facts lists everything about the door that has a name, in a fixed order.
func (v *viewer) facts() []fact {
	var all []fact
	for _, u := range v.try.near {
		all = append(all, v.factsOf(v.island.Unit(u.Device.ID))...)
	}
	d := v.bench.Door(v.try.door)
	all = append(all, decided(v.try.door.Controller.ID, d.Memory)...)
	for _, l := range d.Locks {
		all = append(all, fact{ofLock, l.Lock.ID, l.Effect.String()})
	}
	return all
}

func (v *viewer) factsOf(u *situation.Unit) []fact {
	var all []fact
	m := u.Device.Model
	if m.Running() != "" {
		all = append(all, fact{ofRunning, name(u.Device), either(v.bench.Runs(u), "runs", "has no power")})
	}
	for i := range m.Ports {
		key, p := m.Ports[i].Key, &m.Ports[i].Value
		if p.Channel > 0 && u.Device.ID == v.try.door.Controller.ID && p.Channel != v.try.door.Channel && v.try.door.Channel > 0 {
			continue
		}
		if f, ok := v.factOf(u, key, p); ok {
			all = append(all, f)
		}
	}
	return all
}

func (v *viewer) factOf(u *situation.Unit, key string, p *device.Port) (fact, bool) {
	subject := label(u, key)
	switch p.Is {
	case device.Source:
		return fact{ofPower, name(u.Device), powerState(v.bench, u, key, p)}, true
	case device.Input:
		if v.bench.Settings(u).Input(p).Used {
			return fact{ofInput, "input " + subject, "reads " + v.bench.Reading(u, key).Level.String()}, true
		}
	case device.Coil:
		return fact{ofRelay, "relay " + subject, either(v.bench.Signal(u, key), "pulled in", "let go")}, true
	case device.Contact:
		if on, ok := v.moved(u, key); ok {
			return fact{contactRank(u), "contact " + subject, either(on == (p.Rest == device.RestOpen), "closed", "open")}, true
		}
	case device.Changeover:
		if on, ok := v.moved(u, key); ok {
			return fact{contactRank(u), "changeover " + subject, either(on, "on NO", "on NC")}, true
		}
	case device.Output:
		if signal := u.Device.Model.SignalOf(key); signal != "" {
			return fact{ofRelay, "output " + subject, either(v.bench.Signal(u, signal) == (p.Rest == device.RestOpen), "on", "off")}, true
		}
	}
	return fact{}, false
}

// contactRank puts a contact that people or the door move before the inputs that see it.
func contactRank(u *situation.Unit) rank {
	if k := device.KindOf(u.Device.Model.Kind); k != nil && k.Act == nil {
		return ofContact
	}
	return ofRelay
}

// moved is the signal that moves a contact; false when nothing does.
func (v *viewer) moved(u *situation.Unit, key string) (on, ok bool) {
	signal := u.Device.Model.SignalOf(key)
	if signal == "" {
		return false, false
	}
	return v.bench.Signal(u, signal), true
}

// dark is what a supply gives when it gives nothing that a unit could run on (common practice, no source).
const dark unit.Volt = 1

func powerState(b *situation.Bench, u *situation.Unit, key string, p *device.Port) string {
	volts := b.Volts(u, device.PinOf(key, "plus"), device.PinOf(key, "minus"))
	switch {
	case volts < dark:
		return "gives nothing"
	case b.Signal(u, "mains") && volts < p.Float*(1-unit.Volt(p.Spread))-dark:
		return "is overloaded"
	case b.Signal(u, "mains"):
		return "gives power from the mains"
	}
	return "gives power from the battery"
}

func decided(controller string, mem device.ChannelMemory) []fact {
	return []fact{
		{ofDecision, controller, either(mem.UnlockLeft > 0, "keeps the door unlocked", "keeps the door locked")},
		{ofAlarm, "alarm door forced", either(mem.Forced, "on", "off")},
		{ofAlarm, "alarm door held open", either(mem.Held, "on", "off")},
		{ofAlarm, "alarm tamper", either(mem.Tamper, "on", "off")},
	}
}

func either(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

// label names a port by its unit and what is printed beside its first terminal.
func label(u *situation.Unit, key string) string {
	for _, pin := range device.Pins(*u.Device.Model.Port(key)) {
		if t := u.Device.Model.Terminal(device.PinOf(key, pin)); t != nil {
			return fmt.Sprintf("%s %s", u.Device.ID, t.Label)
		}
	}
	return u.Device.ID + " " + key
}

// Change is one thing that became different.
type Change struct {
	Subject, Was, Is string
}

// changes tells what differs between two instants, in the order in which it comes about. Both are of one door, so the
// lists have the same subjects in the same order.
func changes(was, is []fact) []Change {
	var all []Change
	for r := range ranks {
		for i, f := range is {
			if f.rank == r && f.state != was[i].state {
				all = append(all, Change{f.subject, was[i].state, f.state})
			}
		}
	}
	return all
}
