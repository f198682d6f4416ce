package wiring

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"doorwright/cable"
	"doorwright/job"
)

// router lays wishes into runs.
type router struct {
	p       *planner
	graph   *graph
	drums   map[*job.Run]*drum
	sheaths map[*Device]route // by reader: the way its data lines took
}

// route is a way of runs from one place to another, and the use that cores are taken for.
type route struct {
	from, to *job.Place
	runs     []*job.Run
	use      Use
}

func newRouter(p *planner) *router {
	return &router{
		p: p, graph: newGraph(p.plan.Job), drums: drumsOf(p.plan.Job.Runs),
		sheaths: map[*Device]route{},
	}
}

// lay lays all wishes: data first, so that it gets the pairs, then power, so that it gets the copper. The supply of a
// reader comes last: it goes in the sheath of the data lines if that has cores left, and with the power if not.
func (r *router) lay() {
	groups := map[int][]*wish{}
	for _, w := range r.p.wishes {
		groups[w.group] = append(groups[w.group], w)
	}
	for turn := range turns {
		for _, w := range r.p.wishes {
			if turnOf(w) == turn && groups[w.group] != nil {
				r.layGroup(groups[w.group])
				groups[w.group] = nil
			}
		}
	}
}

const turns = 4

// turnOf is the turn in which a wish is laid.
func turnOf(w *wish) int {
	switch {
	case w.use == Data:
		return 0
	case w.use == Signal:
		return 2
	case w.reader != nil:
		return 3
	}
	return 1
}

// samePlaces says that two wishes go from the same place to the same place.
func samePlaces(v, w *wish) bool {
	return v.a.Device.Place == w.a.Device.Place && v.b.Device.Place == w.b.Device.Place
}

// layGroup lays wishes side by side, as far as they go the same way. Poles of a feed that find no room in one sheath
// go apart.
func (r *router) layGroup(group []*wish) {
	var apart []*wish
	for _, w := range group[1:] {
		if !samePlaces(group[0], w) {
			apart = append(apart, w)
		}
	}
	if len(apart) > 0 {
		group = slices.DeleteFunc(slices.Clone(group), func(w *wish) bool { return !samePlaces(group[0], w) })
		defer r.layGroup(apart)
	}
	from, to := group[0].a.Device.Place, group[0].b.Device.Place
	if from == to {
		for _, w := range group {
			r.local(w)
		}
		return
	}
	if way, ok := r.way(group, from, to); ok {
		r.along(way, group)
		return
	}
	if _, ok := r.way(group[:1], from, to); !ok || group[0].use != Power {
		r.explain(group, from, to)
		return
	}
	for i := range group {
		r.layGroup(group[i : i+1])
	}
}

// way finds the way for wishes: what belongs to a reader goes in the sheath of its data lines while that has cores.
func (r *router) way(group []*wish, from, to *job.Place) (route, bool) {
	reader := group[0].reader
	if s, ok := r.sheaths[reader]; ok && s.from == from && s.to == to && r.room(s, len(group)) {
		return s, true
	}
	use := group[0].use
	runs, ok := r.graph.way(from, to, func(run *job.Run) (float64, bool) {
		return r.drums[run].score(use, len(group))
	})
	if !ok && reader != nil && use == Power {
		use = Data // a reader is fed over any cable that may carry its data
		runs, ok = r.graph.way(from, to, func(run *job.Run) (float64, bool) {
			return r.drums[run].score(use, len(group))
		})
	}
	way := route{from, to, runs, use}
	if ok && reader != nil && group[0].use == Data {
		r.sheaths[reader] = way
	}
	return way, ok
}

// room says that every run of a way has n cores left.
func (r *router) room(way route, n int) bool {
	return !slices.ContainsFunc(way.runs, func(run *job.Run) bool { return r.drums[run].left < n })
}

// along lays wishes along a way, over a through joint wherever one run meets the next.
func (r *router) along(way route, group []*wish) {
	here := make([]End, len(group))
	for i, w := range group {
		here[i] = w.a
	}
	at := way.from
	for k, run := range way.runs {
		at = across(run, at)
		cores := r.drums[run].take(way.use, group)
		for i, w := range group {
			if k == len(way.runs)-1 {
				r.conductor(Core, here[i], w.b, w, run, cores[i])
				continue
			}
			joint := r.joint(at, w, coreID(run, cores[i].Index))
			r.conductor(Core, here[i], joint[0], w, run, cores[i])
			here[i] = joint[1]
		}
	}
}

// across is the other end of a run.
func across(run *job.Run, from *job.Place) *job.Place {
	if run.From == from {
		return run.To
	}
	return run.From
}

// joint adds a through joint at a place on the way, with its name from the core that comes there, and gives its two ways.
func (r *router) joint(at *job.Place, w *wish, core string) [2]End {
	why := w.reason
	why.Why = whyThrough
	door, _, _ := strings.Cut(at.ID, ".")
	id := at.ID + "." + strings.ReplaceAll(strings.TrimPrefix(core, door+"."), "/", ".")
	d := r.p.addAt(at, w.door, junction(id, 2, why))
	return [2]End{way(d, 1), way(d, 2)}
}

// local joins two terminals at one place.
func (r *router) local(w *wish) { r.conductor(localKind(w.a, w.b), w.a, w.b, w, nil, cable.Core{}) }

// localKind is what a conductor between two terminals at one place is.
func localKind(a, b End) Kind {
	switch {
	case a.Device == b.Device:
		return Link
	case isComponent(a.Device) || isComponent(b.Device):
		return Leg
	}
	return Lead
}

// isComponent says that a device is a wired component whose own legs are landed.
func isComponent(d *Device) bool { return d.Added != nil && !isJunction(d) }

func (r *router) conductor(kind Kind, a, b End, w *wish, run *job.Run, core cable.Core) {
	c := &Conductor{
		ID: localID(kind, a, b), Kind: kind, A: a, B: b, Run: run, Core: core,
		Door: w.door, Use: w.use, Reason: w.reason, Unsure: w.unsure, Feeds: w.feeds,
	}
	if kind == Core {
		c.ID = coreID(run, core.Index)
	}
	r.p.plan.Conductors = append(r.p.plan.Conductors, c)
}

func localID(kind Kind, a, b End) string { return string(kind) + ":" + a.String() + ":" + b.String() }

func coreID(run *job.Run, index int) string { return run.ID + "/" + strconv.Itoa(index) }

// explain says why a group found no way.
func (r *router) explain(group []*wish, from, to *job.Place) {
	where, what, need := group[0].door, group[0].reason.Purpose, "core"
	if where == "" {
		where = group[0].a.Device.ID
	}
	if len(group) > 1 {
		what, need = strings.TrimRight(what, " +-"), "cores in one sheath"
	}
	if !r.graph.joined(from, to) {
		r.p.problem(where, fmt.Sprintf("%s: no run joins %s and %s", what, from.ID, to.ID),
			fmt.Sprintf("add a run from %s to %s", from.ID, to.ID))
		return
	}
	r.p.problem(where, fmt.Sprintf("%s: between %s and %s the runs that may carry %s have not %d %s left",
		what, from.ID, to.ID, group[0].use, len(group), need), "use a cable with more cores, or add a run")
}
