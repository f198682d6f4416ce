package wiring

import (
	"cmp"
	"slices"

	"doorwright/cable"
	"doorwright/job"
)

// drum is what is left of a run's cores.
type drum struct {
	run  *job.Run
	make *makeUp
	used []bool // by core
	left int    // cores that may still be taken
}

// makeUp is what a cable type offers, worked out once.
type makeUp struct {
	cores []cable.Core
	best  map[Use][]int // cores that may be taken, the fittest for a use first
}

func drumsOf(runs []*job.Run) map[*job.Run]*drum {
	types := map[*cable.Type]*makeUp{}
	all := make(map[*job.Run]*drum, len(runs))
	for _, run := range runs {
		m := types[run.Type]
		if m == nil {
			m = newMakeUp(run.Type)
			types[run.Type] = m
		}
		all[run] = &drum{run, m, make([]bool, len(m.cores)), len(m.best[Power])}
	}
	return all
}

// protective is the colour that is kept for the protective conductor alone (IEC 60445).
const protective = "GNYE"

func newMakeUp(t *cable.Type) *makeUp {
	m := &makeUp{cores: t.Cores(), best: map[Use][]int{}}
	for _, use := range []Use{Power, Signal, Data} {
		var order []int
		for i, c := range m.cores {
			if c.Colour != protective {
				order = append(order, i)
			}
		}
		slices.SortStableFunc(order, func(i, k int) int {
			return -cmp.Compare(fitness(m.cores[i], use), fitness(m.cores[k], use))
		})
		m.best[use] = order
	}
	return m
}

// fitness ranks cores for a use: data likes pairs and screens, power likes copper, signals leave both alone.
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
		return area - 0.01*paired - 0.01*screened
	}
	return -area - 0.05*paired - 0.05*screened
}

// score says how well a run suits n cores for a use, by the last of those it would give; false when it may not carry
// it or has too few left.
func (d *drum) score(use Use, n int) (float64, bool) {
	if d.left < n || !carries(d.run, use) {
		return 0, false
	}
	for _, i := range d.make.best[use] {
		if d.used[i] {
			continue
		}
		if n--; n == 0 {
			return fitness(d.make.cores[i], use), true
		}
	}
	return 0, false
}

func carries(run *job.Run, use Use) bool {
	c := run.Carries
	return c == (job.Carries{}) || use == Power && c.Power || use == Signal && c.Signal || use == Data && c.Data
}

// take takes a core for each wish of a group. Several together take whole pairs and leave none broken where they can;
// data would rather have those than the fittest cores.
func (d *drum) take(group []*wish) []cable.Core {
	use, n := group[0].use, len(group)
	var free []int
	partners := map[int]int{}
	for _, i := range d.make.best[use] {
		if !d.used[i] {
			free = append(free, i)
			partners[d.make.cores[i].Pair]++
		}
	}
	untidy := func(c cable.Core) int {
		broken := c.Pair == 0 || partners[c.Pair] < 2
		if broken == (n > 1) {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(free, func(i, k int) int {
		v, w := d.make.cores[i], d.make.cores[k]
		fitter, tidier := -cmp.Compare(fitness(v, use), fitness(w, use)), cmp.Compare(untidy(v), untidy(w))
		if use == Data {
			return cmp.Or(tidier, fitter)
		}
		return cmp.Or(fitter, tidier, compareColours(v, w, group))
	})
	got := make([]cable.Core, n)
	for i, k := range free[:n] {
		d.used[k] = true
		d.left--
		got[i] = d.make.cores[k]
	}
	d.byPole(got, group)
	return got
}

// Colours of the poles of a feed: red for plus and black for minus (common practice; IEC 60445 leaves extra-low voltage
// alone).
const (
	plusColour  = "RD"
	minusColour = "BK"
)

// compareColours gives a lone pole the core of its colour and not that of the other one.
func compareColours(v, w cable.Core, group []*wish) int {
	if len(group) > 1 {
		return 0
	}
	return cmp.Compare(miscoloured(v, group[0].pole), miscoloured(w, group[0].pole))
}

func miscoloured(c cable.Core, p pole) int {
	own, other := plusColour, minusColour
	switch p {
	case noPole:
		return 0
	case minusPole:
		own, other = other, own
	}
	switch c.Colour {
	case own:
		return 0
	case other:
		return 2
	}
	return 1
}

// byPole swaps the cores of two poles whose colours say so.
func (d *drum) byPole(cores []cable.Core, group []*wish) {
	if len(group) != 2 {
		return
	}
	as := miscoloured(cores[0], group[0].pole) + miscoloured(cores[1], group[1].pole)
	turned := miscoloured(cores[1], group[0].pole) + miscoloured(cores[0], group[1].pole)
	if turned < as {
		cores[0], cores[1] = cores[1], cores[0]
	}
}
