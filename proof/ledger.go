package proof

import (
	"math"
	"slices"
	"sort"

	"doorwright/job"
)

// entry is a requirement that failed at one place, as it was seen at its worst.
type entry struct {
	door    string // id; empty when it is about a supply or the job
	req     *Requirement
	rule    string // instead of the requirement's own, when the situation tells which rule it is
	where   string
	what    string
	figure  float64
	limit   float64
	margin  float64
	unit    string
	cause   string
	limcase string
	idle    bool // seen while nothing happens, too, in some limit case
	order   int  // of the case and sequence it was seen in, so that ties go to the first
	subject Subject
}

// ledger keeps the worst failure of each requirement at each place. It is filled by one goroutine.
type ledger struct {
	worst map[ledgerKey]int
	list  []entry
}

type ledgerKey struct {
	door  string
	req   *Requirement
	where string
}

func newLedger() *ledger { return &ledger{worst: map[ledgerKey]int{}} }

// holds says that a requirement is kept with this margin. A margin that is no number is none. Most of what is judged
// holds, and is not worth the words for it.
func holds(margin float64) bool { return margin >= 0 }

// note keeps e when it fails and is worse than what is known of the same requirement at the same place.
func (l *ledger) note(e entry) {
	if holds(e.margin) {
		return
	}
	if math.IsNaN(e.margin) {
		e.margin = math.Inf(-1)
	}
	k := ledgerKey{e.door, e.req, e.where}
	if i, ok := l.worst[k]; ok {
		old := &l.list[i]
		idle := e.idle || old.idle
		if e.margin < old.margin || e.margin == old.margin && e.order < old.order {
			*old = e
		}
		old.idle = idle
		return
	}
	l.worst[k] = len(l.list)
	l.list = append(l.list, e)
}

// join takes over the entries of another ledger.
func (l *ledger) join(other *ledger) {
	for _, e := range other.list {
		l.note(e)
	}
}

// failed lists what failed, errors of a door before its advice, doors in the order of the job.
func (l *ledger) failed(j *job.Job) []entry {
	all := slices.Clone(l.list)
	rank := map[string]int{"": len(j.Doors)}
	for i, d := range j.Doors {
		rank[d.ID] = i
	}
	sort.SliceStable(all, func(a, b int) bool {
		x, y := &all[a], &all[b]
		switch {
		case x.req.Advice != y.req.Advice:
			return y.req.Advice
		case x.door != y.door:
			return rank[x.door] < rank[y.door]
		case x.req != y.req:
			return x.req.ID < y.req.ID
		}
		return x.where < y.where
	})
	return all
}
