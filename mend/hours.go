package mend

import (
	"fmt"

	"doorwright/proof"
	"doorwright/rules"
	"doorwright/standby"
)

// Ids of the requirements that the estimate of a battery is held against.
const (
	RequirementStandby  = "standby-hours"
	RequirementRecharge = "battery-recharge"
)

// estimated are these requirements, with the rule of each.
var estimated = []struct{ requirement, rule string }{{RequirementStandby, "R-30"}, {RequirementRecharge, "R-33"}}

// RequirementIDs are those of all requirements that a job is examined by.
func RequirementIDs() []string {
	var all []string
	for _, r := range append(proof.Requirements(), proof.FaultRequirements()...) {
		all = append(all, r.ID)
	}
	for _, e := range estimated {
		all = append(all, e.requirement)
	}
	return all
}

// TitleOf is the title of a requirement by its id; empty for an id that is none.
func TitleOf(requirement string) string {
	if rule, ok := ruleOf(requirement); ok {
		return rule.Title
	}
	for _, r := range append(proof.Requirements(), proof.FaultRequirements()...) {
		if r.ID == requirement {
			return r.Title
		}
	}
	return ""
}

// ruleOf is the rule that an estimate is held against.
func ruleOf(requirement string) (rules.Rule, bool) {
	for _, e := range estimated {
		if e.requirement == requirement {
			return rules.Find(e.rule)
		}
	}
	return rules.Rule{}, false
}

// batteryFindings are what is wrong with a battery. All of it is an estimate, and advice.
func batteryFindings(s standby.Estimate) []proof.Finding {
	var all []proof.Finding
	for _, find := range []func(standby.Estimate) (proof.Finding, bool){standbyFinding, rechargeFinding} {
		f, ok := find(s)
		if !ok {
			continue
		}
		rule, _ := ruleOf(f.Requirement)
		f.Rule, f.Severity, f.Why, f.Source = rule.ID, rules.Advice, rule.Why, rule.Basis[0]
		f.Where, f.Subject = s.Supply.ID, proof.Subject{Supply: s.Supply.ID, Device: s.Supply.ID}
		all = append(all, f)
	}
	return all
}

// standbyFinding is that of a battery that does not last as long as is asked.
func standbyFinding(s standby.Estimate) (proof.Finding, bool) {
	if s.Asked == 0 || s.Margin() >= 0 {
		return proof.Finding{}, false
	}
	what := fmt.Sprintf("%s lasts %v, %v asked, while mains is lost (estimate)", s.Supply.ID, s.Reached, s.Asked)
	if s.First != "" {
		what += "; first to drop out: " + s.First
	}
	return proof.Finding{
		Requirement: RequirementStandby, What: what,
		Figure: float64(s.Reached), Limit: float64(s.Asked), Margin: float64(s.Margin()), Unit: "s", Cause: "mains lost", Case: s.Case,
	}, true
}

// rechargeFinding is that of a battery that takes too long to be charged again.
func rechargeFinding(s standby.Estimate) (proof.Finding, bool) {
	r := s.Recharge
	if s.Supply.Battery == nil || r.Enough() {
		return proof.Finding{}, false
	}
	from := "the charger of " + s.Supply.ID
	if !r.Stated() || r.Left < r.Charger {
		from = s.Supply.ID + ", beside its doors,"
	}
	what := from + " has nothing to charge " + s.Supply.Battery.ModelID + " with (estimate)"
	if takes, ok := r.Takes(); ok {
		what = fmt.Sprintf("%s gives %v to charge %s, which is then back at %.0f %% after %.0f h, not %.0f h (estimate)",
			from, r.Gives(), s.Supply.Battery.ModelID, standby.Back*100, float64(takes)/3600, float64(standby.BackIn)/3600)
	}
	return proof.Finding{
		Requirement: RequirementRecharge, What: what,
		Figure: float64(r.Gives()), Limit: float64(r.Needs), Margin: float64(r.Gives() - r.Needs), Unit: "A", Cause: "mains is back",
	}, true
}
