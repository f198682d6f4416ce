package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/wiring"
)

// WiringParts is the wiring diagram of a door for pages of a size: one drawing where fits says that it fits, else as many as
// it takes, each of the controller with some of the places round it. Each conductor is on one of them. What stands alone has
// a title and a list of runs.
func WiringParts(p *wiring.Plan, d *job.Door, alone bool, fits func(*Sheet) bool) []*Sheet {
	return inParts(p, doorSubject(d), alone, fits)
}

// SupplyWiringParts is the same for a supply.
func SupplyWiringParts(p *wiring.Plan, s *job.Supply, fits func(*Sheet) bool) []*Sheet {
	return inParts(p, supplySubject(s), true, fits)
}

func inParts(p *wiring.Plan, of *subject, alone bool, fits func(*Sheet) bool) []*Sheet {
	g := diagramOf(p, of)
	all := []*Sheet{g.plot(max(g.lay(), least(alone)), alone)}
	var places []*job.Place // round the middle, from left to right
	for _, c := range g.columns {
		for _, gr := range c.groups {
			if !c.middle {
				places = append(places, gr.place)
			}
		}
	}
	for n := 2; n <= len(places) && slices.ContainsFunc(all, func(s *Sheet) bool { return !fits(s) }); n++ {
		var parts [][]*job.Place
		for i := range n {
			parts = append(parts, places[i*len(places)/n:(i+1)*len(places)/n])
		}
		all = nil
		for _, s := range partsOf(p, of, parts) {
			g := diagramOf(p, s)
			all = append(all, g.plot(max(g.lay(), least(alone)), alone))
		}
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
		s.heading = strings.Replace(of.heading, "Wiring", fmt.Sprintf("Wiring, part %d of %d,", k, len(parts)), 1)
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

// least is how wide a drawing is at least: one that stands alone has a title and runs in words.
func least(alone bool) MM {
	if alone {
		return narrowest
	}
	return 0
}
