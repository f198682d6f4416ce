package wiring

import (
	"doorwright/cable"
	"doorwright/job"
	"doorwright/unit"
)

// Laid is one core or screen of a run as it was pulled: what it is used for, or nothing.
type Laid struct {
	Core      cable.Core // of none for a screen
	Conductor *Conductor // nil for a spare core
	From, To  End        // at the start and at the end of the run; empty for a spare core
}

// Laid lists of each run every core in the order of the cable, then the screens that are tied to earth.
func (p *Plan) Laid() map[*job.Run][]Laid {
	of := map[*job.Run][]*Conductor{}
	for _, c := range p.Conductors {
		if c.Run != nil {
			of[c.Run] = append(of[c.Run], c)
		}
	}
	all := make(map[*job.Run][]Laid, len(p.Job.Runs))
	for _, r := range p.Job.Runs {
		used := map[int]*Conductor{}
		var screens []Laid
		for _, c := range of[r] {
			if c.Kind == Screen {
				screens = append(screens, laid(r, c))
				continue
			}
			used[c.Core.Index] = c
		}
		for _, k := range r.Type.Cores() {
			l := Laid{Core: k}
			if c := used[k.Index]; c != nil {
				l = laid(r, c)
			}
			all[r] = append(all[r], l)
		}
		all[r] = append(all[r], screens...)
	}
	return all
}

// laid puts the end at the start of the run first.
func laid(r *job.Run, c *Conductor) Laid {
	l := Laid{Core: c.Core, Conductor: c, From: c.A, To: c.B}
	if c.A.Device == nil || c.A.Device.Place != r.From {
		l.From, l.To = c.B, c.A
	}
	return l
}

// Material is one thing to order. Where names the devices or the runs.
type Material struct {
	Group  MaterialGroup
	ID     string // of the model or of the cable type
	Title  string
	Pieces int        // 0 for cable
	Length unit.Metre // 0 for all but cable
	Where  []string
}

// MaterialGroup is what sort of thing a material is.
type MaterialGroup string

// The groups of materials, in the order of the list.
const (
	Devices    MaterialGroup = "device"
	Components MaterialGroup = "component" // what nobody wrote down but the wiring needs
	Cables     MaterialGroup = "cable"
)

// Materials counts the devices, added components and cables that are wanted.
func (p *Plan) Materials(device func(*Device) bool, run func(*job.Run) bool) []Material {
	type key struct {
		group MaterialGroup
		id    string
	}
	var all []Material
	at := map[key]int{}
	line := func(group MaterialGroup, id, title, where string) *Material {
		k := key{group, id}
		if _, known := at[k]; !known {
			at[k] = len(all)
			all = append(all, Material{Group: group, ID: id, Title: title})
		}
		m := &all[at[k]]
		m.Where = append(m.Where, where)
		return m
	}
	for _, group := range []MaterialGroup{Devices, Components} {
		for _, d := range p.Devices {
			if (d.Added != nil) == (group == Components) && device(d) {
				line(group, d.ModelID, d.Model.Title, d.ID).Pieces++
			}
		}
	}
	for _, r := range p.Job.Runs {
		if run(r) {
			line(Cables, r.TypeID, r.Type.Title, r.ID).Length += r.Length()
		}
	}
	return all
}
