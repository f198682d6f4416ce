package rules

import (
	"slices"
	"strings"

	"doorwright/unit"
)

// Family is a set of published conditions that belong together. A door has to meet all of its family's; half of one and
// half of another is a typical design error.
type Family struct {
	ID      string
	Title   string
	Edition string       // which text the figures are from, and what to check
	WayOut  Demand[Ways] // what lets people out under these rules
	Parameters
}

// Lines writes the way out and every parameter in words, in a fixed order.
func (f Family) Lines() []Line {
	lines := []Line{{"way-out", "What lets people out", f.WayOut.Value.String(), f.WayOut.Source}}
	for _, p := range parameters {
		lines = append(lines, p.line(f.Parameters))
	}
	return lines
}

// Families lists the families that a job can name, in a fixed order.
func Families() []Family {
	return []Family{
		ibcHardwareRelease(), ibcSensorRelease(), nfpaSensorRelease(), ukA(), ukB(), ukC(), en13637(), de(), freeEgress(),
		general(),
	}
}

// FindFamily is the family with an id; "strictest" is one of them.
func FindFamily(id string) (Family, bool) {
	all := append(Families(), Strictest())
	i := slices.IndexFunc(all, func(f Family) bool { return f.ID == id })
	if i < 0 {
		return Family{}, false
	}
	return all[i], true
}

// Join is what a door has to meet when several families apply: in each parameter the strictest of them, with its
// source, and every way out that any of them asks for. Where no height meets all of them the first one stays; see
// Conflicts. Join of nothing is Strictest.
func Join(families ...Family) Family {
	if len(families) == 0 {
		return Strictest()
	}
	joined := families[0]
	ids, titles, editions := []string{joined.ID}, []string{joined.Title}, []string{joined.Edition}
	for _, f := range families[1:] {
		ids, titles, editions = append(ids, f.ID), append(titles, f.Title), append(editions, f.Edition)
		if more := f.WayOut.Value &^ joined.WayOut.Value; more != 0 {
			joined.WayOut.Value |= more
			joined.WayOut.Source = bothSources(joined.WayOut.Source, f.WayOut.Source)
		}
		for _, p := range parameters {
			p.tighten(&joined.Parameters, f.Parameters)
		}
	}
	joined.ID, joined.Title = strings.Join(ids, "+"), strings.Join(titles, " and ")
	joined.Edition = strings.Join(editions, "; ")
	return joined
}

// Strictest is what a door is judged by when the job names no rules: in each parameter the strictest of all families.
// The way out is no matter of degree, so it is the one that most families ask for, a manual release device; the height
// is the band that suits every reach rule here, because the families' own heights exclude each other.
func Strictest() Family {
	f := Join(Families()...)
	f.ID, f.Title = "strictest", "Strictest of all families"
	f.Edition = "No rules were named for this door: name those in force where it stands"
	f.WayOut = Demand[Ways]{ManualDevice, carefulTrade}
	f.Height = Demand[unit.Band[unit.Metre]]{band(1.016, 1.2), heightTrade}
	return f
}
