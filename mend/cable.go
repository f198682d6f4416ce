package mend

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"doorwright/cable"
	"doorwright/document"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// How many runs and how many sizes of each are tried.
const (
	runsTried  = 3
	sizesTried = 3
)

// thickerCable proposes the next thicker cables for the runs that drop most of the voltage on the way, one run at a
// time, and the two worst together.
func thickerCable(c *context) []*candidate {
	var all []*candidate
	runs := c.worstRuns()
	for _, r := range runs {
		for _, t := range c.thicker(r.Type) {
			all = append(all, c.swap([]*job.Run{r}, []string{t})...)
		}
	}
	if len(runs) < 2 {
		return all
	}
	first, second := c.thicker(runs[0].Type), c.thicker(runs[1].Type)
	for i := range min(len(first), len(second)) {
		all = append(all, c.swap(runs[:2], []string{first[i], second[i]})...)
	}
	return all
}

// worstRuns lists the runs on the way of the finding's power or data, those of most resistance first.
func (c *context) worstRuns() []*job.Run {
	ohms := map[*job.Run]float64{}
	var runs []*job.Run
	for _, w := range c.plan.Conductors {
		if w.Kind != wiring.Core || !c.onTheWay(w) {
			continue
		}
		if _, ok := ohms[w.Run]; !ok {
			runs = append(runs, w.Run)
		}
		ohms[w.Run] += float64(w.Ohms(referenceTemperature).Nominal)
	}
	sort.SliceStable(runs, func(i, k int) bool { return ohms[runs[i]] > ohms[runs[k]] })
	return runs[:min(len(runs), runsTried)]
}

// referenceTemperature is that at which resistances are compared.
const referenceTemperature unit.Celsius = 20

// onTheWay says that a conductor carries what the finding is about.
func (c *context) onTheWay(w *wiring.Conductor) bool {
	f := c.finding
	if f.Requirement == "cable-current" {
		return w.Run.ID == f.Subject.Run
	}
	if f.Requirement == "data-understood" {
		return w.Door == f.Door && w.Use != wiring.Signal
	}
	if w.Use != wiring.Power {
		return false
	}
	if w.Feeds != nil || w.Reason.Effect == wiring.UnitDead && w.Door == "" {
		return c.feeds(w)
	}
	if f.Subject.Lock != "" {
		return w.Door == f.Door && w.Reason.Effect == wiring.LockDead
	}
	return w.Door == f.Door && w.Reason.Effect == wiring.UnitDead
}

// feeds says that a conductor brings the supply of the controller that the finding's device, or its lock, hangs on.
func (c *context) feeds(w *wiring.Conductor) bool {
	controller := c.finding.Subject.Device
	if d := c.door(); d != nil {
		if c.finding.Subject.Lock != "" && !d.Locks[0].Feed.Controller {
			return false
		}
		controller = d.Controller.ID
	}
	return strings.HasPrefix(w.A.String(), controller+".") || strings.HasPrefix(w.B.String(), controller+".") ||
		w.Feeds != nil && w.Feeds.ID == controller
}

// thicker lists the next thicker types that can stand in for a type.
func (c *context) thicker(t *cable.Type) []string {
	now := thinnest(t)
	var ids []string
	for _, choice := range cable.Choose(slices.Concat(cable.Types(), c.ownTypes()), cable.Like(*t)) {
		if choice.Area > now && choice.Type.ID != t.ID {
			ids = append(ids, choice.Type.ID)
		}
	}
	return ids[:min(len(ids), sizesTried)]
}

func thinnest(t *cable.Type) float64 {
	cores := t.Cores()
	area := cores[0].Conductor.Size.Area()
	for _, k := range cores {
		area = min(area, k.Conductor.Size.Area())
	}
	return area
}

func (c *context) ownTypes() []cable.Type {
	var all []cable.Type
	for _, e := range c.job.Document.Cables {
		e.Value.ID = e.Key
		all = append(all, e.Value)
	}
	return all
}

// swap takes other cable types for runs. A run that was taken by default is written out, with the others to its place.
func (c *context) swap(runs []*job.Run, types []string) []*candidate {
	var edits []edit
	var words []string
	for i, r := range runs {
		words = append(words, fmt.Sprintf("pull %s instead of %s from %s to %s", types[i], r.TypeID, r.From.ID, r.To.ID))
		if !r.Assumed {
			id, t := r.ID, types[i]
			edits = append(edits, edit{"runs." + id + ".cable", t, func(doc *job.Document) {
				if run, ok := doc.Runs.Get(id); ok {
					run.Cable = t
				}
			}})
			continue
		}
		edits = append(edits, c.writeOut(r, types[i])...)
	}
	return one(strings.Join(words, ", and "), costCable, edits...)
}

// writeOut writes the default runs to a place into the document, one of them with another type.
func (c *context) writeOut(changed *job.Run, t string) []edit {
	var edits []edit
	for _, r := range c.job.Runs {
		if !r.Assumed || r.To != changed.To || r.From != changed.From {
			continue
		}
		w := job.RunDoc{From: r.From.ID, To: r.To.ID, Cable: r.TypeID, Length: r.Designed, Carries: carried(r.Carries)}
		if r == changed {
			w.Cable = t
		}
		id, carries := r.ID, ""
		if len(w.Carries) > 0 {
			carries = ", carries: [" + strings.Join(w.Carries, ", ") + "]"
		}
		edits = append(edits, edit{
			"runs." + id, fmt.Sprintf("{from: %s, to: %s, cable: %s, length: %v%s}", w.From, w.To, w.Cable, w.Length, carries),
			func(doc *job.Document) {
				if _, ok := doc.Runs.Get(id); !ok {
					doc.Runs = append(doc.Runs, document.Entry[job.RunDoc]{Key: id, Value: w})
				}
			},
		})
	}
	return edits
}

func carried(c job.Carries) []string {
	var all []string
	for _, k := range []struct {
		name string
		on   bool
	}{{"power", c.Power}, {"signal", c.Signal}, {"data", c.Data}} {
		if k.on {
			all = append(all, k.name)
		}
	}
	return all
}
