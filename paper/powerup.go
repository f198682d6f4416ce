package paper

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/record"
	"doorwright/wiring"
)

// powerUp lists the steps by which a door is given power, and what the unit should show or draw at each: the supply
// alone,
// its battery, then one unit after another from the supply outwards, the lock last.
func (w *Work) powerUp(f *flow, d *job.Door) {
	t := table{columns: []column{
		{title: "step", right: true},
		{title: "do", most: 50},
		{title: "must follow, calculated"},
		{title: "seen", least: 24, boxed: true},
	}}
	n := 0
	add := func(do, follows, seen string) {
		n++
		t.add(whole(n), do, follows, seen)
	}
	add("All plugs, battery and mains off.", "dead test passed; somebody watches the door; nobody is shut in", "")
	for _, s := range record.SuppliesOf(d) {
		supplyUp(add, s)
	}
	for _, x := range w.unitsOf(d) {
		add(plugIn(d, x), w.unitUp(d, x), w.drawn(x.ID))
	}
	for _, s := range record.SuppliesOf(d) {
		if l := w.loads[s.ID]; l != nil && l.Restless {
			add("All doors of "+s.ID+" on, nothing operated.", "not known: something keeps restarting; see the findings", w.drawn(s.ID))
		} else if l != nil {
			add("All doors of "+s.ID+" on, nothing operated.",
				"gives "+calculated(l.Idle.String())+", in line with its +", w.drawn(s.ID))
		}
	}
	add("Valid card, each exit, each release.", "as live test and function tests say", "")
	f.table(t)
}

// drawn is the current that was measured into a unit, or out of a supply; else the place to write it.
func (w *Work) drawn(device string) string {
	if w.Record != nil {
		if r := w.Record.Current(device); r != nil {
			return shownWords(r) + "; " + r.By + ", " + r.On.String() + ", " + r.Meter
		}
	}
	return markPrompt + "A"
}

func supplyUp(add func(do, follows, seen string), s *job.Supply) {
	add("Mains on at "+s.ID+" with no load.", floatWords(s)+"; no earth fault shown", markPrompt+"V")
	if s.Battery != nil {
		add("Battery of "+s.ID+" on, polarity read first.",
			"volts stay; charging current falls within the hour; trouble clears", markPrompt+"V, A")
	}
	if s.Board != nil {
		add("Plug in "+s.Board.ID+", no output yet.",
			"each output "+floatWords(s)+", those of the fire signal too", markPrompt+"V")
	}
}

// floatWords are the volts of a supply without load, by its data sheet.
func floatWords(s *job.Supply) string {
	for _, name := range s.Model.PortsOf(device.Source) {
		p := s.Model.Port(name)
		low, high := float64(p.Float)*(1-p.Spread), float64(p.Float)*(1+p.Spread)
		return calculated(fmt.Sprintf("%.2f V to %.2f V", low, high))
	}
	return ""
}

// unitsOf lists the units of a door that take power, from the controller outwards, locks last.
func (w *Work) unitsOf(d *job.Door) []*wiring.Device {
	var first, rest, locks []*wiring.Device
	for _, x := range w.Plan.Devices {
		switch {
		case x.ID == d.Controller.ID:
			first = append(first, x)
		case x.Door != d.ID:
		case x.Role == job.RoleLock:
			locks = append(locks, x)
		case len(x.Model.PortsOf(device.Load))+len(x.Model.PortsOf(device.Coil)) > 0 && x.Role != job.RoleController:
			rest = append(rest, x)
		}
	}
	return append(append(first, rest...), locks...)
}

func plugIn(d *job.Door, x *wiring.Device) string {
	return "Connect " + near(d, x.ID) + "."
}

// unitUp says what a unit draws and reads once it is connected, and what it should show.
func (w *Work) unitUp(d *job.Door, x *wiring.Device) string {
	var parts []string
	if r := w.firstLive(d, x); r != nil {
		parts = append(parts, strings.ReplaceAll(r.where, d.ID+".", "")+" "+calculated(bandWords(r.Pair.Quantity, r.Band)))
	}
	if i, is := w.draws[x.ID]; is {
		parts = append(parts, "draws "+calculated(i.Amps.String()))
	}
	switch x.Role {
	case job.RoleController:
		parts = append(parts, "running lamp, no trouble")
	case job.RoleEntry, job.RoleExitReader:
		parts = append(parts, "ready lamp")
	case job.RoleLock:
		parts = append(parts, lockShows(x))
	case job.RoleSounder:
		parts = append(parts, "silent")
	case job.RoleWatch, job.RoleInterpose:
		parts = append(parts, "pulls in")
	}
	return strings.Join(parts, "; ")
}

func lockShows(x *wiring.Device) string {
	for _, name := range x.Model.PortsOf(device.LockCoil) {
		if x.Model.Port(name).Action == device.FailSecure {
			return "locked without power; lets go on a grant"
		}
	}
	return "holds"
}

// firstLive is the first live reading of a unit of a door.
func (w *Work) firstLive(d *job.Door, x *wiring.Device) *reading {
	all := w.readingsOf(d)
	for i := range all {
		if r := &all[i]; r.spot.Device == x.ID && !r.Pair.In.Dead() {
			return r
		}
	}
	return nil
}
