package mend

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"doorwright/job"
)

// likeness says how a door is wired, in a text that is the same for doors that differ only in names, sizes and the lengths
// of their cables: what is fitted and set at the door, which of the doors of its controller it is, that controller, the
// supplies that feed it, and the runs that are written for it.
func likeness(j *job.Job, door string) string {
	doc, ok := j.Document.Doors.Get(door)
	if !ok {
		return door
	}
	d := *doc
	d.Title, d.Secured, d.Opening, d.Length, d.Accepts = "", "", job.OpeningDoc{}, 0, nil
	controller, channel, _ := strings.Cut(d.Controller, "/")
	var parts []any
	var feeds []*string
	if c, ok := j.Document.Controllers.Get(controller); ok {
		c := *c
		c.Title, c.Network = "", job.NetworkDoc{}
		c.Place = strings.TrimPrefix(c.Place, door+".")
		feeds = append(feeds, &c.Feed)
		parts = append(parts, &c)
	}
	d.Controller = channel
	d.Locks = append([]job.LockDoc(nil), d.Locks...)
	for i := range d.Locks {
		feeds = append(feeds, &d.Locks[i].Feed)
	}
	for _, feed := range feeds {
		id, output, _ := strings.Cut(*feed, "/")
		s, ok := j.Document.Supplies.Get(id)
		if !ok {
			continue
		}
		like := *s
		like.Title, like.Place, like.Tells, like.Released, like.Latching = "", "", "", nil, nil
		n, _ := strconv.Atoi(output)
		parts = append(parts, like, sharers(j.Document, *feed), slices.Contains(s.Released, n), slices.Contains(s.Latching, n))
		*feed = ""
	}
	for i := range j.Document.Runs {
		r := j.Document.Runs[i].Value
		from, here := at(r.From, door)
		to, there := at(r.To, door)
		if here || there {
			parts = append(parts, from, to, r.Cable, r.Carries, passed(r))
		}
	}
	text, err := json.Marshal(append(parts, d))
	if err != nil {
		return door
	}
	return string(text)
}

// at is where at a door a place is; false for a place that is elsewhere.
func at(place, door string) (string, bool) {
	here, ok := strings.CutPrefix(place, door+".")
	if !ok {
		return "", false
	}
	return here, true
}

// passed is what a run passes, lengths aside.
func passed(r job.RunDoc) []job.StretchDoc {
	all := slices.Clone(r.Passes)
	for i := range all {
		all[i].Length = 0
	}
	return all
}

// sharers is how many controllers and locks hang on a feed: a supply, or an output of its board.
func sharers(doc *job.Document, feed string) int {
	n := 0
	for i := range doc.Controllers {
		if doc.Controllers[i].Value.Feed == feed {
			n++
		}
	}
	for i := range doc.Doors {
		for _, l := range doc.Doors[i].Value.Locks {
			if l.Feed == feed {
				n++
			}
		}
	}
	return n
}
