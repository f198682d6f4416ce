package wiring

import (
	"fmt"
	"sort"
	"strconv"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// wish is a join that an arrangement wants. Wishes of one group are laid in one sheath, side by side.
type wish struct {
	a, b   End
	use    Use
	door   string
	reason Reason
	group  int
	unsure bool
	feeds  *Device
}

// planner collects devices and wishes, then lays them.
type planner struct {
	plan   *Plan
	door   *job.Door // the door being planned; nil for what is shared
	wishes []wish
	groups int
	taken  map[string]bool // input ports in use, by node name
}

// Make makes the wiring plan of a job. It always returns a plan; what cannot be wired is in its Problems, and the
// rest is wired all the same.
func Make(j *job.Job) *Plan {
	p := &planner{plan: &Plan{Job: j, devices: map[string]*Device{}}, taken: map[string]bool{}}
	p.devices()
	for _, s := range j.Supplies {
		p.supply(s)
	}
	for _, c := range j.Controllers {
		p.controllerFeed(c)
		p.buses(c)
	}
	for _, d := range j.Doors {
		p.door = d
		p.lockFeed(d)
		p.inputs(d)
		p.readers(d)
		p.sounder(d)
	}
	p.door = nil
	newRouter(p).lay()
	p.relieve()
	p.finish()
	return p.plan
}

// devices enters every fitted device.
func (p *planner) devices() {
	j := p.plan.Job
	for _, s := range j.Supplies {
		p.fit(&s.Fitted, "")
		p.fit(s.Battery, "")
		p.fit(s.Board, "")
		p.fit(s.Fire, "")
		p.fit(s.Reset, "")
	}
	doorsOf := map[*job.Controller][]string{}
	for _, d := range j.Doors {
		doorsOf[d.Controller] = append(doorsOf[d.Controller], d.ID)
	}
	for _, c := range j.Controllers {
		door := ""
		if ds := doorsOf[c]; len(ds) == 1 {
			door = ds[0]
		}
		p.fit(&c.Fitted, door)
	}
	for _, d := range j.Doors {
		for _, f := range d.Fitted() {
			p.fit(f, d.ID)
		}
	}
}

func (p *planner) fit(f *job.Fitted, door string) {
	if f == nil {
		return
	}
	p.enter(&Device{ID: f.ID, Title: f.Title, Role: f.Role, ModelID: f.ModelID, Model: f.Model, Settings: f.Settings,
		Place: f.Place, Door: door, Leaf: f.Leaf})
}

func (p *planner) enter(d *Device) *Device {
	p.plan.Devices = append(p.plan.Devices, d)
	p.plan.devices[d.ID] = d
	return d
}

// add enters a component that nobody wrote down but the wiring needs.
func (p *planner) add(id, modelID string, m *device.Model, at *job.Place, door string, why Reason) *Device {
	return p.enter(&Device{ID: id, Title: m.Title, ModelID: modelID, Model: m, Place: at, Door: door, Added: &why})
}

// of is the plan's device for a fitted one.
func (p *planner) of(f *job.Fitted) *Device { return p.plan.devices[f.ID] }

func (p *planner) doorID() string {
	if p.door == nil {
		return ""
	}
	return p.door.ID
}

// newGroup starts a group of joins that lie side by side.
func (p *planner) newGroup() { p.groups++ }

// join wants a and b joined.
//
// A 0 V pin that is not brought out is reached over the nearest terminal of the same 0 V.
func (p *planner) join(a, b End, use Use, why Reason) {
	a, b = reach(a), reach(b)
	p.wishes = append(p.wishes, wish{a: a, b: b, use: use, door: p.doorID(), reason: why, group: p.groups})
}

func reach(e End) End {
	if t := e.Device.Model.Reach(e.Pin); t != nil {
		e.Pin = t.Pin
	}
	return e
}

func (p *planner) problem(where, what, add string) {
	p.plan.Problems = append(p.plan.Problems, Problem{where, what, add})
}

// port names a port of a device, or reports that the model lacks it.
func (p *planner) port(d *Device, is device.PortType, use string, channel int, side, what string) (string, bool) {
	if name, ok := findPort(d.Model, is, use, channel, side); ok {
		return name, true
	}
	p.problem(d.ID, fmt.Sprintf("%s (%s) has no %s", d.ID, d.ModelID, what), "fit a model that has one")
	return "", false
}

// findPort looks for a port of the channel first and for one that all channels share after that.
func findPort(m *device.Model, is device.PortType, use string, channel int, side string) (string, bool) {
	if name, ok := m.FindPort(is, use, channel, side); ok {
		return name, true
	}
	return m.FindPort(is, use, 0, side)
}

// finish orders the conductors and lists the spare cores.
func (p *planner) finish() {
	place := map[string]int{}
	for i, d := range p.plan.Devices {
		for k, t := range d.Model.Strip {
			place[End{d, t.Pin}.String()] = i*1000 + k
		}
	}
	at := func(c *Conductor) int { return place[c.A.String()] }
	sort.SliceStable(p.plan.Conductors, func(i, k int) bool { return at(p.plan.Conductors[i]) < at(p.plan.Conductors[k]) })
	used := map[string]bool{}
	for _, c := range p.plan.Conductors {
		if c.Kind == Core {
			used[c.ID] = true
		}
	}
	for _, r := range p.plan.Job.Runs {
		for _, c := range r.Type.Cores() {
			if !used[coreID(r, c.Index)] {
				p.plan.Spares = append(p.plan.Spares, Spare{r, c})
			}
		}
	}
}

// resistor adds an end-of-line resistor or terminator at a device.
func (p *planner) resistor(id string, ohms unit.Ohm, at *Device, why Reason) *Device {
	return p.add(id, "resistor "+ohms.String(), device.ResistorModel(ohms, endOfLineTolerance), at.Place, p.doorID(), why)
}

// endOfLineTolerance is that of the metal-film resistors sold for the purpose (E96 series, IEC 60063: 1 %).
const endOfLineTolerance = 0.01

// lone is a pin of a component that has one port.
func lone(d *Device, pin string) End { return End{d, device.PinOf(d.Model.Ports[0].Key, pin)} }

// way is one way of a junction.
func way(d *Device, n int) End { return lone(d, strconv.Itoa(n)) }
