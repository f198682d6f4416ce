package situation

import (
	"math"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// Power is what a lock's winding gets, against the figures of its data sheet.
type Power int

// The answers. Undecided is between the two figures, where the data sheet promises nothing: it fails both getting out
// and keeping out.
const (
	Unpowered Power = iota
	Undecided
	Powered
)

// Effect is what follows at the door.
type Effect int

// The effects at a lock or a whole door.
const (
	Released Effect = iota
	Unclear
	Held
)

// String is the effect in one word, as the cause-and-effect matrix prints it.
func (e Effect) String() string {
	switch e {
	case Released:
		return "released"
	case Held:
		return "held"
	}
	return "undecided"
}

// LockState is one lock at one instant.
type LockState struct {
	Lock   *job.Lock
	Power  Power
	Effect Effect
	Volts  unit.Volt
	Amps   unit.Ampere
}

// Facts are what the world does to a door at one instant, and what its controller makes of it.
type Facts struct {
	Release    bool // a manual release at this door stands operated
	Fire       bool // a fire signal that acts on this door is there, or its line is lost
	Exit       bool // an exit device asks to leave
	DoorOpen   bool
	MainsLost  bool // of a supply this door depends on
	Flat       bool // batteries at their end
	Unfed      bool // the controller's supply is taken away
	Runs       bool // the controller works
	Hung       bool
	Unlocked   bool // the controller holds the door unlocked by a grant or an exit request
	DarkSource bool // the source of the lock feed gives nothing: neither mains nor battery
}

// DoorState is one door at one instant.
type DoorState struct {
	Door   *job.Door
	Facts  Facts
	Locks  []LockState
	Effect Effect // of all locks together: released only when every one is
	Memory device.ChannelMemory
}

// Door tells one door of the island at the present instant.
func (b *Bench) Door(d *job.Door) DoorState {
	s := DoorState{Door: d, Effect: Released}
	for _, l := range d.Locks {
		ls := b.lock(l)
		s.Locks = append(s.Locks, ls)
		s.Effect = max(s.Effect, ls.Effect)
	}
	controller := b.island.byID[d.Controller.ID]
	s.Facts = b.facts(d, controller)
	if d.Channel <= device.MaxChannels {
		s.Memory = b.mem[controller.index].Channels[d.Channel-1]
	}
	s.Facts.Unlocked = s.Memory.UnlockLeft > 0
	return s
}

func (b *Bench) lock(l *job.Lock) LockState {
	u := b.island.byID[l.ID]
	s := LockState{Lock: l}
	if u == nil || len(u.locks) == 0 {
		return s
	}
	w := u.locks[0]
	name, _ := device.SplitPin(w.part.Name)
	p := u.Device.Model.Port(name)
	plus, minus := b.net.Ends(w.element)
	s.Volts = b.sys.Volts(plus) - b.sys.Volts(minus)
	s.Amps = b.sys.Current(w.element)
	s.Power = powerOf(p, unit.Ampere(math.Abs(float64(s.Amps))))
	s.Effect = effectOf(p.Action, s.Power)
	return s
}

func powerOf(p *device.Port, i unit.Ampere) Power {
	switch {
	case i >= p.Holds:
		return Powered
	case i <= p.LetsGo:
		return Unpowered
	}
	return Undecided
}

func effectOf(action string, p Power) Effect {
	switch {
	case p == Undecided:
		return Unclear
	case (action == device.FailSafe) == (p == Powered):
		return Held
	}
	return Released
}

func (b *Bench) facts(d *job.Door, controller *Unit) Facts {
	f := Facts{Flat: b.batteryEnd, Runs: b.Runs(controller), Hung: b.Signal(controller, "hung"), Unfed: b.Signal(controller, Unfed)}
	for _, r := range d.Releases {
		f.Release = f.Release || b.signalOf(r.ID, "operated")
	}
	if d.Fire != nil {
		f.Fire = b.signalOf(d.Fire.ID, "fire") || b.signalOf(d.Fire.ID, "line-lost")
	}
	for _, e := range d.Exits {
		f.Exit = f.Exit || b.signalOf(e.ID, "pressed") || b.signalOf(e.ID, "sees")
	}
	for _, l := range d.Locks {
		f.Exit = f.Exit || b.signalOf(l.ID, "handle")
	}
	for _, c := range d.Contacts {
		f.DoorOpen = f.DoorOpen || !b.signalOf(c.ID, "door-closed")
	}
	for _, s := range suppliesOf(d) {
		lost := !b.signalOf(s.ID, "mains")
		f.MainsLost = f.MainsLost || lost
		f.DarkSource = f.DarkSource || lost && (s.Battery == nil || !b.signalOf(s.Battery.ID, "connected"))
		if s.Fire != nil && releasedByBoard(d, s) {
			f.Fire = f.Fire || b.signalOf(s.Fire.ID, "fire") || b.signalOf(s.Fire.ID, "line-lost")
		}
	}
	return f
}

// signalOf is the value of a signal of a device by id.
func (b *Bench) signalOf(id, name string) bool {
	u := b.island.byID[id]
	return u != nil && b.Signal(u, name)
}

// LockSupply is the supply a door's locks hang on, directly or through the controller.
func LockSupply(d *job.Door) *job.Supply {
	if len(d.Locks) == 0 {
		return nil
	}
	if f := d.Locks[0].Feed; !f.Controller {
		return f.Supply
	}
	return d.Controller.Feed.Supply
}

// suppliesOf lists the supplies a door depends on: that of its locks and that of its controller.
func suppliesOf(d *job.Door) []*job.Supply {
	var all []*job.Supply
	if s := LockSupply(d); s != nil {
		all = append(all, s)
	}
	if s := d.Controller.Feed.Supply; s != nil && (len(all) == 0 || all[0] != s) {
		all = append(all, s)
	}
	return all
}

// releasedByBoard says that a board's fire input takes the power from a door's locks.
func releasedByBoard(d *job.Door, s *job.Supply) bool {
	if s.Board == nil || len(d.Locks) == 0 {
		return false
	}
	f := d.Locks[0].Feed
	if f.Controller {
		f = d.Controller.Feed
	}
	out := s.Board.Settings.Outputs
	return f.Supply == s && f.Output >= 1 && f.Output <= len(out) && out[f.Output-1].Releases
}
