package find

import (
	"strings"

	"doorwright/fault"
)

// How likely what is, before anything was read, once somebody has called because a door does not work. These are
// estimates of the trade, common practice, no source: published counts for door wiring were not found. The order of the
// classes follows what is told of service calls: connections first, then settings and worn parts, then supplies; what
// takes two accidents is rare. Give a catalogue of your own figures by a change of this table.
const (
	priorHealthy = 0.02 // a fault was reported: rarely is nothing wrong
	priorUnknown = 0.05 // what no catalogue holds

	priorUnplanned = 0.2 // the same at a door that is taken to be wired as is usual
)

// massOf is the share of a class among all that is wrong.
func massOf(class fault.Class) float64 {
	for _, x := range []struct {
		class fault.Class
		mass  float64
	}{
		{fault.Open, 0.28},
		{fault.High, 0.10},
		{fault.Bridge, 0.12},
		{fault.Supplied, 0.015},
		{fault.Grounded, 0.015},
		{fault.Earthed, 0.02},
		{fault.Swap, 0.08},
		{fault.Part, 0.16},
		{fault.Source, 0.05},
		{fault.Output, 0.03},
		{fault.Wet, 0.02},
		{fault.Setting, 0.06},
		{Wiring, 0.05},
		{Use, 0.05},
	} {
		if x.class == class {
			return x.mass
		}
	}
	return 0
}

// weightOf is how a fault compares with the others of its class.
func weightOf(f *fault.Fault) float64 {
	switch f.Class {
	case fault.Open:
		if strings.HasPrefix(f.ID, "open:leg:") || strings.Contains(f.ID, "/P") {
			return 0.6 // made once and seldom touched again
		}
	case fault.Bridge:
		switch {
		case strings.Contains(f.Where, "across a contact"):
			return 3 // a test link left in
		case strings.Contains(f.Where, "on the strip"):
			return 2 // a stray strand
		}
		return 0.5
	case fault.Swap:
		if len(f.At) == 2 && f.At[0].Use == f.At[1].Use {
			return 2 // the two cores of one circuit
		}
		return 0.5
	case fault.Part:
		switch {
		case strings.HasSuffix(f.ID, ":x2") || strings.HasSuffix(f.ID, ":x0.5"):
			return 0.5
		case strings.HasSuffix(f.ID, ":on") || strings.HasSuffix(f.ID, ":off") || strings.HasSuffix(f.ID, ":dead"):
			return 2 // what moves wears
		case strings.HasSuffix(f.ID, "link:open"):
			return 3 // fuses blow
		}
	}
	return 1
}

// shared is the weight of a fault of what several doors hang on: most calls are about one door.
const shared = 0.3
