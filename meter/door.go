package meter

import (
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// sheetPlace is a door as the sheets see it.
type sheetPlace struct {
	island     *situation.Island
	door       *job.Door
	controller *situation.Unit
	landed     map[string]bool // node names of terminals with a core
}

// placesOf lists the doors of an island.
func placesOf(is *situation.Island, landed map[string]bool) []*sheetPlace {
	var all []*sheetPlace
	for _, d := range is.Doors {
		all = append(all, &sheetPlace{is, d, is.Unit(d.Controller.ID), landed})
	}
	return all
}

func landings(plan *wiring.Plan) map[string]bool {
	landed := map[string]bool{}
	for _, c := range plan.Conductors {
		landed[c.A.String()], landed[c.B.String()] = true, true
	}
	return landed
}

// operation is something that moves a contact which an input reads.
type operation struct {
	say   string
	steps []situation.Step
}

// operations are what moves the contacts at an input of a use.
func (p *sheetPlace) operations(use string) []operation {
	var all []operation
	add := func(id string) {
		if say, steps := cause(p.island, p.door, id); steps != nil {
			all = append(all, operation{say, steps})
		}
	}
	switch use {
	case "exit":
		add("exit")
	case "contact":
		add("forced")
	case "aux":
		for _, a := range p.door.Aux {
			if do := toggle(&a.Fitted); do != nil {
				say := "contact of " + a.Title + " moved"
				all = append(all, operation{say, []situation.Step{{Say: say, Do: do, Wait: 1, Watched: true}}})
			}
		}
		add("release")
	}
	return all
}

// toggle takes the contact of a device out of its rest position by the world's hand; nil when the world cannot.
func toggle(f *job.Fitted) []situation.Action {
	k := device.KindOf(f.Model.Kind)
	for _, e := range f.Model.Ports {
		signal := f.Model.SignalOf(e.Key)
		if (e.Value.Is == device.Contact || e.Value.Is == device.Changeover) && k != nil && slices.Contains(k.World, signal) {
			return []situation.Action{{Device: f.ID, Signal: signal, On: !slices.Contains(k.Wakes, signal)}}
		}
	}
	return nil
}

// locks are the terminals of the locks of a door.
func (p *sheetPlace) locks(why string) []point {
	var all []point
	for _, l := range p.door.Locks {
		all = append(all, pairs(p.island.Unit(l.ID), p.door.ID, device.LockCoil, why)...)
	}
	return all
}

// inputs are the inputs of a door at its controller, of one use or, for an empty use, of any.
func (p *sheetPlace) inputs(use, why string) []point {
	if p.controller == nil {
		return nil
	}
	var all []point
	for _, in := range inputsOf(p.controller, p.landed, p.door.Channel) {
		if use == "" || in.use == use {
			all = append(all, point{p.controller, p.door.ID, in.in, in.against, why})
		}
	}
	return all
}

// pairs are the plus and minus terminals of the ports of a type.
func pairs(u *situation.Unit, door string, is device.PortType, why string) []point {
	if u == nil {
		return nil
	}
	var all []point
	m := u.Device.Model
	for _, name := range m.PortsOf(is) {
		plus, minus := m.Reach(device.PinOf(name, "plus")), m.Reach(device.PinOf(name, "minus"))
		if plus != nil && minus != nil {
			all = append(all, point{u, door, plus.Pin, minus.Pin, why})
		}
	}
	return all
}
