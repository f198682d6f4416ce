package journal

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"doorwright/document"
	"doorwright/record"
)

// inOrder puts entries in the one order that all who hold them agree on.
func inOrder(all []*Entry) {
	slices.SortFunc(all, func(a, b *Entry) int {
		return cmp.Or(cmp.Compare(a.Clock, b.Clock), strings.Compare(a.Log, b.Log), cmp.Compare(a.Seq, b.Seq))
	})
}

// fold takes entries in order and knows what they come to.
type fold struct {
	entries   int
	unknown   int
	people    document.Map[record.Person]
	meters    document.Map[record.Instrument]
	seats     map[string]string // by log
	jobs      map[string]*builder
	withdrawn map[string]map[Ref]bool // by job
	namers    map[string]string       // by initials: the log that named them last
	clashes   []string
}

func newFold() *fold {
	return &fold{seats: map[string]string{}, jobs: map[string]*builder{}, withdrawn: map[string]map[Ref]bool{}, namers: map[string]string{}}
}

// take adds the next entry.
func (f *fold) take(e *Entry) {
	f.entries++
	switch b := e.Body.(type) {
	case Named:
		f.named(e, b)
	case Seated:
		f.seats = maps.Clone(f.seats)
		f.seats[e.Log] = b.Initials
	case Owned:
		f.meters = with(f.meters, b.Meter, b.Instrument)
	case Unknown:
		f.unknown++
	case Withdrawn:
		f.withdraw(b)
	}
	if id := e.Body.about(); id != "" {
		if f.jobs[id] == nil {
			f.jobs[id] = newBuilder(id)
		}
		f.jobs[id].enter(e, f.withdrawn[id])
	}
}

// named adds a person. Two devices that give the same initials to two people are told: from then on nobody can say by
// the initials who did something.
func (f *fold) named(e *Entry, b Named) {
	if old, ok := f.people.Get(b.Initials); ok && f.namers[b.Initials] != e.Log && old.Name != b.Name {
		f.clashes = append(f.clashes, fmt.Sprintf("The initials %s stand for %s on one device and for %s on another.", b.Initials, old.Name, b.Name))
	}
	f.people = with(f.people, b.Initials, b.Person)
	f.namers[b.Initials] = e.Log
}

// withdraw takes an earlier entry out of what counts: the job is built anew without it.
func (f *fold) withdraw(w Withdrawn) {
	if f.withdrawn[w.Job] == nil {
		f.withdrawn[w.Job] = map[Ref]bool{}
	}
	f.withdrawn[w.Job][Ref{w.Log, w.Seq}] = true
	if old := f.jobs[w.Job]; old != nil {
		b := newBuilder(w.Job)
		for _, e := range old.job.History {
			b.enter(e, f.withdrawn[w.Job])
		}
		f.jobs[w.Job] = b
	}
}

// with is a map with a value, without changing those that were given out.
func with[T any](m document.Map[T], key string, v T) document.Map[T] {
	m = slices.Clone(m)
	for i := range m {
		if m[i].Key == key {
			m[i].Value = v
			return m
		}
	}
	return append(m, document.Entry[T]{Key: key, Value: v})
}

func (f *fold) state() *State {
	s := &State{People: f.people, Meters: f.meters, Seats: f.seats, Entries: f.entries, Unknown: f.unknown, Clashes: slices.Clip(f.clashes)}
	for _, id := range slices.Sorted(maps.Keys(f.jobs)) {
		s.Jobs = append(s.Jobs, f.jobs[id].finished())
	}
	return s
}
