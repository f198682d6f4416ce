package meter

import (
	"math"

	"doorwright/device"
	"doorwright/fault"
	"doorwright/situation"
	"doorwright/wiring"
)

// Sighting is what is seen in a condition: of each sight how likely a yes is, of a number what arrives. Known says
// which sights can be seen in that condition at all.
type Sighting struct {
	Yes    map[Sight]float64
	Number string
}

// sighting tells what somebody at the door sees.
func (b *Book) sighting(bench *situation.Bench, in Condition, shows situation.Shows, f *fault.Fault) Sighting {
	d := b.Door
	state := bench.Door(d)
	yes := map[Sight]float64{
		LockHolds: holds(&state),
		Runs:      truth(state.Facts.Runs),
		FuseBlown: truth(bench.Overloaded() || b.tripped(bench)),
	}
	runs := state.Facts.Runs // else it shows nothing
	if len(d.Contacts) > 0 {
		yes[ShowsOpen] = truth(runs && state.Memory.Open)
	}
	if len(d.Exits) > 0 {
		yes[ShowsExit] = truth(runs && b.exitSeen(bench))
	}
	if d.Supervision != device.SchemeNone && d.Supervision != "" {
		yes[ShowsFault] = truth(runs && state.Memory.Tamper)
	}
	s := Sighting{Yes: yes}
	if d.Entry != nil {
		yes[ReaderDark] = truth(!bench.RunsID(d.Entry.ID))
		if in.Act == Card {
			yes[CardRead] = truth(shows.Heard)
			s.Number = numberOf(shows, f)
		}
	}
	if in.Act == Card || in.Act == Button {
		if port, ok := d.Controller.Model.FindPort(device.Changeover, "lock", d.Channel, ""); ok {
			u := b.island.Unit(d.Controller.ID)
			moved := bench.Signal(u, d.Controller.Model.SignalOf(port)) != d.Controller.Settings.Channels[d.Channel-1].EnergiseToLock
			yes[RelayClicks] = truth(moved && runs)
		}
	}
	return s
}

// holds is how likely people find a door held. Below its window a lock does what it should the less surely the less current it gets,
// down to where it lets go for certain: how much it needs goes by its load and its age.
func holds(state *situation.DoorState) float64 {
	most := 0.0
	for i := range state.Locks {
		l := &state.Locks[i]
		for _, name := range l.Lock.Model.PortsOf(device.LockCoil)[:1] {
			p := l.Lock.Model.Port(name)
			full := max(float64(p.Holds), float64(p.Window.Low)/float64(p.Ohms))
			works := (math.Abs(float64(l.Amps)) - float64(p.LetsGo)) / (full - float64(p.LetsGo))
			works = max(0, min(1, works))
			if p.Action != device.FailSafe {
				works = 1 - works
			}
			most = max(most, works)
		}
	}
	return most
}

// limitShare is the share of its limit from which an output counts as tripped: the limit sets in smoothly.
const limitShare = 0.9

// tripped says that an output gives all it may.
func (b *Book) tripped(bench *situation.Bench) bool {
	for i := range b.outputs {
		p := &b.outputs[i]
		if p.Port.Limit > 0 && float64(bench.Amps(p)) >= limitShare*float64(p.Port.Limit) {
			return true
		}
	}
	return false
}

func truth(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

// exitSeen says that the controller reads an exit request now.
func (b *Book) exitSeen(bench *situation.Bench) bool {
	m := b.Door.Controller.Model
	port, ok := m.FindPort(device.Input, "exit", b.Door.Channel, "")
	if !ok {
		return false
	}
	u := b.island.Unit(b.Door.Controller.ID)
	return u != nil && device.Active(bench.Settings(u).Input(m.Port(port)), bench.Reading(u, port).Level)
}

// numberOf says what arrives of a number by pulse lines: complement when the two lines are crossed, only the pulses of
// the other line when one is open (SIA AC-01: each bit is a pulse on one of two lines).
func numberOf(shows situation.Shows, f *fault.Fault) string {
	if shows.Heard {
		return "right"
	}
	if f == nil || shows.Failed == "no power" {
		return "none"
	}
	zero, one := touches(f, "d0"), touches(f, "d1")
	switch {
	case f.Class == fault.Swap && zero && one:
		return "complement"
	case f.Class == fault.Open && zero && !one:
		return "ones"
	case f.Class == fault.Open && one && !zero:
		return "zeros"
	}
	return "none"
}

// touches says that a fault is on a conductor that ends at a data pin.
func touches(f *fault.Fault, pin string) bool {
	for _, w := range f.At {
		for _, e := range []wiring.End{w.A, w.B} {
			if _, p := device.SplitPin(e.Pin); p == pin {
				return true
			}
		}
	}
	return false
}
