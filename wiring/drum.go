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

// take takes a core for each wish of a group, one after another. The use is that of the group, or data for all that
// shares the sheath of a reader: it then lies in the bundle of the data lines.
func (d *drum) take(use Use, group []*wish) []cable.Core {
	got := make([]cable.Core, 0, len(group))
	for i, w := range group {
		k := d.choose(use, w.colour, got, len(group)-i)
		d.used[k] = true
		d.left--
		got = append(got, d.make.cores[k])
	}
	return got
}

// choose finds the core for a wish that lies beside cores taken before it, with so many still to come. Data would
// rather have a whole pair than the fittest core, all else the other way round; among equals the colour decides.
func (d *drum) choose(use Use, colour string, beside []cable.Core, toCome int) int {
	found, least := -1, [3]float64{}
	for _, k := range d.make.best[use] {
		if d.used[k] {
			continue
		}
		c := d.make.cores[k]
		rank := [3]float64{-fitness(c, use), float64(d.untidy(c, beside, toCome)), float64(miscoloured(c, colour))}
		if use == Data {
			rank[0], rank[1] = rank[1], rank[0]
		}
		if found < 0 || slices.Compare(rank[:], least[:]) < 0 {
			found, least = k, rank
		}
	}
	return found
}

// untidy ranks a core by what taking it leaves: best the partner of one beside it, then a whole pair for several to
// come and none for a lone one.
func (d *drum) untidy(c cable.Core, beside []cable.Core, toCome int) int {
	if c.Pair > 0 && slices.ContainsFunc(beside, func(b cable.Core) bool { return b.Pair == c.Pair }) {
		return 0
	}
	free := 0
	for _, k := range d.make.best[Power] {
		if d.make.cores[k].Pair == c.Pair && !d.used[k] {
			free++
		}
	}
	whole := c.Pair > 0 && free > 1
	if whole == (toCome > 1) {
		return 1
	}
	return 2
}

// Colours that people expect: red for plus and black for minus (common practice; IEC 60445 leaves extra-low voltage
// alone), green, white and brown for data 0, data 1 and lamp of a reader (SIA AC-01, from memory).
const (
	plusColour  = "RD"
	minusColour = "BK"
	zeroColour  = "GN"
	oneColour   = "WH"
	lampColour  = "BN"
)

// miscoloured ranks the colour of a core against the one wished for. Red and black are left for power as long as there
// are others.
func miscoloured(c cable.Core, colour string) int {
	switch {
	case colour == c.Colour && colour != "":
		return 0
	case c.Colour == plusColour || c.Colour == minusColour:
		return 2
	}
	return 1
}
