package find

import (
	"math"
	"slices"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
	"doorwright/wiring"
)

// suspect is one thing that may be wrong, as the finder keeps it.
type suspect struct {
	id, name, where, repair string
	class                   fault.Class
	fault                   *fault.Fault
	prior                   float64
	beliefs                 []belief
	group                   int
	mended                  bool
	both                    []*suspect // two at once
	comes                   often      // what becomes of a card number, where no circuit says so
}

// log is the log of the joint probability of the suspect and what was read, but for one reading or look.
func (s *suspect) log(but fact) float64 {
	most := math.Inf(-1)
	for i := range s.beliefs {
		most = max(most, s.beliefs[i].without(but))
	}
	sum := 0.0
	for i := range s.beliefs {
		sum += s.beliefs[i].weight * math.Exp(s.beliefs[i].without(but)-most)
	}
	return math.Log(s.prior) + most + math.Log(sum)
}

// faultsOf are all faults that may be behind what is seen at a door: its own, those of what it shares, and mistakes.
func faultsOf(site *situation.Site, d *job.Door) (own, common []fault.Fault) {
	k := fault.New(site.Plan)
	own = append(k.Of(d.ID), mistakes(site.Plan, d)...)
	near := nearOf(site.Plan, d)
	for _, f := range k.Of("") {
		if len(f.Of) > 0 && !slices.ContainsFunc(f.Of, func(x *wiring.Device) bool { return !near[x] }) {
			common = append(common, f)
		}
	}
	return own, common
}

// nearOf are the devices that matter to a door: its own, its controller, and the supplies, boards and signals before it.
func nearOf(plan *wiring.Plan, d *job.Door) map[*wiring.Device]bool {
	near := map[*wiring.Device]bool{}
	ids := []string{d.Controller.ID}
	for _, s := range d.Supplies() {
		ids = append(ids, s.ID)
		for _, f := range []*job.Fitted{s.Battery, s.Board, s.Fire, s.Reset} {
			if f != nil {
				ids = append(ids, f.ID)
			}
		}
	}
	if d.Fire != nil {
		ids = append(ids, d.Fire.ID)
	}
	for _, x := range plan.Devices {
		if x.Door == d.ID || slices.Contains(ids, x.ID) {
			near[x] = true
		}
	}
	return near
}

// suspectsOf makes the suspects of a door with their priors; rows are taken all at once.
func suspectsOf(site *situation.Site, book *meter.Book, asFound bool) []*suspect {
	unknown := priorUnknown
	if asFound {
		unknown = priorUnplanned
	}
	d := book.Door
	own, common := faultsOf(site, d)
	var all []*suspect
	var rows []*fault.Fault
	var sizes [][]variant
	total := map[fault.Class]float64{}
	enter := func(f *fault.Fault, by float64) {
		s := &suspect{id: f.ID, name: unsized(f), where: f.Where, repair: f.Repair, class: f.Class, fault: f, prior: weightOf(f) * by}
		total[f.Class] += s.prior
		all = append(all, s)
		vs := variants(f)
		sizes = append(sizes, vs)
		for _, v := range vs {
			rows = append(rows, v.fault)
		}
	}
	for i := range own {
		enter(&own[i], 1)
	}
	for i := range common {
		enter(&common[i], shared)
	}
	taken := book.Rows(rows)
	for i, s := range all {
		for _, v := range sizes[i] {
			s.beliefs = append(s.beliefs, beliefsOf(taken[0], v.weight)...)
			taken = taken[1:]
		}
	}
	for _, q := range quiets() {
		if q.when(d) {
			s := &suspect{id: q.id, name: q.name, where: q.where, repair: q.repair, class: Use, prior: 1, comes: q.comes}
			s.beliefs = beliefsOf(q.row(book), 1)
			total[Use]++
			all = append(all, s)
		}
	}
	mass := 0.0
	for _, class := range append(fault.Classes(), Wiring, Use) {
		if total[class] > 0 {
			mass += massOf(class)
		}
	}
	for _, s := range all {
		s.prior *= massOf(s.class) / total[s.class] / mass * (1 - priorHealthy - unknown)
	}
	sound := func(id, name, where, repair string, prior float64) *suspect {
		return &suspect{
			id: id, name: name, where: where, repair: repair, class: Use, prior: prior,
			beliefs: beliefsOf(book.Sound, 1),
		}
	}
	return append(all,
		sound(Healthy, "as planned: what was reported has another reason", "", "Nothing to mend. Try the door again in use.", priorHealthy),
		sound(Unknown, "something that is not in the catalogue, or a door that is not as the plan says", "",
			"Compare the wiring with the plan, core by core.", unknown))
}
