package wiring

import "doorwright/job"

// Around is the plan with only what any fault can bring together with a door: what is joined to it, what stands at the same
// places and what runs in the same sheaths, and so on from there. Problems of the plan are left out.
func (p *Plan) Around(door *job.Door) *Plan {
	near := p.nearTo(door)
	part := &Plan{Job: jobAround(p.Job, near), devices: map[string]*Device{}}
	for _, d := range p.Devices {
		if near[d.ID] {
			part.Devices = append(part.Devices, d)
			part.devices[d.ID] = d
		}
	}
	runs := map[*job.Run]bool{}
	for _, c := range p.Conductors {
		if near[c.A.Device.ID] {
			part.Conductors = append(part.Conductors, c)
			runs[c.Run] = true
		}
	}
	part.Job.Runs = nil
	for _, r := range p.Job.Runs {
		if runs[r] {
			part.Job.Runs = append(part.Job.Runs, r)
		}
	}
	for _, s := range p.Spares {
		if runs[s.Run] {
			part.Spares = append(part.Spares, s)
		}
	}
	return part
}

// nearTo are the devices, by id, that a fault can bring together with a door.
func (p *Plan) nearTo(door *job.Door) map[string]bool {
	root := map[any]any{}
	find := func(x any) any {
		for root[x] != nil {
			if next := root[root[x]]; next != nil {
				root[x] = next
			}
			x = root[x]
		}
		return x
	}
	unite := func(x, y any) {
		if a, b := find(x), find(y); a != b {
			root[a] = b
		}
	}
	for _, d := range p.Devices {
		if d.Place != nil {
			unite(d.ID, d.Place)
		}
	}
	for _, c := range p.Conductors {
		if c.B.Device != nil {
			unite(c.A.Device.ID, c.B.Device.ID)
		}
		if c.Run != nil {
			unite(c.A.Device.ID, c.Run)
		}
	}
	for _, d := range p.Job.Doors {
		for _, f := range d.Fitted() {
			unite(f.ID, d.Controller.ID)
		}
	}
	near, at := map[string]bool{}, find(door.Controller.ID)
	for _, d := range p.Devices {
		if find(d.ID) == at {
			near[d.ID] = true
		}
	}
	return near
}

// jobAround is a job with only what some devices are part of.
func jobAround(j *job.Job, near map[string]bool) *job.Job {
	part := *j
	part.Supplies, part.Controllers, part.Doors = nil, nil, nil
	for _, s := range j.Supplies {
		if near[s.ID] {
			part.Supplies = append(part.Supplies, s)
		}
	}
	for _, c := range j.Controllers {
		if near[c.ID] {
			part.Controllers = append(part.Controllers, c)
		}
	}
	for _, d := range j.Doors {
		if near[d.Controller.ID] {
			part.Doors = append(part.Doors, d)
		}
	}
	return &part
}
