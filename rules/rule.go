package rules

import "slices"

// Rule is one condition a door is judged by.
type Rule struct {
	ID     string   `json:"id"` // "R-00" and up
	Title  string   `json:"title"`
	Level  Level    `json:"level"`
	Says   string   `json:"says"`    // what must hold
	Why    string   `json:"why"`     // what happens otherwise
	LookAt string   `json:"look_at"` // what a person must look at where it is not judged by calculation
	Basis  []Source `json:"basis"`
	Judged bool     `json:"judged"` // whether a complete wiring plan is enough to judge it by calculation
}

// entry is a rule with what it depends on in a family; nil functions mean always, and the level of the rule.
type entry struct {
	Rule
	applies func(Parameters) bool
	level   func(Parameters) Level
}

// Rules lists the rules that apply under the family, in the order of their ids, with the level they have there.
func (f Family) Rules() []Rule {
	var all []Rule
	for _, e := range entries {
		if e.applies != nil && !e.applies(f.Parameters) {
			continue
		}
		r := e.copy()
		if e.level != nil {
			r.Level = e.level(f.Parameters)
		}
		all = append(all, r)
	}
	return all
}

// All lists every rule in the order of ids, each with its usual level.
func All() []Rule {
	all := make([]Rule, len(entries))
	for i, e := range entries {
		all[i] = e.copy()
	}
	return all
}

// Find is the rule with an id.
func Find(id string) (Rule, bool) {
	for _, e := range entries {
		if e.ID == id {
			return e.copy(), true
		}
	}
	return Rule{}, false
}

// copy keeps the list out of the hands of callers.
func (e entry) copy() Rule {
	r := e.Rule
	r.Basis = slices.Clone(r.Basis)
	return r
}

// What a rule depends on.
func held(p Parameters) bool        { return p.ManualRelease.Value }
func fire(p Parameters) bool        { return p.FireSignal.Value }
func relocks(p Parameters) bool     { return p.Relock.Value != RelockAny }
func controller(p Parameters) bool  { return p.ControllerPowerLoss.Value }
func sensor(p Parameters) bool      { return p.SensorPowerLoss.Value }
func holds(p Parameters) bool       { return p.Hold.Value != Hold{} }
func directions(p Parameters) bool  { return p.ReleasesPerWay.Value > 0 }
func placed(p Parameters) bool      { return held(p) && (!p.Height.Value.IsZero() || p.Distance.Value > 0) }
func placeLevel(p Parameters) Level { return p.Height.Source.Mark.Level(Preferred) }

// faultLevel makes an error of what is advice where no single fault may prevent release.
func faultLevel(p Parameters) Level {
	if p.SingleFault.Value {
		return Error
	}
	return Advice
}
