package paper

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/wiring"
)

// powerUp lists the steps by which a door is given power, and what the unit should show or draw at each: the supply
// alone,
// its battery, then one unit after another from the supply outwards, the lock last.
func (w *Work) powerUp(f *flow, d *job.Door) {
	t := table{size: fine, columns: []column{
		{title: "step", right: true}, {title: "do"}, {title: "must follow, calculated"}, {
			title: "seen", least: 24,
			boxed: true,
		},
	}}
	n := 0
	add := func(do, follows string) {
		n++
		t.add(whole(n), do, follows, "")
	}
	add("Dead test passed; every plug pulled, battery off, mains off. Somebody watches the door; nobody is shut in.",
		"")
	for _, s := range record.SuppliesOf(d) {
		w.supplyUp(add, s)
	}
	for _, x := range w.unitsOf(d) {
		add(plugIn(x), w.unitUp(x))
	}
	add("Show a valid card; operate each exit device and each release.", "as the live test and the function tests say")
	f.table(t)
}

func (w *Work) supplyUp(add func(do, follows string), s *job.Supply) {
	add("Mains on at "+s.ID+" with no load.", floatWords(s)+"; no earth fault shown")
	if s.Battery != nil {
		add("Battery of "+s.ID+" on, polarity checked with the meter first.",
			"volts stay; the charging current falls within the hour; battery trouble clears")
	}
	if s.Board != nil {
		add("Plug in the board "+s.Board.ID+"; no output connected yet.",
			"each output "+floatWords(s)+", those that go off on the fire signal too")
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

func plugIn(x *wiring.Device) string {
	return "Connect " + x.ID + " (" + x.Title + ")."
}

// unitUp says what a unit draws and reads once it is connected, and what it should show.
func (w *Work) unitUp(x *wiring.Device) string {
	var parts []string
	if e := w.firstLive(x); e != nil {
		parts = append(parts, e.Label+" "+calculated(band(*e)))
	}
	if i, is := w.draws[x.ID]; is {
		parts = append(parts, "draws "+calculated(i.Amps.String()))
	}
	switch x.Role {
	case job.RoleController:
		parts = append(parts, "its running lamp; no tamper or trouble shown once all lines are connected")
	case job.RoleEntry, job.RoleExitReader:
		parts = append(parts, "its ready lamp")
	case job.RoleLock:
		parts = append(parts, lockShows(x))
	case job.RoleSounder:
		parts = append(parts, "silent")
	case job.RoleWatch, job.RoleInterpose:
		parts = append(parts, "pulls in when its coil has power")
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

// firstLive is the first live reading of a unit: nothing happens, doors locked.
func (w *Work) firstLive(x *wiring.Device) *meter.Expectation {
	all := w.byDoor[x.Door]
	for i := range all {
		if e := &all[i]; e.Device == x.ID && !e.Dead {
			return e
		}
	}
	return nil
}
