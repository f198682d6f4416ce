package fault

import (
	"slices"

	"doorwright/job"
	"doorwright/wiring"
)

// Catalogue is a plan made ready to list faults of. It is never changed and may be used by several goroutines.
type Catalogue struct {
	plan     *wiring.Plan
	nets     nets
	metal    nets // what is joined without any conductor
	landed   map[wiring.End][]*wiring.Conductor
	cores    map[*job.Run][]*wiring.Conductor   // by run, in the order of the cores
	at       map[*job.Place][]*wiring.Conductor // by the places they end at
	cabinets map[*job.Place]bool
	scopes   map[string]*scope
}

// scope is what may have faults of a door, in the order of the plan.
type scope struct {
	devices    []*wiring.Device
	conductors []*wiring.Conductor // of the door, both ends landed
	runs       []*job.Run
	places     []*job.Place
	doors      []*job.Door
}

// New makes the catalogue of a plan.
func New(plan *wiring.Plan) *Catalogue {
	k := &Catalogue{
		plan: plan, metal: unitNets(plan).nets(), nets: planNets(plan).nets(),
		landed: map[wiring.End][]*wiring.Conductor{}, cores: map[*job.Run][]*wiring.Conductor{},
		at: map[*job.Place][]*wiring.Conductor{}, cabinets: cabinetsOf(plan), scopes: map[string]*scope{},
	}
	for _, w := range plan.Conductors {
		if wired(w) {
			k.enter(w)
		}
	}
	for _, run := range plan.Job.Runs {
		slices.SortStableFunc(k.cores[run], func(v, w *wiring.Conductor) int { return v.Core.Index - w.Core.Index })
	}
	k.divide()
	return k
}

func (k *Catalogue) enter(w *wiring.Conductor) {
	k.landed[w.A] = append(k.landed[w.A], w)
	k.landed[w.B] = append(k.landed[w.B], w)
	k.at[w.A.Device.Place] = append(k.at[w.A.Device.Place], w)
	if w.B.Device.Place != w.A.Device.Place {
		k.at[w.B.Device.Place] = append(k.at[w.B.Device.Place], w)
	}
	if w.Kind == wiring.Core {
		k.cores[w.Run] = append(k.cores[w.Run], w)
	}
}

// divide finds out what matters to each door. All of the plan matters to what is shared.
func (k *Catalogue) divide() {
	doors := map[*wiring.Device][]string{}
	for _, w := range k.plan.Conductors {
		if wired(w) {
			k.of(w.Door).conductors = append(k.of(w.Door).conductors, w)
			doors[w.A.Device] = appendNew(doors[w.A.Device], w.Door)
			doors[w.B.Device] = appendNew(doors[w.B.Device], w.Door)
		}
	}
	for _, d := range k.plan.Devices {
		for _, door := range appendNew(doors[d], d.Door) {
			k.of(door).devices = append(k.of(door).devices, d)
		}
	}
	for _, run := range k.plan.Job.Runs {
		for _, door := range doorsOf(k.cores[run]) {
			k.of(door).runs = append(k.of(door).runs, run)
		}
	}
	for _, place := range k.plan.Job.Places {
		for _, door := range doorsOf(k.at[place]) {
			k.of(door).places = append(k.of(door).places, place)
		}
	}
	for _, d := range k.plan.Job.Doors {
		k.of(d.ID).doors = []*job.Door{d}
	}
	shared := k.of("")
	shared.devices, shared.runs = k.plan.Devices, k.plan.Job.Runs
	shared.places, shared.doors = k.plan.Job.Places, k.plan.Job.Doors
}

// of is the scope of a door while it is being made.
func (k *Catalogue) of(door string) *scope {
	if k.scopes[door] == nil {
		k.scopes[door] = &scope{}
	}
	return k.scopes[door]
}

// scopeOf is the scope of a door; empty for one that the plan does not know.
func (k *Catalogue) scopeOf(door string) scope {
	if s := k.scopes[door]; s != nil {
		return *s
	}
	return scope{}
}

// doorsOf are the doors of some conductors, each once.
func doorsOf(ws []*wiring.Conductor) []string {
	var doors []string
	for _, w := range ws {
		doors = appendNew(doors, w.Door)
	}
	return doors
}
