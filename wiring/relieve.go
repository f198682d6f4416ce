package wiring

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/unit"
)

// relieve puts junction terminals where a screw would get more cores than it takes, or a core it does not suit. What
// landed there lands on the junction, and one short lead goes on to the screw. Links stay where they are as long as
// the lead finds room beside them.
func (p *planner) relieve() {
	on := map[End][]*Conductor{}
	names := map[landing]string{}
	for _, c := range p.plan.Conductors {
		on[c.A] = append(on[c.A], c)
		names[landing{c, c.A}] = wayName(c, c.A, c.B)
		if c.B.Device != nil {
			on[c.B] = append(on[c.B], c)
			names[landing{c, c.B}] = wayName(c, c.B, c.A)
		}
	}
	for _, d := range slices.Clone(p.plan.Devices) {
		if d.Added != nil {
			continue // junctions have a way for each, and legs of components are spliced
		}
		for _, t := range d.Model.Strip {
			end := End{d, t.Pin}
			if why := tooMuch(t, on[end]); why != "" {
				p.junctionAt(end, p.byDoor(moved(t, on[end])), names, why)
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

// landing is a conductor at one of its ends.
type landing struct {
	*Conductor
	end End
}

// wayName is the name of the way that a conductor takes of a junction: by what lands there, never by how much does.
func wayName(c *Conductor, here, far End) string {
	switch c.Kind {
	case Core:
		return c.Run.ID + "-" + strconv.Itoa(c.Core.Index)
	case Screen: // its label may be in any script
		return c.Run.ID + "-screen" + strconv.Itoa(slices.IndexFunc(c.Run.Type.Screens(), func(s cable.Screen) bool { return c.ID == screenID(c.Run, s) }))
	}
	return strings.TrimPrefix(far.String(), here.Device.ID+".") // of what was added here
}

// screwWay is the way of a junction from which the lead goes to the screw.
const screwWay = "screw"

// byDoor puts landings in the order of the first door that each serves, what serves none before them: a door that is added
// after the others moves nobody on.
func (p *planner) byDoor(on []*Conductor) []*Conductor {
	first := func(c *Conductor) int { return slices.IndexFunc(p.plan.Job.Doors, c.Serves) }
	on = slices.Clone(on)
	slices.SortStableFunc(on, func(a, b *Conductor) int { return cmp.Compare(first(a), first(b)) })
	return on
}

// junctionAt moves landings of a terminal to a junction beside it, which has its name from that terminal.
func (p *planner) junctionAt(end End, on []*Conductor, names map[landing]string, why string) {
	reason := on[0].Reason
	reason.Why = why
	port, pin := device.SplitPin(end.Pin)
	id := end.Device.ID + "." + port
	if pin != port {
		id += "-" + pin
	}
	pins := []string{screwWay}
	for _, c := range on {
		pins = append(pins, names[landing{c, end}])
	}
	j := p.addBeside(end.Device, end.Device.Door, strip(id, reason, pins...))
	for i, c := range on {
		to := lone(j, pins[i+1])
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
	lead := &Conductor{Kind: Lead, A: end, B: lone(j, screwWay), Door: sharedDoor(on), Use: on[0].Use, Reason: on[0].Reason}
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
