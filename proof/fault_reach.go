package proof

import (
	"fmt"
	"slices"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
)

// AttackSeen is what somebody on the unsecured side can do that lets the door go.
type AttackSeen struct {
	Faults   []*fault.Fault // one, or two together
	Effect   situation.Effect
	Cause    string // what happens beside, by its title
	Accepted string // why it is a consequence that is accepted; empty for an intrusion
}

// attacks tries everything within reach of the unsecured side: each cut, bridge and supply brought along, and each two
// cuts or bridges at one place.
func (t *trial) attacks(in *setting) {
	all := t.catalogue.Attacks(t.door.ID)
	held, steps := t.heldCauses()
	if len(held) == 0 || len(all) == 0 {
		return
	}
	var views []*situation.Closeup
	for _, frames := range *in {
		views = append(views, frames.Closeup(t.door, steps))
	}
	defer func() {
		for _, c := range views {
			t.out.Whole += c.Wide
		}
	}()
	alone := map[string]bool{}
	for i := range all {
		if t.attack(views, held, []*fault.Fault{&all[i]}) {
			alone[all[i].ID] = true
		}
	}
	for i := range all {
		for k := i + 1; k < len(all); k++ {
			a, b := &all[i], &all[k]
			if a.Class == fault.Foreign || b.Class == fault.Foreign || alone[a.ID] || alone[b.ID] || !samePlace(a, b) {
				continue
			}
			t.attack(views, held, []*fault.Fault{a, b})
		}
	}
}

// samePlace says that two things are done at one place.
func samePlace(a, b *fault.Fault) bool { return a.Place == b.Place }

// heldCauses are the causes, with their steps, in which the sound door is held to the end: nothing happens, and mains is
// lost.
func (t *trial) heldCauses() (causes []situation.Cause, steps [][]situation.Step) {
	for q, c := range t.causes {
		sound := t.views[0].sound[q]
		last := sound[len(sound)-1]
		if (c.ID == "idle" || c.ID == "mains") && last.effect == situation.Held {
			causes, steps = append(causes, c), append(steps, t.steps[q])
		}
	}
	return causes, steps
}

// attack tries faults together and says whether they let the door go.
func (t *trial) attack(views []*situation.Closeup, held []situation.Cause, faults []*fault.Fault) bool {
	f := faults[0]
	if len(faults) > 1 {
		f = fault.Both(faults[0], faults[1])
	}
	if !t.island.Has(f) {
		return false
	}
	t.out.Tried++
	seen := make([]AttackSeen, len(held))
	for _, c := range views {
		c.Run(f, nil, func(q, _ int, b *situation.Bench, _ situation.Shows, _ bool) {
			seen[q] = AttackSeen{Faults: faults, Effect: b.Door(t.door).Effect, Cause: held[q].Title}
			t.out.Solved++
		})
		for i := range seen {
			if seen[i].Effect != situation.Held {
				t.opened(f, seen[i])
				return true
			}
		}
	}
	return false
}

// opened notes that an attack lets the door go.
func (t *trial) opened(f *fault.Fault, a AttackSeen) {
	a.Accepted = t.accepted(f)
	t.out.Attacks = append(t.out.Attacks, a)
	if a.Accepted == "" {
		t.intruded(f, &a)
	}
}

// accepted says why an attack may let the door go: a manual release that people who leave must find on that side opens
// the door to everybody there anyway.
func (t *trial) accepted(f *fault.Fault) string {
	if reason := t.acceptedByJob(f); reason != "" {
		return reason
	}
	required := t.door.Escape == job.EscapeIn || t.door.Escape == job.EscapeBoth
	for _, r := range t.door.Releases {
		if required && r.Unsecured && r.Place.ID == f.Place {
			return "the manual release " + r.ID + " that people need on this side opens the door anyway"
		}
	}
	return ""
}

func (t *trial) intruded(f *fault.Fault, a *AttackSeen) {
	t.order++
	names := make([]string, 0, len(a.Faults))
	for _, one := range a.Faults {
		names = append(names, one.Name)
	}
	where := f.Place
	t.book.note(entry{
		door: t.door.ID, req: reqReach, where: where, figure: 0, limit: 1, margin: -1, order: t.order,
		what:  fmt.Sprintf("the lock is %v when, within reach on the unsecured side, %s", a.Effect, joinWords(names)),
		cause: a.Cause, limcase: situation.Nominal().Name, subject: Subject{Lock: t.door.Locks[0].ID},
	})
}

func joinWords(all []string) string {
	all = slices.Clone(all)
	if len(all) == 2 {
		return all[0] + ", and " + all[1]
	}
	return all[0]
}
