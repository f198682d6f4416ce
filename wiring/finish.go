package wiring

import (
	"cmp"
	"slices"
)

// finish orders the conductors and lists the spare cores.
func (p *planner) finish() {
	at := map[End]int{}
	for _, d := range p.plan.Devices {
		for _, t := range d.Model.Strip {
			at[End{d, t.Pin}] = len(at)
		}
	}
	slices.SortStableFunc(p.plan.Conductors, func(v, w *Conductor) int { return cmp.Compare(at[v.A], at[w.A]) })
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
