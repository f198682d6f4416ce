package fault

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// BridgeOhms is two coppers pressed together: tens of milliohms, as a worn contact has. It is well above the joints that
// carry current soundly (5 milliohm) and well below every load (common practice, no source).
const BridgeOhms unit.Ohm = 0.05

// point is a place where conductors can be touched.
type point struct {
	node string
	name string // as in "A and B are joined"
	on   []*wiring.Conductor
}

// pairs are the pairs of nets that are already bridged at one place.
type pairs map[[2]string]bool

// fresh says that two nodes lie on different nets which have not been bridged here, and notes them.
func (p pairs) fresh(n nets, a, b string) bool {
	ra, rb := n.root(a), n.root(b)
	key := [2]string{min(ra, rb), max(ra, rb)}
	if ra == rb || p[key] {
		return false
	}
	p[key] = true
	return true
}

// bridges lists two conductors joined: two cores in one sheath, two neighbours on a strip, two sides of a contact, two
// conductors in one box. Nodes that the plan joins anyway are left out, and so is what is bridged at that place already.
func (c *lister) bridges() {
	for _, run := range c.runs {
		c.sheath(run)
	}
	seen := map[*job.Place]pairs{}
	for _, d := range c.devices {
		here := pairs{}
		c.strip(d, here)
		c.contactSides(d, here)
		if seen[d.Place] == nil {
			seen[d.Place] = pairs{}
		}
		for key := range here {
			seen[d.Place][key] = true
		}
	}
	c.boxes(seen)
}

// joined is two points joined.
func joined(id, where, repair string, a, b point) Fault {
	at := appendNew(slices.Clone(a.on), b.on...)
	return Fault{
		ID: typable(id), Class: Bridge, Name: fmt.Sprintf("%s and %s are joined", a.name, b.name),
		Where: where, Repair: repair, Spread: touchSpread,
		Edits: []Edit{{Op: Join, A: a.node, B: b.node, Ohms: BridgeOhms}}, At: at, Of: endsOf(at...),
	}
}

// sheath bridges the cores of a run.
func (c *lister) sheath(run *job.Run) {
	seen, cores := pairs{}, c.cores[run]
	for i, v := range cores {
		for _, w := range cores[i+1:] {
			a, b := c.coreAt(v, run.To), c.coreAt(w, run.To)
			if c.mine(v, w) && seen.fresh(c.nets, a.node, b.node) {
				c.put(joined(fmt.Sprintf("bridge:%s/%d+%d", run.ID, v.Core.Index, w.Core.Index),
					fmt.Sprintf("in the sheath of %s, from %s to %s", run.ID, run.From.ID, run.To.ID),
					"Find the nail, the kink or the crushed place; use spare cores or pull a new cable.", a, b))
			}
		}
	}
}

// coreAt is a core where it comes out at a place.
func (c *lister) coreAt(w *wiring.Conductor, at *job.Place) point {
	return point{endAt(w, at).String(), NameOf(w), []*wiring.Conductor{w}}
}

// endAt is the end of a core at a place.
func endAt(w *wiring.Conductor, at *job.Place) wiring.End {
	if w.A.Device.Place == at {
		return w.A
	}
	return w.B
}

// terminal is a terminal with what is landed on it.
func (c *lister) terminal(d *wiring.Device, pin string) point {
	end := wiring.End{Device: d, Pin: pin}
	return point{end.String(), spot(end), c.landed[end]}
}

// strip bridges the neighbours on the strip of a unit. The legs of a component are no strip.
func (c *lister) strip(d *wiring.Device, seen pairs) {
	if d.Added != nil {
		return
	}
	for i := 1; i < len(d.Model.Strip); i++ {
		a, b := c.terminal(d, d.Model.Strip[i-1].Pin), c.terminal(d, d.Model.Strip[i].Pin)
		if !c.mine(slices.Concat(a.on, b.on)...) || !c.counts(d, d.Model.Strip[i-1].Pin, d.Model.Strip[i].Pin) {
			continue
		}
		if seen.fresh(c.nets, a.node, b.node) {
			c.put(c.side(d, a, b, "on the strip of "+title(d),
				"Cut back stray strands and remove what lies between the terminals."))
		}
	}
}

// side is two terminals of one unit joined.
func (c *lister) side(d *wiring.Device, a, b point, where, repair string) Fault {
	pin := b.node[len(d.ID)+1:]
	f := joined("bridge:"+a.node+"+"+pin, where, repair, a, b)
	f.Of = []*wiring.Device{d}
	return f
}

// counts says that it makes a difference when two terminals of a unit are joined. It makes none at a contact nobody uses,
// nor between the two sides of a contact of which one goes nowhere; between the two throws of a changeover it does.
func (c *lister) counts(d *wiring.Device, a, b string) bool {
	portA, pinA := device.SplitPin(a)
	portB, pinB := device.SplitPin(b)
	bare := len(c.terminal(d, a).on) == 0 || len(c.terminal(d, b).on) == 0
	if portA == portB && bare && (pinA == "common" || pinB == "common" || d.Model.Port(portA).Is == device.Contact) {
		return !isContact(d.Model.Port(portA))
	}
	return c.alive(d, a) && c.alive(d, b)
}

func isContact(p *device.Port) bool { return p.Is == device.Contact || p.Is == device.Changeover }

// alive says that something can flow at a terminal: it is landed, or its port is more than a contact nobody uses.
func (c *lister) alive(d *wiring.Device, pin string) bool {
	name, _ := device.SplitPin(pin)
	switch p := d.Model.Port(name); {
	case p == nil:
		return false
	case isContact(p), p.Is == device.Bar, p.Is == device.Through:
		return len(c.onPort(d, name)) > 0
	}
	return true
}

// contactSides bridges the sides of every contact in use.
func (c *lister) contactSides(d *wiring.Device, seen pairs) {
	for _, e := range d.Model.Ports {
		if !isContact(&e.Value) {
			continue
		}
		var used []point
		for _, pin := range pinsOf(d, e.Key) {
			if p := c.terminal(d, pin); len(p.on) > 0 {
				used = append(used, p)
			}
		}
		for i, a := range used {
			for _, b := range used[i+1:] {
				if c.mine(slices.Concat(a.on, b.on)...) && seen.fresh(c.nets, a.node, b.node) {
					c.put(c.side(d, a, b, "across a contact of "+title(d), "Remove the link or wire across the contact."))
				}
			}
		}
	}
}

// boxes bridges what ends in one box: the back box of a unit, a door frame head. In a cabinet conductors lie in order on
// strips; there only conductors of the lock feed are joined across it. Terminals of two doors that share none are never
// taken together: their conductors are laid apart, and a riser would have a million such pairs.
func (c *lister) boxes(seen map[*job.Place]pairs) {
	for _, place := range c.places {
		here := seen[place]
		if here == nil {
			here = pairs{}
		}
		points := c.ends(place, func(w *wiring.Conductor) bool { return !c.cabinets[place] || onChain(w) })
		for i, a := range points {
			for _, b := range points[i+1:] {
				if c.door == "" && !akin(a.on, b.on) || !c.mine(slices.Concat(a.on, b.on)...) {
					continue
				}
				if here.fresh(c.nets, a.node, b.node) {
					c.put(joined(fmt.Sprintf("bridge:%s+%s@%s", a.node, b.node, place.ID),
						fmt.Sprintf("in the box at %s, %s", place.ID, place.Title),
						"Insulate the bare ends and lay the conductors apart.", a, b))
				}
			}
		}
	}
}

// akin says that what is on two terminals has a door in common or serves several doors by itself, while not all of it is
// of one door.
func akin(v, w []*wiring.Conductor) bool {
	if doorOf(v) != "" && doorOf(w) != "" {
		return false
	}
	for _, x := range v {
		for _, y := range w {
			if x.Door == y.Door || x.Door == "" || y.Door == "" {
				return true
			}
		}
	}
	return false
}

// ends are the terminals at a place that matter to the door, one for each net and door.
func (c *lister) ends(place *job.Place, fits func(*wiring.Conductor) bool) []point {
	type netOfDoor struct{ net, door string }
	var points []point
	known := map[netOfDoor]bool{}
	for _, w := range c.at[place] {
		if c.door != "" && w.Door != c.door || !fits(w) {
			continue
		}
		for _, e := range []wiring.End{w.A, w.B} {
			on := c.landed[e]
			key := netOfDoor{c.nets.root(e.String()), doorOf(on)}
			if e.Device.Place != place || known[key] || c.door != "" && key.door != c.door {
				continue
			}
			known[key] = true
			points = append(points, point{e.String(), spot(e), on})
		}
	}
	return points
}

// cabinetsOf are the places where controllers, supplies and what belongs to supplies are.
func cabinetsOf(plan *wiring.Plan) map[*job.Place]bool {
	at := map[*job.Place]bool{}
	for _, d := range plan.Devices {
		switch d.Role {
		case job.RoleController, job.RoleSupply, job.RoleBattery, job.RoleBoard:
			at[d.Place] = true
		}
	}
	return at
}
