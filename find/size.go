package find

import (
	"slices"

	"doorwright/fault"
	"doorwright/unit"
)

// variant is a fault at one of the sizes around which it is thought of; see refit.go for what lies between.
type variant struct {
	fault  *fault.Fault
	weight float64
}

// variants are the sizes a fault is tried at.
func variants(f *fault.Fault) []variant {
	if f == nil {
		return []variant{{nil, 1}}
	}
	var factors []float64
	switch f.Class {
	case fault.High:
		factors = []float64{1, 0.2, 4}
	case fault.Wet:
		factors = []float64{1, 0.25, 4}
	case fault.Source:
		if len(f.Edits) == 1 && f.Edits[0].Op == fault.Scale {
			factors = []float64{1, 0.8, 1.12}
		}
	}
	if factors == nil {
		return []variant{{f, 1}}
	}
	var all []variant
	for i, by := range factors {
		w := 0.3
		if i == 0 {
			w = 0.4
		}
		all = append(all, variant{sized(f, by), w})
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
