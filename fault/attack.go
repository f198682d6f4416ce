package fault

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

// What somebody brings along: a small battery or plug-in supply of a usual voltage, two amperes at most, behind an ohm
// of its own and of two test leads (common practice, no source).
var foreignVolts = [...]unit.Volt{5, 12, 24}

const (
	foreignOhms  unit.Ohm    = 1
	foreignLimit unit.Ampere = 2
)

// Attacks lists what a person on the unsecured side can do to the conductors of a door, or with an empty id to those of
// several doors at once, place by place as in Reached: cut one, join two, join one to earth, or put a supply brought
// along between two or between one and earth. What has the id of a fault in the catalogue has its edits too.
func Attacks(plan *wiring.Plan, door string) []Fault { return New(plan).Attacks(door) }

// Attacks is as the function Attacks.
func (k *Catalogue) Attacks(door string) []Fault {
	c := k.lister(door)
	known := map[string]bool{}
	for _, r := range c.reachedPlaces() {
		for _, f := range c.attacks(r) {
			if !known[f.ID] {
				known[f.ID] = true
				c.all = append(c.all, f)
			}
		}
	}
	slices.SortStableFunc(c.all, func(a, b Fault) int { return rank(a.Class) - rank(b.Class) })
	return c.all
}

// attacks lists what can be done at one reach.
func (c *lister) attacks(r Reach) []Fault {
	var all []Fault
	add := func(f Fault) {
		f.ID, f.Door, f.Place, f.Repair = typable(f.ID), c.door, r.Where, hide
		all = append(all, f)
	}
	for _, w := range r.Conductors {
		if c.mine(w) {
			f := openOf(w)
			f.Place = r.Where
			all = append(all, f)
		}
	}
	points := c.touched(r)
	for i, a := range points {
		for _, b := range points[i+1:] {
			if c.mine(slices.Concat(a.on, b.on)...) {
				add(joined(fmt.Sprintf("bridge:%s+%s@%s", a.node, b.node, r.Where), r.How, hide, a, b))
				foreign(r, a, b, add)
			}
		}
		if c.mine(a.on...) && !c.nets.same(a.node, device.Ground) {
			add(touchedEarth(r, a))
			foreign(r, a, point{node: device.Ground, name: "earth"}, add)
		}
	}
	return all
}

// hide is how an attack is answered.
const hide = "Bring the conductors to the secured side, or guard the housing with a tamper contact on a supervised line."

// touched are the points of a reach, one for each net. A point has the conductors that are on its net there.
func (c *lister) touched(r Reach) []point {
	var points []point
	at := map[string]int{} // net to its place in points
	for _, w := range r.Conductors {
		for _, e := range []wiring.End{w.A, w.B} {
			if !slices.Contains(r.Nodes, e.String()) {
				continue
			}
			net := c.nets.root(e.String())
			i, ok := at[net]
			if !ok {
				i = len(points)
				at[net] = i
				points = append(points, point{node: e.String(), name: spot(e)})
			}
			points[i].on = appendNew(points[i].on, w)
		}
	}
	return points
}

func touchedEarth(r Reach, a point) Fault {
	return Fault{
		ID: fmt.Sprintf("earthed:%s@%s", a.node, r.Where), Class: Earthed, Name: a.name + " is joined to earth",
		Where: r.How, At: a.on, Of: endsOf(a.on...),
		Edits: []Edit{{Op: Join, A: a.node, B: device.Ground, Ohms: BridgeOhms}},
	}
}

// foreign puts supplies between two points, either way round.
func foreign(r Reach, a, b point, add func(Fault)) {
	at := appendNew(slices.Clone(a.on), b.on...)
	for _, volts := range foreignVolts {
		for _, way := range [][2]point{{a, b}, {b, a}} {
			plus, minus := way[0], way[1]
			add(Fault{
				ID: fmt.Sprintf("foreign:%gV:%s+%s@%s", float64(volts), plus.node, minus.node, r.Where), Class: Foreign,
				Name:  fmt.Sprintf("%s brought along, its plus on %s and its minus on %s", volts, plus.name, minus.name),
				Where: r.How, At: at, Of: endsOf(at...),
				Edits: []Edit{{Op: Inject, A: plus.node, B: minus.node, Volts: volts, Ohms: foreignOhms, Limit: foreignLimit}},
			})
		}
	}
}
