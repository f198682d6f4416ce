package wiring

import (
	"fmt"
	"math"
	"sort"
	"strconv"

	"doorwright/cable"
	"doorwright/device"
	"doorwright/job"
)

// router lays wishes into runs.
type router struct {
	p     *planner
	free  map[*job.Run][]cable.Core // cores not used yet, in the order of the cable
	at    map[*job.Place][]*job.Run
	count map[*job.Place]int // junctions added at a place
}

func newRouter(p *planner) *router {
	r := &router{p: p, free: map[*job.Run][]cable.Core{}, at: map[*job.Place][]*job.Run{}, count: map[*job.Place]int{}}
	for _, run := range p.plan.Job.Runs {
		r.free[run] = run.Type.Cores()
		r.at[run.From] = append(r.at[run.From], run)
		r.at[run.To] = append(r.at[run.To], run)
	}
	return r
}

// lay lays all wishes: data first, so that it gets the pairs, then power, so that it gets the copper.
func (r *router) lay() {
	rank := map[Use]int{Data: 0, Power: 1, Signal: 2}
	w := r.p.wishes
	sort.SliceStable(w, func(i, k int) bool { return rank[w[i].use] < rank[w[k].use] })
	for len(w) > 0 {
		n := 1
		for n < len(w) && w[n].group == w[0].group && w[n].use == w[0].use && samePlaces(w[n], w[0]) {
			n++
		}
		r.layGroup(w[:n])
		w = w[n:]
	}
	r.screens()
}

func samePlaces(v, w wish) bool {
	return v.a.Device.Place == w.a.Device.Place && v.b.Device.Place == w.b.Device.Place
}

// layGroup lays joins that go between the same two places.
func (r *router) layGroup(group []wish) {
	from, to := group[0].a.Device.Place, group[0].b.Device.Place
	if from == to {
		for _, w := range group {
			r.local(w)
		}
		return
	}
	route := r.way(from, to, group[0].use, len(group))
	if route == nil {
		r.explain(group, from, to)
		return
	}
	ends := make([]End, len(group))
	for i, w := range group {
		ends[i] = w.a
	}
	for k, run := range route {
		next := run.To
		if next == from {
			next = run.From
		}
		cores := r.take(run, group[0].use, len(group))
		for i, w := range group {
			b := w.b
			if k < len(route)-1 {
				b = r.junction(next, w)
			}
			r.conductor(Core, ends[i], b, w, run, cores[i])
			if k < len(route)-1 {
				ends[i] = way(b.Device, 2)
			}
		}
		from = next
	}
}

// local joins two terminals at one place: a link within a device, the leg of a component, or a short lead.
func (r *router) local(w wish) {
	kind := Lead
	switch {
	case w.a.Device == w.b.Device:
		kind = Link
	case isComponent(w.a.Device) || isComponent(w.b.Device):
		kind = Leg
	}
	r.conductor(kind, w.a, w.b, w, nil, cable.Core{})
}

// isComponent says that a device is a wired component whose own legs are landed.
func isComponent(d *Device) bool {
	if d.Added == nil {
		return false
	}
	for _, e := range d.Model.Ports {
		if is := e.Value.Is; is != device.Resistor && is != device.Diode && is != device.Clamp {
			return false
		}
	}
	return true
}

func (r *router) conductor(kind Kind, a, b End, w wish, run *job.Run, core cable.Core) {
	c := &Conductor{Kind: kind, A: a, B: b, Run: run, Core: core, Door: w.door, Use: w.use, Reason: w.reason, Unsure: w.unsure, Feeds: w.feeds}
	c.ID = string(kind) + ":" + a.String() + ":" + b.String()
	if kind == Core {
		c.ID = coreID(run, core.Index)
	}
	r.p.plan.Conductors = append(r.p.plan.Conductors, c)
}

func coreID(run *job.Run, index int) string { return run.ID + "/" + strconv.Itoa(index) }

// junction adds a through joint at a place on the way.
func (r *router) junction(at *job.Place, w wish) End {
	r.count[at]++
	why := w.reason
	why.Why = whyThrough
	id := at.ID + ".x" + strconv.Itoa(r.count[at])
	d := r.p.add(id, "junction 2", device.JunctionModel(2), at, w.door, why)
	return way(d, 1)
}

// way finds the shortest way of runs from one place to another that carry the use and still have n free cores each.
func (r *router) way(from, to *job.Place, use Use, n int) []*job.Run {
	dist := map[*job.Place]float64{from: 0}
	came := map[*job.Place]*job.Run{}
	done := map[*job.Place]bool{}
	for {
		here, best := (*job.Place)(nil), math.Inf(1)
		for _, pl := range r.p.plan.Job.Places {
			if d, ok := dist[pl]; ok && !done[pl] && d < best {
				here, best = pl, d
			}
		}
		if here == nil {
			return nil
		}
		if here == to {
			return r.back(from, to, came)
		}
		done[here] = true
		for _, run := range r.at[here] {
			if !carries(run, use) || len(r.free[run]) < n {
				continue
			}
			next := run.To
			if next == here {
				next = run.From
			}
			d := best + float64(run.Length()) + hopMetres
			if old, ok := dist[next]; !ok || d < old || d == old && r.score(run, use) > r.score(came[next], use) {
				dist[next] = d
				came[next] = run
			}
		}
	}
}

// hopMetres makes a way with fewer joints worth some metres of cable.
const hopMetres = 1

func (r *router) back(from, to *job.Place, came map[*job.Place]*job.Run) []*job.Run {
	var way []*job.Run
	for at := to; at != from; {
		run := came[at]
		way = append([]*job.Run{run}, way...)
		if run.To == at {
			at = run.From
		} else {
			at = run.To
		}
	}
	return way
}

func carries(run *job.Run, use Use) bool {
	c := run.Carries
	if c == (job.Carries{}) {
		return true
	}
	return use == Power && c.Power || use == Signal && c.Signal || use == Data && c.Data
}

// score ranks parallel runs for a use: data likes pairs and screens, power likes copper, signals leave both alone.
func (r *router) score(run *job.Run, use Use) float64 {
	best := math.Inf(-1)
	for _, c := range r.free[run] {
		best = max(best, fitness(c, use))
	}
	return best
}

func fitness(c cable.Core, use Use) float64 {
	area := c.Conductor.Size.Area()
	paired, screened := 0.0, 0.0
	if c.Pair > 0 {
		paired = 1
	}
	if c.Screened {
		screened = 1
	}
	switch use {
	case Data:
		return 10*paired + 5*screened - area
	case Power:
		return area - 0.01*paired
	}
	return -area - 0.05*paired
}

// take takes n cores of a run: the fittest bundle first, whole pairs for data, neighbours otherwise.
func (r *router) take(run *job.Run, use Use, n int) []cable.Core {
	free := append([]cable.Core(nil), r.free[run]...)
	sort.SliceStable(free, func(i, k int) bool { return fitness(free[i], use) > fitness(free[k], use) })
	if use == Data {
		free = wholePairsFirst(free)
	}
	got := free[:n]
	mine := map[int]bool{}
	for _, c := range got {
		mine[c.Index] = true
	}
	var rest []cable.Core
	for _, c := range r.free[run] {
		if !mine[c.Index] {
			rest = append(rest, c)
		}
	}
	r.free[run] = rest
	return got
}

// wholePairsFirst moves cores whose partners are still free to the front.
func wholePairsFirst(cores []cable.Core) []cable.Core {
	left := map[int]int{}
	for _, c := range cores {
		left[c.Pair]++
	}
	whole := func(c cable.Core) bool { return c.Pair > 0 && left[c.Pair] >= 2 }
	sort.SliceStable(cores, func(i, k int) bool { return whole(cores[i]) && !whole(cores[k]) })
	return cores
}

// explain says why a group found no way.
func (r *router) explain(group []wish, from, to *job.Place) {
	where, what := group[0].door, group[0].reason.Purpose
	if where == "" {
		where = group[0].a.Device.ID
	}
	if len(r.at[from]) == 0 || len(r.at[to]) == 0 || !r.joined(from, to) {
		r.p.problem(where, fmt.Sprintf("%s: no run joins %s and %s", what, from.ID, to.ID),
			fmt.Sprintf("add a run from %s to %s", from.ID, to.ID))
		return
	}
	r.p.problem(where, fmt.Sprintf("%s needs %d more %s core(s) between %s and %s than the runs have free",
		what, len(group), group[0].use, from.ID, to.ID), "use a cable with more cores, or add a run")
}

// joined says whether runs of any kind join two places.
func (r *router) joined(from, to *job.Place) bool {
	seen := map[*job.Place]bool{from: true}
	for todo := []*job.Place{from}; len(todo) > 0; todo = todo[1:] {
		for _, run := range r.at[todo[0]] {
			for _, next := range []*job.Place{run.From, run.To} {
				if !seen[next] {
					seen[next] = true
					todo = append(todo, next)
				}
			}
		}
	}
	return seen[to]
}

// screens lands the screen of every run in use at one end: that with an earth terminal, the start of the run first.
func (r *router) screens() {
	for _, run := range r.p.plan.Job.Runs {
		if len(run.Type.Screens()) == 0 || len(r.free[run]) == len(run.Type.Cores()) {
			continue
		}
		earth, ok := r.earthAt(run.From)
		if !ok {
			earth, ok = r.earthAt(run.To)
		}
		if !ok {
			r.p.problem(run.ID, "the screen has no earth terminal at either end", "end the run at a unit with an earth terminal")
			continue
		}
		for _, s := range run.Type.Screens() {
			why := whyScreen
			why.Purpose = s.Label
			c := &Conductor{ID: run.ID + "/" + s.Label, Kind: Screen, A: earth, Run: run, Use: Signal, Reason: why}
			if r.p.plan.devices[earth.Device.ID].Door != "" {
				c.Door = earth.Device.Door
			}
			r.p.plan.Conductors = append(r.p.plan.Conductors, c)
		}
	}
}

// earthAt finds an earth terminal at a place.
func (r *router) earthAt(at *job.Place) (End, bool) {
	for _, d := range r.p.plan.Devices {
		if d.Place != at {
			continue
		}
		if ports := d.Model.PortsOf(device.Earth); len(ports) > 0 {
			return End{d, device.PinOf(ports[0], "earth")}, true
		}
	}
	return End{}, false
}
