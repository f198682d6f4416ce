package wiring

import (
	"cmp"
	"slices"

	"doorwright/device"
)

// finish orders the conductors and lists the spare cores.
func (p *planner) finish() {
	type placed struct {
		c           *Conductor
		device, pin int
	}
	order := make([]placed, len(p.plan.Conductors))
	for i, c := range p.plan.Conductors {
		pin := slices.IndexFunc(c.A.Device.Model.Strip, func(t device.Terminal) bool { return t.Pin == c.A.Pin })
		order[i] = placed{c, c.A.Device.order, pin}
	}
	slices.SortStableFunc(order, func(v, w placed) int {
		return cmp.Or(cmp.Compare(v.device, w.device), cmp.Compare(v.pin, w.pin))
	})
	for i, o := range order {
		p.plan.Conductors[i] = o.c
	}
	used := map[string]bool{}
	for _, c := range p.plan.Conductors {
		if c.Kind == Core {
			used[c.ID] = true
		}
	}
	for _, r := range p.plan.Job.Runs {
		for _, c := range r.Type.Cores() {
			if !used[coreID(r, c.Index)] {
				p.plan.Spares = append(p.plan.Spares, Spare{r, c})
			}
		}
	}
}
