package fault

import (
	"slices"

	"doorwright/unit"
	"doorwright/wiring"
)

// Of lists every single fault of a door, or with an empty id of what several doors share: by class in the order of
// Classes, within a class in the order of the plan. Foreign supplies are not among them: see Attacks. For many doors of
// a plan, New and its Of are quicker.
//
// A fault belongs to a door when all conductors and terminals it is about do.
func Of(plan *wiring.Plan, door string) []Fault { return New(plan).Of(door) }

// Of is as the function Of.
func (k *Catalogue) Of(door string) []Fault {
	c := k.lister(door)
	c.opens()
	c.highs()
	c.bridges()
	c.chain()
	c.swaps()
	c.parts()
	c.sources()
	c.outputs()
	c.wet()
	c.settings()
	slices.SortStableFunc(c.all, func(a, b Fault) int { return rank(a.Class) - rank(b.Class) })
	return c.all
}

func rank(class Class) int { return slices.Index(Classes(), class) }

// Count is how many faults of a class there are.
type Count struct {
	Class  Class
	Faults int
}

// Counts counts faults by class, in the order of Classes; classes without faults are left out.
func Counts(all []Fault) []Count {
	var counts []Count
	for _, class := range Classes() {
		n := 0
		for i := range all {
			if all[i].Class == class {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, Count{class, n})
		}
	}
	return counts
}

// lister gathers the faults of one door.
type lister struct {
	*Catalogue
	scope
	door string
	all  []Fault
}

func (k *Catalogue) lister(door string) *lister {
	return &lister{Catalogue: k, scope: k.scopeOf(door), door: door}
}

func (c *lister) put(faults ...Fault) {
	for _, f := range faults {
		f.Door = c.door
		f.ID = typable(f.ID)
		c.all = append(c.all, f)
	}
}

// mine says that all these conductors belong to the door, or, where the catalogue is that of what is shared, that they
// do not all belong to one door.
func (c *lister) mine(ws ...*wiring.Conductor) bool { return len(ws) > 0 && doorOf(ws) == c.door }

// doorOf is the door that all conductors belong to; empty when there is none or more than one.
func doorOf(ws []*wiring.Conductor) string {
	if len(ws) == 0 {
		return ""
	}
	for _, w := range ws {
		if w.Door != ws[0].Door {
			return ""
		}
	}
	return ws[0].Door
}

// ofPort says that a port of a device belongs to the door: by the device, or for a device that several doors share by
// what is landed on the port.
func (c *lister) ofPort(d *wiring.Device, port string) bool {
	if d.Door != "" {
		return d.Door == c.door
	}
	if on := c.onPort(d, port); len(on) > 0 {
		return c.mine(on...)
	}
	return c.door == ""
}

// onPort lists the conductors that are landed on a port, in the order of its terminals.
func (c *lister) onPort(d *wiring.Device, port string) []*wiring.Conductor {
	var on []*wiring.Conductor
	for _, pin := range pinsOf(d, port) {
		for _, w := range c.landed[wiring.End{Device: d, Pin: pin}] {
			if !slices.Contains(on, w) {
				on = append(on, w)
			}
		}
	}
	return on
}

// endsOf are the devices a list of conductors ends at, each once.
func endsOf(ws ...*wiring.Conductor) []*wiring.Device {
	var all []*wiring.Device
	for _, w := range ws {
		for _, d := range []*wiring.Device{w.A.Device, w.B.Device} {
			if d != nil && !slices.Contains(all, d) {
				all = append(all, d)
			}
		}
	}
	return all
}

// usual is the temperature at which the resistance of copper is stated: 20 C.
const usual unit.Celsius = 20
