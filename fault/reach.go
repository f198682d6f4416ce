package fault

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// Reach is one place where a person on the unsecured side gets at conductors.
type Reach struct {
	Where      string              // id of the place or run
	How        string              // "behind what is mounted at ..." or "along W20: conduit"
	Nodes      []string            // nodes that can be touched, each once, in the order of the plan
	Conductors []*wiring.Conductor // conductors that can be cut or touched
	Devices    []*wiring.Device    // housings there, with what was added beside them; none along a run
	Monitored  bool                // every housing there has a tamper contact that is wired to an input
}

// Reached lists where a person on the unsecured side gets at conductors of a door, or with an empty id at conductors
// that several doors share: at every place on that side, and along every run with a stretch on that side that is neither
// concealed nor buried. Everything at a place counts, other doors' conductors too: whoever opens one housing opens the
// next. A conduit, a ceiling or a tray keeps nobody out (the strict reading; common practice, no source).
func Reached(plan *wiring.Plan, door string) []Reach {
	return New(plan).Reached(door)
}

// Reached is as the function Reached.
func (k *Catalogue) Reached(door string) []Reach { return k.lister(door).reachedPlaces() }

func (c *lister) reachedPlaces() []Reach {
	var all []Reach
	for _, place := range c.places {
		if place.Unsecured && c.concerns(c.at[place]) {
			all = append(all, c.reachAt(place))
		}
	}
	for _, run := range c.runs {
		if how, ok := inTheOpen(run); ok && c.concerns(c.cores[run]) {
			all = append(all, c.reachAlong(run, how))
		}
	}
	return all
}

// concerns says that some of these conductors are of the door.
func (c *lister) concerns(ws []*wiring.Conductor) bool {
	return slices.ContainsFunc(ws, func(w *wiring.Conductor) bool { return w.Door == c.door })
}

func (c *lister) reachAt(place *job.Place) Reach {
	r := Reach{
		Where: place.ID, How: fmt.Sprintf("behind what is mounted at %s, %s", place.ID, place.Title),
		Conductors: c.at[place], Monitored: true,
	}
	for _, w := range c.at[place] {
		for _, e := range []wiring.End{w.A, w.B} {
			if e.Device.Place == place {
				r.Nodes = appendNew(r.Nodes, e.String())
				r.Devices = appendNew(r.Devices, e.Device)
			}
		}
	}
	for _, d := range r.Devices {
		if d.Added == nil && !c.tamperWatched(d) {
			r.Monitored = false
		}
	}
	return r
}

// inTheOpen says how a run can be reached from the unsecured side, if it can.
func inTheOpen(run *job.Run) (string, bool) {
	for _, s := range run.Passes {
		if s.Side == "unsecured" && s.Reach != "concealed" && s.Reach != "buried" {
			return s.Reach, true
		}
	}
	return "", false
}

func (c *lister) reachAlong(run *job.Run, how string) Reach {
	r := Reach{Where: run.ID, How: fmt.Sprintf("along %s: %s", run.ID, how), Conductors: c.cores[run]}
	for _, w := range c.cores[run] {
		r.Nodes = appendNew(r.Nodes, endAt(w, run.To).String())
	}
	return r
}

// tamperWatched says that a housing has a tamper contact on a line that ends at an input of another unit.
func (c *lister) tamperWatched(d *wiring.Device) bool {
	for _, e := range d.Model.Ports {
		if e.Value.Use != "tamper" || !isContact(&e.Value) {
			continue
		}
		for _, w := range c.onPort(d, e.Key) {
			for _, end := range []wiring.End{w.A, w.B} {
				if end.Device != d && c.endsAtInput(end.String(), d) {
					return true
				}
			}
		}
	}
	return false
}

// endsAtInput says that a node is on the net of the input of a unit other than d.
func (c *lister) endsAtInput(node string, d *wiring.Device) bool {
	for _, other := range c.plan.Devices {
		if other == d {
			continue
		}
		for _, port := range other.Model.PortsOf(device.Input) {
			if c.nets.same(node, nodeOf(other, device.PinOf(port, "in"))) {
				return true
			}
		}
	}
	return false
}
