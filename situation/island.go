package situation

import (
	"sync"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// Site is a plan made ready for situations: split into islands that share no conductor.
type Site struct {
	Plan    *wiring.Plan
	Islands []*Island
	of      map[string]*Island // by device id
}

// Island is a part of the plan that no conductor joins to the rest. Each is a network of its own.
type Island struct {
	Doors      []*job.Door
	Supplies   []*job.Supply
	Units      []*Unit
	Conductors []*wiring.Conductor
	byID       map[string]*Unit
	bound      sync.Once // guards what follows, and the slots, inputs and parts of units
	slots      []slot
	wires      []Wire
	wireAt     map[string]int // by id of the conductor
	sources    []Probe        // supplies
	fuses      []fuseAt
	base       *circuit.Network // in a neutral case, to look things up in
	analysis   *circuit.Analysis
	plan       *wiring.Plan
}

// Unit is one device of an island, bound to its network.
type Unit struct {
	Device *wiring.Device
	kind   *device.Kind
	index  int
	slots  []int // of the island
	inputs []input
	parts  []partAt
	locks  []partAt // windings of locks
}

// slot is one signal of one unit.
type slot struct {
	unit   *Unit
	name   string
	sense  circuit.Sense
	senses bool // it follows a voltage; else the world or the unit's behaviour sets it
	sw     circuit.Switch
	rest   bool // value in the undisturbed state, for what the world sets
}

// input is one input of a unit: where it reads and how it tells levels apart.
type input struct {
	port       string
	in, common circuit.Node
	expects    device.InputSettings
	levels     []device.LevelBand
}

// partAt is one part of a unit and its element.
type partAt struct {
	part    device.Part
	element circuit.Element
}

// New splits a plan into islands. Each prepares itself when it is first looked at.
func New(plan *wiring.Plan) *Site {
	s := &Site{Plan: plan, of: map[string]*Island{}}
	group := newGroups(plan)
	byRoot := map[string]*Island{}
	for _, d := range plan.Devices {
		root := group.root(d.ID)
		is := byRoot[root]
		if is == nil {
			is = &Island{byID: map[string]*Unit{}, plan: plan}
			byRoot[root] = is
			s.Islands = append(s.Islands, is)
		}
		is.enter(d)
		s.of[d.ID] = is
	}
	for _, c := range plan.Conductors {
		if c.B.Device != nil {
			is := s.of[c.A.Device.ID]
			is.Conductors = append(is.Conductors, c)
		}
	}
	for _, d := range plan.Job.Doors {
		is := s.of[d.Controller.ID]
		is.Doors = append(is.Doors, d)
	}
	for _, ps := range plan.Job.Supplies {
		is := s.of[ps.ID]
		is.Supplies = append(is.Supplies, ps)
	}
	return s
}

// enter enters a device as the next unit.
func (is *Island) enter(d *wiring.Device) {
	u := &Unit{Device: d, kind: device.KindOf(d.Model.Kind), index: len(is.Units)}
	is.Units = append(is.Units, u)
	is.byID[d.ID] = u
}

// Island is the island a device is in.
func (s *Site) Island(deviceID string) *Island { return s.of[deviceID] }

// Unit finds a unit of the island, nil when it is elsewhere.
func (is *Island) Unit(id string) *Unit { return is.byID[id] }

// groups is a union of devices that conductors join.
type groups map[string]string

func newGroups(plan *wiring.Plan) groups {
	g := groups{}
	for _, d := range plan.Devices {
		g[d.ID] = d.ID
	}
	for _, c := range plan.Conductors {
		if c.B.Device != nil {
			g[g.root(c.A.Device.ID)] = g.root(c.B.Device.ID)
		}
	}
	// A door's units and its controller belong together even where no conductor joins them: causes move them together.
	for _, d := range plan.Job.Doors {
		for _, f := range d.Fitted() {
			g[g.root(f.ID)] = g.root(d.Controller.ID)
		}
	}
	return g
}

func (g groups) root(id string) string {
	for g[id] != id {
		g[id] = g[g[id]]
		id = g[id]
	}
	return id
}
