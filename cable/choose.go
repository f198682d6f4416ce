package cable

import (
	"cmp"
	"slices"

	"doorwright/unit"
)

// Need is what a run asks of its cable. Zero fields ask for nothing.
type Need struct {
	Cores    int    // at least so many, each within the limit
	Pairs    int    // at least so many twisted groups
	Screened int    // at least so many of its cores lie in a screen
	MakeUp   string // IEC or NorthAmerican; empty for either

	Length      unit.Metre // one way
	Temperature unit.Celsius
	// Limit is the highest loop resistance, out and back over one core each: the allowed drop divided by the current.
	Limit unit.Ohm
}

// Choice is a cable type that meets a need.
type Choice struct {
	Type Type
	Area float64    // mm2 of the thinnest core counted
	Loop Resistance // out and back over the worst core counted
}

// Like is the need that a replacement for t has to meet, without length and limit: as many cores, pairs and screened
// cores, and the same make-up.
func Like(t Type) Need {
	n := Need{MakeUp: t.makeUp()}
	for _, c := range t.Cores() {
		n.Cores++
		n.Pairs = max(n.Pairs, c.Pair)
		if c.Screened {
			n.Screened++
		}
	}
	return n
}

// Choose lists the types that meet the need, thinnest conductor first, then fewest cores, then in the order given. Of a
// type with more cores than needed the thickest are counted. Copper-clad aluminium is never chosen: it breaks and works
// loose at small screws, and the trade keeps it out of lock feeds (common practice).
func Choose(types []Type, need Need) []Choice {
	var fit []Choice
	for _, t := range types {
		if need.MakeUp != "" && t.makeUp() != need.MakeUp {
			continue
		}
		if c, ok := need.meet(t); ok {
			fit = append(fit, c)
		}
	}
	slices.SortStableFunc(fit, func(a, b Choice) int {
		return cmp.Or(cmp.Compare(a.Area, b.Area), cmp.Compare(len(a.Type.Cores()), len(b.Type.Cores())))
	})
	return fit
}

// meet says whether t meets the need, and how well.
func (n Need) meet(t Type) (Choice, bool) {
	cores := t.Cores()
	cores = slices.DeleteFunc(cores, func(c Core) bool { return c.Conductor.Material == CopperClad })
	pairs, screened := 0, 0
	for _, c := range cores {
		pairs = max(pairs, c.Pair)
		if c.Screened {
			screened++
		}
	}
	if len(cores) < max(n.Cores, 1) || pairs < n.Pairs || screened < n.Screened {
		return Choice{}, false
	}
	resistance := func(c Core) Resistance { return c.Conductor.Resistance(n.Length, n.Temperature) }
	slices.SortStableFunc(cores, func(a, b Core) int { return cmp.Compare(resistance(a).Max, resistance(b).Max) })
	worst := cores[max(n.Cores, 1)-1]
	r := resistance(worst)
	loop := Resistance{2 * r.Nominal, 2 * r.Max}
	return Choice{t, worst.Conductor.Size.Area(), loop}, n.Limit == 0 || loop.Max <= n.Limit
}

func (t Type) makeUp() string { return cmp.Or(t.MakeUp, IEC) }
