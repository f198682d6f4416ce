package draw

import (
	"fmt"
	"slices"

	"doorwright/job"
	"doorwright/wiring"
)

// WiringParts is the wiring diagram of a door for pages of a size: one drawing where fits says that it fits, else the
// controller with what is on either side of it, else with each place by itself. Each conductor is on one of them. What
// stands alone has a title and a list of runs.
func WiringParts(p *wiring.Plan, d *job.Door, alone bool, fits func(*Sheet) bool) []*Sheet {
	of := doorSubject(d)
	g := diagramOf(p, of)
	whole := g.plot(g.lay(), alone)
	if fits(whole) {
		return []*Sheet{whole}
	}
	var sides, places [][]*job.Place
	for _, c := range g.columns {
		if c.middle {
			sides = append(sides, nil) // what stands right of it begins a part
			continue
		}
		if len(sides) == 0 {
			sides = append(sides, nil)
		}
		for _, gr := range c.groups {
			last := len(sides) - 1
			sides[last] = append(sides[last], gr.place)
			places = append(places, []*job.Place{gr.place})
		}
	}
	sides = slices.DeleteFunc(sides, func(s []*job.Place) bool { return len(s) == 0 })
	var all []*Sheet
	for _, parts := range [][][]*job.Place{sides, places} {
		if len(parts) < 2 {
			continue
		}
		all = nil
		for _, s := range partsOf(p, of, parts) {
			g := diagramOf(p, s)
			all = append(all, g.plot(g.lay(), alone))
		}
		if !slices.ContainsFunc(all, func(s *Sheet) bool { return !fits(s) }) {
			return all
		}
	}
	if all == nil {
		return []*Sheet{whole}
	}
	return all
}

// partsOf are the subjects of the drawings that show a subject together, each with the places that it is given. What joins
// two devices in the middle is on the first.
func partsOf(p *wiring.Plan, of *subject, parts [][]*job.Place) []*subject {
	in := map[*job.Place]int{} // by place, from 1
	for i, places := range parts {
		for _, at := range places {
			in[at] = i + 1
		}
	}
	home := func(c *wiring.Conductor) int {
		at := 0
		for _, e := range []wiring.End{c.A, c.B} {
			if e.Device == nil {
				continue
			}
			if k := in[e.Device.Place]; k > 0 && (at == 0 || k < at) {
				at = k
			}
		}
		return max(at, 1)
	}
	landed := map[wiring.End][]int{} // parts by terminal
	lands := map[*wiring.Device][]int{}
	for _, c := range p.Conductors {
		if !of.serves(c) {
			continue
		}
		for _, e := range []wiring.End{c.A, c.B} {
			landed[e] = append(landed[e], home(c))
			lands[e.Device] = append(lands[e.Device], home(c))
		}
	}
	elsewhere := func(all []int, k int) bool { return len(all) > 0 && !slices.Contains(all, k) }
	var all []*subject
	for i := range parts {
		k := i + 1
		s := *of
		s.heading = fmt.Sprintf("%s, part %d of %d", of.heading, k, len(parts))
		s.part = fmt.Sprintf("Part %d of %d; terminals left out here are on the others.", k, len(parts))
		s.serves = func(c *wiring.Conductor) bool { return of.serves(c) && home(c) == k }
		s.own = func(e *wiring.Device) bool {
			return of.own(e) && max(in[e.Place], 1) == k && !elsewhere(lands[e], k)
		}
		s.hidden = func(e *wiring.Device, pin string) bool {
			return of.hidden(e, pin) || max(in[e.Place], 1) != k || elsewhere(landed[wiring.End{Device: e, Pin: pin}], k)
		}
		all = append(all, &s)
	}
	return all
}
