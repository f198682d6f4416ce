package proof

import (
	"fmt"
	"slices"

	"doorwright/fault"
	"doorwright/situation"
)

// pairs tries every silent fault together with each bridge of a door that needs a way out.
func (t *trial) pairs() {
	if !needsWayOut(t.door) {
		return
	}
	var silent, shorts []*fault.Fault
	for i := range t.out.Seen {
		s := &t.out.Seen[i]
		if s.Broken == reqFaultNoWay.ID {
			continue
		}
		if (s.Notice == OnTest || s.Notice == NoEffect) && slices.Contains(risky, s.Fault.Class) {
			silent = append(silent, s.Fault)
		}
		if slices.Contains(shorting, s.Fault.Class) {
			shorts = append(shorts, s.Fault)
		}
	}
	for _, a := range silent {
		for _, b := range shorts {
			if a.ID != b.ID {
				t.pair(a, b)
			}
		}
	}
}

// risky are the classes of silent faults that a second one can build on, shorting those of the second.
var (
	risky    = []fault.Class{fault.Bridge, fault.Supplied, fault.Grounded, fault.Earthed, fault.Part, fault.Output}
	shorting = []fault.Class{fault.Supplied, fault.Grounded, fault.Earthed, fault.Part, fault.Output}
)

func (t *trial) pair(a, b *fault.Fault) {
	f := fault.Both(a, b)
	with := t.with(f)
	if with == nil {
		return
	}
	s := FaultSeen{Fault: f}
	left := false
	for q := range with {
		lost, way := false, false
		for k := range with[q] {
			d := t.sound[q][k].demand
			if d.req == nil || d.effect != situation.Released || d.req == reqLetsIn {
				continue
			}
			way = true
			lost = lost || with[q][k].effect != situation.Released
		}
		if lost {
			s.Lost = append(s.Lost, t.causes[q].ID)
		}
		left = left || way && !lost && slices.Contains(hardWays, t.causes[q].ID)
	}
	if left || len(s.Lost) == 0 {
		return
	}
	t.order++
	t.book.note(entry{
		door: t.door.ID, req: reqSecond, where: a.ID, figure: 0, limit: 1, margin: -1, order: t.order,
		what:  fmt.Sprintf("%s shows by nothing; with a second fault, %s, no way out is left", a.Name, b.Name),
		cause: f.Name, limcase: situation.Nominal().Name, subject: Subject{Lock: t.door.Locks[0].ID},
	})
}
