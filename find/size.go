package find

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"doorwright/fault"
	"doorwright/unit"
)

// variant is a fault at one of the sizes around which it is thought of; see refit.go for what lies between.
type variant struct {
	fault  *fault.Fault
	weight float64
}

// factor is a size, as so many times that of the catalogue, and how likely what has about this size is.
type factor struct{ by, weight float64 }

// factorsOf are the sizes of a class (common practice, no source). What touches mostly touches well; a strand, a nail or a burnt spot has
// an ohm or two.
func factorsOf(class fault.Class) []factor {
	switch class {
	case fault.High, fault.Wet:
		return []factor{{1, 0.4}, {0.2, 0.3}, {4, 0.3}}
	case fault.Source:
		return []factor{{1, 0.4}, {0.8, 0.3}, {1.12, 0.3}}
	case fault.Bridge, fault.Supplied, fault.Grounded, fault.Earthed:
		return []factor{{1, 0.6}, {30, 0.4}}
	}
	return []factor{{1, 1}}
}

// variants are the sizes a fault is tried at.
func variants(f *fault.Fault) []variant {
	if f == nil || f.Spread == 0 {
		return []variant{{f, 1}}
	}
	var all []variant
	for _, x := range factorsOf(f.Class) {
		all = append(all, variant{sized(f, x.by), x.weight})
	}
	return all
}

// sized is a fault with what it is known by times a factor.
func sized(f *fault.Fault, by float64) *fault.Fault {
	if by == 1 {
		return f
	}
	g := *f
	g.Edits = slices.Clone(f.Edits)
	for i := range g.Edits {
		e := &g.Edits[i]
		switch e.Op {
		case fault.Resist, fault.Join:
			e.Ohms = unit.Ohm(float64(e.Ohms) * by)
		case fault.Scale:
			e.Factor *= by
		}
	}
	return &g
}

// unsized is the name of a fault without the resistance that the catalogue has of a joint or a leak: here it may be any.
func unsized(f *fault.Fault) string {
	if f.Class != fault.High && f.Class != fault.Wet {
		return f.Name
	}
	name := strings.Replace(f.Name, " of "+f.Edits[0].Ohms.String(), "", 1)
	return strings.Replace(name, ": "+f.Edits[0].Ohms.String(), "", 1)
}

// sizeKnown is the deviation of the logarithm of a size from which what was read tells it.
const sizeKnown = 0.3

// sizeOf is how large a suspect is by what was read; empty where nothing tells.
func (f *Finder) sizeOf(s *suspect) string {
	if s.fault == nil || s.fault.Spread == 0 {
		return ""
	}
	mean, square := 0.0, 0.0
	for _, x := range sizesOf(s) {
		at, left := x.b.fits(f.book)
		log := math.Log(sizeIn(x.b.row.Fault)) + at*s.fault.Spread
		mean += x.p * log
		square += x.p * (sq(log) + sq(left*s.fault.Spread))
	}
	if square-sq(mean) > sq(sizeKnown) {
		return ""
	}
	size := twoDigits(math.Exp(mean))
	switch {
	case s.fault.Edits[0].Op != fault.Scale:
		return "about " + unit.Ohm(size).String()
	case s.class == fault.Source:
		return fmt.Sprintf("about %g of its voltage", size)
	}
	return fmt.Sprintf("about %g times its resistance", size)
}

// sizeIn is the size that a fault has: ohms, or times.
func sizeIn(f *fault.Fault) float64 {
	if e := &f.Edits[0]; e.Op != fault.Scale {
		return float64(e.Ohms)
	}
	return f.Edits[0].Factor
}

func twoDigits(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
	if err != nil {
		return x
	}
	return y
}
