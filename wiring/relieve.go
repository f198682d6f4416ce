package wiring

import (
	"fmt"
	"strconv"

	"doorwright/device"
)

// relieve puts junction terminals where a screw would get more cores than it takes, or a core it does not suit. All
// that landed there lands on the junction, and one short lead goes on to the screw.
func (p *planner) relieve() {
	landings := map[End][]*Conductor{}
	for _, c := range p.plan.Conductors {
		landings[c.A] = append(landings[c.A], c)
		if c.B.Device != nil {
			landings[c.B] = append(landings[c.B], c)
		}
	}
	for _, d := range append([]*Device(nil), p.plan.Devices...) {
		n := 0
		for _, t := range d.Model.Strip {
			end := End{d, t.Pin}
			on := landings[end]
			why, needed := mustRelieve(t, on)
			if !needed || isComponent(d) {
				continue
			}
			n++
			p.junctionAt(end, on, why, n)
		}
	}
}

// mustRelieve says whether what lands on a terminal is too much for it.
func mustRelieve(t device.Terminal, on []*Conductor) (string, bool) {
	if len(on) == 0 {
		return "", false
	}
	if len(on) > t.Takes() {
		return whyCrowded, true
	}
	for _, c := range on {
		if c.Kind == Core && !t.Suits(c.Core.Conductor.Size) {
			return whyOddSize, true
		}
	}
	return "", false
}

// junctionAt moves the landings of a terminal to a junction beside it.
func (p *planner) junctionAt(end End, on []*Conductor, why string, n int) {
	reason := on[0].Reason
	reason.Why = why
	ways := len(on) + 1
	id := end.Device.ID + ".j" + strconv.Itoa(n)
	j := p.add(id, fmt.Sprintf("junction %d", ways), device.JunctionModel(ways), end.Device.Place, end.Device.Door, reason)
	for i, c := range on {
		to := way(j, i+2)
		if c.A == end {
			c.A = to
		} else {
			c.B = to
		}
		if c.Kind != Core && c.Kind != Screen {
			c.Kind = kindOf(c)
			c.ID = string(c.Kind) + ":" + c.A.String() + ":" + c.B.String()
		}
	}
	lead := &Conductor{Kind: Lead, A: end, B: way(j, 1), Door: on[0].Door, Use: on[0].Use, Reason: on[0].Reason, Feeds: on[0].Feeds}
	lead.ID = string(Lead) + ":" + lead.A.String() + ":" + lead.B.String()
	if on[0].Kind == Screen {
		lead.Use = Signal
	}
	p.plan.Conductors = append(p.plan.Conductors, lead)
}

func kindOf(c *Conductor) Kind {
	switch {
	case c.A.Device == c.B.Device:
		return Link
	case isComponent(c.A.Device) || isComponent(c.B.Device):
		return Leg
	}
	return Lead
}
