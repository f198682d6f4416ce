package wiring

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// planner collects devices and wishes, then lays them.
type planner struct {
	plan   *Plan
	door   *job.Door // the door being planned; nil for what is shared
	wishes []*wish
	doors  map[*job.Controller][]*job.Door
	taken  map[End]bool                // input terminals in use
	ways   map[*Device]int             // ways wanted of each door loop, those it does not have included
	zeros  map[*job.Supply]*job.Supply // supplies whose 0 V are joined by a common, each with another of its set
	said   map[Problem]bool
}

// Make makes the wiring plan of a job. It always returns a plan; what cannot be wired is in its Problems, and the
// rest is wired all the same.
func Make(j *job.Job) *Plan {
	p := &planner{
		plan:  &Plan{Job: j, devices: map[string]*Device{}},
		doors: map[*job.Controller][]*job.Door{}, taken: map[End]bool{}, ways: map[*Device]int{},
		zeros: map[*job.Supply]*job.Supply{}, said: map[Problem]bool{},
	}
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
		p.exitFeeds(d)
		p.readers(d)
		p.sounder(d)
		p.loop(d)
	}
	p.door = nil
	newRouter(p).lay()
	p.screens()
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
	for _, d := range j.Doors {
		p.doors[d.Controller] = append(p.doors[d.Controller], d)
	}
	for _, c := range j.Controllers {
		door := ""
		if ds := p.doors[c]; len(ds) == 1 {
			door = ds[0].ID
		}
		p.fit(&c.Fitted, door)
	}
	for _, d := range j.Doors {
		for _, f := range d.Fitted() {
			p.fit(f, d.ID)
		}
		p.leaf(d)
	}
}

func (p *planner) fit(f *job.Fitted, door string) {
	if f == nil {
		return
	}
	p.enter(&Device{
		ID: f.ID, Title: f.Title, Role: f.Role, ModelID: f.ModelID, Model: f.Model, Settings: f.Settings,
		Place: f.Place, Door: door, Leaf: f.Leaf,
	})
}

func (p *planner) enter(d *Device) *Device {
	d.order = len(p.plan.Devices)
	p.plan.Devices = append(p.plan.Devices, d)
	p.plan.devices[d.ID] = d
	return d
}

// part is a component that nobody wrote down but the wiring needs: what it is, and why.
type part struct {
	id, modelID string
	model       *device.Model
	why         Reason
}

// addAt enters a part at a place.
func (p *planner) addAt(at *job.Place, door string, w part) *Device {
	return p.enter(&Device{
		ID: w.id, Title: w.model.Title, ModelID: w.modelID, Model: w.model, Place: at, Door: door, Added: &w.why,
	})
}

// addBeside enters a part beside a device: in the leaf when the device is.
func (p *planner) addBeside(d *Device, door string, w part) *Device {
	added := p.addAt(d.Place, door, w)
	added.over = d.over
	return added
}

// junction is a joint of so many ways.
func junction(id string, ways int, why Reason) part {
	return part{id, fmt.Sprintf("junction %d", ways), device.JunctionModel(ways), why}
}

// strip is a junction whose ways have names.
func strip(id string, why Reason, pins ...string) part {
	return part{id, fmt.Sprintf("junction %d", len(pins)), device.StripModel(pins...), why}
}

// resistor is an end-of-line resistor or a terminator.
func resistor(id string, ohms unit.Ohm, why Reason) part {
	return part{id, "resistor " + ohms.String(), device.ResistorModel(ohms, endOfLineTolerance), why}
}

// endOfLineTolerance is that of the metal-film resistors sold for the purpose (E96 series, IEC 60063: 1 %).
const endOfLineTolerance = 0.01

// pinOf is the end at one pin of a port of a device.
func pinOf(d *Device, port, pin string) End { return End{d, device.PinOf(port, pin)} }

// lone is a pin of a component that has one port.
func lone(d *Device, pin string) End { return pinOf(d, d.Model.Ports[0].Key, pin) }

// way is one way of a junction.
func way(d *Device, n int) End { return lone(d, fmt.Sprint(n)) }

// of is the plan's device for a fitted one.
func (p *planner) of(f *job.Fitted) *Device { return p.plan.devices[f.ID] }

func (p *planner) doorID() string {
	if p.door == nil {
		return ""
	}
	return p.door.ID
}

// problem notes what cannot be wired, once.
func (p *planner) problem(where, what, add string) {
	w := Problem{where, what, add}
	if !p.said[w] {
		p.said[w] = true
		p.plan.Problems = append(p.plan.Problems, w)
	}
}

// port names a port of a device, or reports that the model lacks it.
func (p *planner) port(d *Device, is device.PortType, use string, channel int, side, what string) (string, bool) {
	if name, ok := d.Model.FindPort(is, use, channel, side); ok {
		return name, true
	}
	p.problem(d.ID, fmt.Sprintf("%s has no %s", named(d), what), "fit a model that has one")
	return "", false
}

// named is a device with its model, as problems name it.
func named(d *Device) string { return d.ID + " (" + d.ModelID + ")" }

// settings are what the controller is set to for a door.
func settings(d *job.Door) device.ChannelSettings {
	if ch := d.Controller.Settings.Channels; d.Channel >= 1 && d.Channel <= len(ch) {
		return ch[d.Channel-1]
	}
	return device.ChannelSettings{}
}
