package meter

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// Listed is one reading of a list, with what a sound door shows and what it is read for.
type Listed struct {
	Pair Pair
	Band Band
	Why  string
}

// few is a reading of the short list before anything is solved.
type few struct {
	ends
	in    Condition
	why   string
	still bool // worth a line even where it is as with nothing operated
}

// ShortList is the readings that a sheet of paper carries, dead test before live test: each supply rail, winding, way
// out, line of an input and data line once, each in the conditions that move it. They prove what is there; which few
// readings show every fault that can be shown is the business of package find, which needs every fault for it. The book
// holds these pairs only, and costs as little.
func ShortList(site *situation.Site, door *job.Door, m Meter) (*Book, []Listed) {
	b := &Book{Door: door, Meter: m, site: site, island: site.Island(door.Controller.ID)}
	b.Knobs = b.island.Knobs(nil, false)
	b.outputs = b.island.Probes(device.Output)
	wanted := b.few()
	for _, in := range conditionsOf(wanted) {
		var at []ends
		for _, f := range wanted {
			if f.in == in {
				at = append(at, f.ends)
			}
		}
		b.stop(in, at)
	}
	b.open()
	b.Sound = b.row(b.live(), nil)
	return b, b.listed(wanted)
}

// conditionsOf are the conditions of readings in the order of the work: dead ones, then with power, act by act, then on
// battery.
func conditionsOf(all []few) []Condition {
	var list []Condition
	seen := map[Condition]bool{}
	take := func(want func(Condition) bool) {
		for _, f := range all {
			if !seen[f.in] && want(f.in) {
				seen[f.in] = true
				list = append(list, f.in)
			}
		}
	}
	take(Condition.Dead)
	for _, act := range Acts() {
		take(func(c Condition) bool { return c.Power == On && c.Act == act })
	}
	take(func(Condition) bool { return true })
	return list
}

// listed are the readings that say something: what an act does not move is left out, but for what bears on life.
func (b *Book) listed(wanted []few) []Listed {
	var list []Listed
	rest := map[Pair]Shown{}
	for k, p := range b.Pairs {
		f := wantedAt(wanted, p)
		pair := Pair{At: p.At, To: p.To, Quantity: p.Quantity}
		if before, known := rest[pair]; known && !f.still && alike(b.Sound.Shown[k], before) {
			continue
		}
		if p.In.Act == Idle {
			rest[pair] = b.Sound.Shown[k]
		}
		list = append(list, Listed{p, b.Band(k), f.why})
	}
	return list
}

func wantedAt(wanted []few, p Pair) few {
	for _, f := range wanted {
		if f.in == p.In && f.at == p.At && f.to == p.To {
			return f
		}
	}
	return few{}
}

// few lists what is read, port by port.
func (b *Book) few() []few {
	var all []few
	for _, u := range b.units() {
		for _, e := range u.Model.Ports {
			if at := b.ofPort(u, e.Key, ""); len(at) > 0 {
				all = append(all, b.fewAt(u, e.Key, at)...)
			}
		}
	}
	return all
}

// fewAt are the readings of one port of a unit between the first of its pairs of terminals; of data lines all of them.
func (b *Book) fewAt(u *wiring.Device, key string, at []ends) []few {
	p := u.Model.Port(key)
	alone := Condition{Power: Off, Act: Idle, Alone: u.ID}
	first := at[0]
	switch p.Is {
	case device.LockCoil:
		return b.fewAtLock(first, alone)
	case device.Contact:
		return fewAtContact(u, first, alone)
	case device.Input:
		return b.fewAtInput(u, p, first)
	case device.Source:
		if u.Role == job.RoleSupply {
			return []few{{first, Undisturbed(), "the supply's output under its load", false}}
		}
	case device.Battery:
		if u.Role != job.RoleBattery {
			return nil // the same as at the battery, but for its leads
		}
		return []few{{first, Condition{Power: Battery, Act: Idle}, "the battery under its load", false}}
	case device.Load:
		if u.Role != job.RoleSounder {
			return []few{{first, Undisturbed(), "the supply of this unit at its own terminals", false}}
		}
	case device.Coil:
		return []few{{first, Undisturbed(), "the coil of this relay", false}}
	case device.PulseOut, device.SerialPort, device.Bus:
		return fewOnData(u, p, at)
	}
	return nil
}

func (b *Book) fewAtLock(at ends, alone Condition) []few {
	dead := at
	dead.powered, dead.junction = false, false // off its wires; beside a winding no suppressor shows
	all := []few{
		{dead, alone, "its winding, cold to warm from use; near nothing is a short, over range a break", true},
		{at, Undisturbed(), "the door is locked", true},
		{at, Condition{Power: On, Act: Card}, "the lock relay has changed over", true},
		{at, Condition{Power: On, Act: Release}, "the release alone takes the power from the lock", true},
	}
	if b.Door.Fire != nil || b.fedThroughFire() {
		all = append(all, few{at, Condition{Power: On, Act: Fire}, "the fire signal takes the power from the lock", true})
	}
	return append(all, few{at, Condition{Power: Battery, Act: Idle}, "the door is locked, on battery", false})
}

// fedThroughFire says that a fire signal acts on a supply of the door.
func (b *Book) fedThroughFire() bool {
	for _, s := range b.Door.Supplies() {
		if s.Fire != nil {
			return true
		}
	}
	return false
}

// fewAtContact are the poles of a manual release, healthy and operated, and the contact of a fire signal.
func fewAtContact(u *wiring.Device, at ends, alone Condition) []few {
	switch u.Role {
	case job.RoleRelease:
		operated := alone
		operated.Act = Release
		why := "this pole alone must take the power from the lock; all poles change together"
		return []few{{at, alone, why, true}, {at, operated, why, true}}
	case job.RoleFire:
		return []few{{at, alone, "the fire contact, no alarm; in alarm it must change over", true}}
	}
	return nil
}

// fewAtInput are the line of an input, at rest and operated: dead where resistors stand on it, else live.
func (b *Book) fewAtInput(u *wiring.Device, p *device.Port, at ends) []few {
	s := u.Settings.Input(p)
	if !s.Used {
		return nil
	}
	if u.Role != job.RoleController && u.Role != job.RoleBoard {
		return []few{{at, Undisturbed(), "idle: this unit pulls the line up, the controller leaves it", false}}
	}
	act, known := map[string]Act{"exit": Button, "contact": DoorOpen, "aux": Release, "fire": Fire}[p.Use]
	var all []few
	deadToo := false
	if t := b.terminal(at.at); s.Scheme != device.SchemeNone && s.Scheme != "" && t != nil && t.Plug != "" {
		why := "resistors and cable, read into the plug; the same with the cable cut at the device: they sit at the wrong end"
		off := Condition{Power: Off, Act: Idle, Pulled: u.ID + "/" + t.Plug}
		all, deadToo = append(all, few{at, off, why, false}), true
		if off.Act = act; known {
			all = append(all, few{at, off, "the same line with its contact moved", false})
		}
	}
	all = append(all, few{at, Undisturbed(), "pull-up against the line with its contact at rest", false})
	if known && !deadToo { // the function tests show that a line whose resistors are right is read
		all = append(all, few{at, Condition{Power: On, Act: act}, "pull-up against the line with its contact moved", false})
	}
	return all
}

// terminal is a terminal by its name.
func (b *Book) terminal(name string) *device.Terminal {
	d := b.Device(name)
	if d == nil {
		return nil
	}
	return d.Model.Terminal(name[len(d.ID)+1:])
}

// fewOnData are the terminators of a bus, dead at the controller, and the idle lines at a reader.
func fewOnData(u *wiring.Device, p *device.Port, at []ends) []few {
	if u.Role == job.RoleController {
		if p.Is != device.Bus {
			return nil
		}
		why := "both terminators side by side, and the cable; one missing doubles it, a third lowers it by a third"
		return []few{{at[0], Condition{Power: Off, Act: Idle}, why, false}}
	}
	why := map[device.PortType]string{
		device.PulseOut:   "idle: the controller's pull-up holds the line high",
		device.SerialPort: "idle: marks, negative",
		device.Bus:        "idle: the bias holds b above a; while units talk the reading jumps",
	}[p.Is]
	if p.Is == device.Bus {
		at = at[:1]
	}
	var all []few
	for _, e := range at {
		all = append(all, few{e, Undisturbed(), why, false})
	}
	return all
}
