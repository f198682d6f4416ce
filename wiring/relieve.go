package wiring

import (
	"slices"
	"strconv"

	"doorwright/device"
	"doorwright/unit"
)

// relieve puts junction terminals where a screw would get more cores than it takes, or a core it does not suit. What
// landed there lands on the junction, and one short lead goes on to the screw. Links stay where they are as long as
// the lead finds room beside them.
func (p *planner) relieve() {
	on := map[End][]*Conductor{}
	for _, c := range p.plan.Conductors {
		on[c.A] = append(on[c.A], c)
		if c.B.Device != nil {
			on[c.B] = append(on[c.B], c)
		}
	}
	for _, d := range slices.Clone(p.plan.Devices) {
		if d.Added != nil {
			continue // junctions have a way for each, and legs of components are spliced
		}
		n := 0
		for _, t := range d.Model.Strip {
			end := End{d, t.Pin}
			if why := tooMuch(t, on[end]); why != "" {
				n++
				p.junctionAt(end, moved(t, on[end]), why, n)
			}
		}
	}
	p.suitJunctions()
}

// tooMuch says why what lands on a terminal is too much for it; nothing when it is not.
func tooMuch(t device.Terminal, on []*Conductor) string {
	if len(on) > t.Takes() {
		return whyCrowded
	}
	for _, c := range on {
		if c.Kind == Core && !t.Suits(c.Core.Conductor.Size) {
			return whyOddSize
		}
	}
	return ""
}

// moved are the landings that go to the junction: all but links, and links too where the screw has no room for them
// and the lead.
func moved(t device.Terminal, on []*Conductor) []*Conductor {
	rest := slices.DeleteFunc(slices.Clone(on), func(c *Conductor) bool { return c.Kind == Link })
	if links := len(on) - len(rest); links+1 > t.Takes() || len(rest) == 0 {
		return on
	}
	return rest
}

// junctionAt moves landings of a terminal to a junction beside it.
func (p *planner) junctionAt(end End, on []*Conductor, why string, n int) {
	reason := on[0].Reason
	reason.Why = why
	j := p.addBeside(end.Device, end.Device.Door, junction(end.Device.ID+".j"+strconv.Itoa(n), len(on)+1, reason))
	for i, c := range on {
		to := way(j, i+2)
		if c.A == end {
			c.A = to
		} else {
			c.B = to
		}
		if c.Kind != Core && c.Kind != Screen {
			c.Kind = localKind(c.A, c.B)
			c.ID = localID(c.Kind, c.A, c.B)
		}
	}
	lead := &Conductor{Kind: Lead, A: end, B: way(j, 1), Door: sharedDoor(on), Use: on[0].Use, Reason: on[0].Reason}
	lead.ID = localID(Lead, lead.A, lead.B)
	if len(on) == 1 {
		lead.Feeds = on[0].Feeds
	}
	p.plan.Conductors = append(p.plan.Conductors, lead)
}

// suitJunctions takes junctions with terminals for the cores that land on them, where the usual ones do not suit.
func (p *planner) suitJunctions() {
	for _, c := range p.plan.Conductors {
		if c.Kind != Core {
			continue
		}
		for _, e := range []End{c.A, c.B} {
			if t := e.Device.Model.Terminal(e.Pin); isJunction(e.Device) && !t.Suits(c.Core.Conductor.Size) {
				suit(e.Device, c.Core.Conductor.Size)
			}
		}
	}
}

func isJunction(d *Device) bool { return d.Added != nil && d.Model.Ports[0].Value.Is == device.Bar }

// suit widens the range of all ways of a junction. Its model is its own.
func suit(junction *Device, size unit.Size) {
	for i := range junction.Model.Strip {
		t := &junction.Model.Strip[i]
		if from, _ := t.Range(); size.Area() < from.Area() {
			t.From = size
		} else {
			t.To = size
		}
	}
	junction.ModelID += " for " + size.String()
}

// sharedDoor is the door that all conductors serve; empty when there are several.
func sharedDoor(on []*Conductor) string {
	for _, c := range on {
		if c.Door != on[0].Door {
			return ""
		}
	}
	return on[0].Door
}
