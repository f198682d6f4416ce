package job

import (
	"fmt"
	"strconv"
	"strings"

	"doorwright/device"
	"doorwright/unit"
)

// cableSet are the cable types taken by default, each list from few cores to many.
type cableSet struct {
	power    []string // feeds and lock circuits
	signal   []string // contacts
	screened []string // reader data, and contacts at the same place
	bus      []string // one pair for a bus, screened
}

// cableSet follows common practice: 0.75 mm2 or 18 AWG for locks, 0.22 mm2 or 22 AWG for the rest, screened for
// readers.
func (r *resolver) cableSet() cableSet {
	if r.job.NorthAmerican {
		return cableSet{
			power: []string{"18-4", "18-6"}, signal: []string{"22-6s"}, screened: []string{"22-6s"},
			bus: []string{"2x2x24awg-120s"},
		}
	}
	return cableSet{
		power: []string{"4x0.75"}, signal: []string{"8x0.22", "12x0.22"}, screened: []string{"8x0.22s"},
		bus: []string{"2x2x0.22s"},
	}
}

// need is how many cores the devices at a place ask for, roughly: enough to choose a cable, which wiring then fills.
type need struct {
	place               *Place
	power, signal, data int
	bus                 bool
}

// doorRuns enters the runs of a door that nobody wrote: from its controller to each place where it has devices and no
// written run ends.
func (r *resolver) doorRuns(d *Door, w *DoorDoc, touched map[*Place]bool) {
	path := under(under("doors", d.ID), "cable-length")
	optional(r, path, w.Length, longestRun)
	if d.Controller == nil || d.Controller.Place == nil {
		return
	}
	length, set, laid := w.Length, r.cableSet(), false
	if length == 0 {
		length = UsualLength
	}
	for _, n := range d.needs() {
		if n.place == d.Controller.Place || touched[n.place] {
			continue
		}
		id := d.ID + ".to-" + n.place.ID // "to-", because a place may be named "head" as well
		if end, own := strings.CutPrefix(n.place.ID, d.ID+"."); own {
			id = d.ID + "." + end
		}
		lay := func(end string, cables []string, cores int, carries Carries) {
			for i, c := range r.enough(cables, cores) {
				laid = true
				r.defaultRun(id+end+nth(i), d.Controller.Place, n.place, c, length, carries)
			}
		}
		lay(".p", set.power, n.power, Carries{Power: true})
		if n.data > 0 {
			lay(".s", set.screened, n.data+n.signal, Carries{Signal: true, Data: true})
		} else {
			lay(".s", set.signal, n.signal, Carries{Signal: true, Data: true})
		}
		if n.bus {
			lay(".d", set.bus, 3, Carries{Data: true})
		}
	}
	if laid && w.Length == 0 {
		r.assume(path, r.job.Measures.Length(UsualLength))
	}
}

// nth is what tells the second and further cables of a sort from the first.
func nth(i int) string {
	if i == 0 {
		return ""
	}
	return strconv.Itoa(i + 1)
}

// enough chooses cables that have so many cores together: the first that is enough alone, else several of the largest.
func (r *resolver) enough(cables []string, cores int) []string {
	var chosen []string
	for cores > 0 {
		c := cables[len(cables)-1]
		for _, id := range cables {
			if len(r.cables[id].Cores()) >= cores {
				c = id
				break
			}
		}
		chosen = append(chosen, c)
		cores -= len(r.cables[c].Cores())
	}
	return chosen
}

// defaultRun enters a run that nobody wrote.
func (r *resolver) defaultRun(id string, from, to *Place, cableID string, length unit.Metre, carries Carries) {
	path := under("runs", id)
	r.claim(id, path, "a run taken by default")
	r.join(from, to)
	r.job.Runs = append(r.job.Runs, &Run{
		ID: id, From: from, To: to, TypeID: cableID, Type: r.cables[cableID],
		Designed: length, Carries: carries, Assumed: true,
	})
	r.assume(path, fmt.Sprintf("%s of %s from %s to %s", r.job.Measures.Length(length), cableID, from.ID, to.ID))
}

// needs counts cores by place, in the order of the door's devices.
func (d *Door) needs() []*need {
	var all []*need
	at := func(f *Fitted) *need {
		for _, n := range all {
			if n.place == f.Place {
				return n
			}
		}
		all = append(all, &need{place: f.Place})
		return all[len(all)-1]
	}
	for _, f := range d.Fitted() {
		if f.Place != nil && f.Model != nil {
			at(f).add(d, f)
		}
	}
	return all
}

// add counts what one device asks for: two cores for each load, winding and contact, three for a data line, one for
// each further input. A contact in the lock feed takes power cores. A reader is fed over the cable of its data lines,
// unless that is a bus or it has a feed of its own.
func (n *need) add(d *Door, f *Fitted) {
	m := f.Model
	contacts := len(m.PortsOf(device.Contact)) + len(m.PortsOf(device.Changeover))
	n.power += 2 * len(m.PortsOf(device.LockCoil))
	if lines := len(m.PortsOf(device.PulseOut)) + len(m.PortsOf(device.SerialPort)); lines > 0 && !d.ownFeed(f) {
		n.data += 3*lines + 2*len(m.PortsOf(device.Load))
	} else {
		n.power, n.data = n.power+2*len(m.PortsOf(device.Load)), n.data+3*lines
	}
	n.bus = n.bus || has(m, device.Bus)
	if n.data > 0 || n.bus {
		n.signal += len(m.PortsOf(device.Input))
	}
	switch f.Role {
	case RoleFire:
		n.power += 2
	case RoleWatch, RoleInterpose:
		n.power, n.signal = n.power+2, n.signal+2
	case RoleExit:
		n.signal += 2
		if d.breaks(f) {
			n.power += 2
		}
	case RoleRelease:
		n.addRelease(d, f, contacts)
	case RoleLoop:
	default:
		n.signal += 2 * contacts
	}
}

// addRelease counts the poles of a release that stand in the lock feed, and what else tells of it.
func (n *need) addRelease(d *Door, f *Fitted, contacts int) {
	poles := 0
	for _, e := range f.Model.Ports {
		if e.Value.Is == device.Contact && e.Value.Use == "release" {
			poles++
		}
	}
	for _, e := range d.Releases {
		if &e.Fitted == f && e.InFeed {
			n.power += 2 * poles
			contacts -= poles
		}
	}
	n.signal += 2 * contacts
}

func (d *Door) breaks(f *Fitted) bool {
	for _, e := range d.Exits {
		if &e.Fitted == f {
			return e.Breaks
		}
	}
	return false
}

// ownFeed says that a reader is not fed by its controller's port.
func (d *Door) ownFeed(f *Fitted) bool {
	for _, r := range []*Reader{d.Entry, d.ExitReader} {
		if r != nil && &r.Fitted == f {
			return r.Feed != nil
		}
	}
	return false
}
