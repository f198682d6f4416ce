package mend

import (
	"math"
	"slices"

	"doorwright/proof"
	"doorwright/rules"
)

// worksBy are the requirements without which a door does not do what it is planned for.
var worksBy = []string{"wired", "settles", "lock-voltage", "unit-voltage", "keeps-out", "lets-through", "input-reads", "data-understood"}

// farOff is how much of its limit a voltage or current must be off: what is less may come of lengths and batteries that nobody has
// stated, and does not mislead a search. A figure of our own choice.
const farOff = 0.15

// Amiss lists what keeps a door from working as it is planned, by calculation, in sentences without an end: first what is
// for another voltage than it gets. Readings are held against the plan: a mistake in it would pass for sound.
func (e *Examination) Amiss(door string) []string {
	var all []string
	found := slices.DeleteFunc(slices.Clone(e.Findings), func(f proof.Finding) bool { return !keepsFromWorking(&f, door) })
	for _, alike := range e.wrongVoltages(door) {
		var ids []string
		for _, w := range alike {
			of := func(f proof.Finding) bool { return f.Subject.Device == w.Device }
			if slices.ContainsFunc(found, of) {
				ids = append(ids, w.Device)
				found = slices.DeleteFunc(found, of)
			}
		}
		if len(ids) > 0 {
			all = append(all, proof.SayWrongVoltage(ids, alike[0])+"; this alone may be what is wrong")
		}
	}
	for _, f := range found {
		what := f.What
		if when := f.When(); when != "" {
			what += ", when: " + when
		}
		all = append(all, what)
	}
	return all
}

// keepsFromWorking says that a finding is of a door that does not work, and not only for a battery or a length.
func keepsFromWorking(f *proof.Finding, door string) bool {
	if (f.Unit == "V" || f.Unit == "A") && (f.Figure == 0 || math.Abs(f.Margin) < farOff*math.Abs(f.Limit)) {
		return false // off with the mains, or no more than a battery or a length makes of it
	}
	return f.Door == door && f.Severity == rules.Error && slices.Contains(worksBy, f.Requirement)
}

// wrongVoltages are what is for another voltage than it gets, what is so in the same way together.
func (e *Examination) wrongVoltages(door string) [][]proof.WrongVoltage {
	d := doorOf(e.Job, door)
	if d == nil {
		return nil
	}
	var all [][]proof.WrongVoltage
	for _, w := range proof.WrongVoltages(d) {
		i := slices.IndexFunc(all, func(alike []proof.WrongVoltage) bool { return alike[0].Alike(w) })
		if i < 0 {
			all = append(all, nil)
			i = len(all) - 1
		}
		all[i] = append(all[i], w)
	}
	return all
}
