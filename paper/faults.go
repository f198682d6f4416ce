package paper

import (
	"strings"

	"doorwright/fault"
	"doorwright/proof"
)

// faultSummary says what became of the single faults of each door.
func (w *Work) faultSummary(f *flow) {
	f.head("Single faults, each tried in every cause")
	if w.Examination.Faults == nil {
		f.say("Faults were not tried for this paper.")
		return
	}
	t := table{columns: []column{
		{title: "door"},
		{title: "faults", right: true},
		{title: "noticed at once", right: true},
		{title: "in use", right: true},
		{title: "on test only", right: true},
		{title: "no difference", right: true},
		{title: "take a way out", right: true},
		{title: "not allowed", right: true},
		{title: "tried from outside", right: true},
		{title: "open the door", right: true},
	}}
	for i := range w.Examination.Faults.Doors {
		t.add(faultCounts(&w.Examination.Faults.Doors[i])...)
	}
	f.table(t)
	w.badFaults(f)
	f.note("Not tried: " + strings.Join(w.Examination.Faults.Left, " "))
}

func faultCounts(d *proof.DoorFaults) []string {
	by := map[proof.Notice]int{}
	lost, broken := 0, 0
	for i := range d.Seen {
		s := &d.Seen[i]
		by[s.Notice]++
		if len(s.Lost) > 0 {
			lost++
		}
		if s.Broken != "" && s.Accepted == "" {
			broken++
		}
	}
	return []string{
		d.Door.ID, whole(len(d.Seen)), whole(by[proof.AtOnce]), whole(by[proof.InUse]), whole(by[proof.OnTest]),
		whole(by[proof.NoEffect]), whole(lost), whole(broken), whole(d.Tried), whole(len(d.Attacks)),
	}
}

// badFaults lists the faults that break a requirement, accepted or not, and what opens a door from outside.
func (w *Work) badFaults(f *flow) {
	t := table{columns: []column{{title: "door"}, {title: "fault"}, {title: "takes away"}, {title: "standing"}}}
	for i := range w.Examination.Faults.Doors {
		d := &w.Examination.Faults.Doors[i]
		for k := range d.Seen {
			if s := &d.Seen[k]; s.Broken != "" {
				t.add(d.Door.ID, sentence(s.Fault.Name), strings.Join(s.Lost, ", "), standingOf(s.Accepted))
			}
		}
		for k := range d.Attacks {
			a := &d.Attacks[k]
			t.add(d.Door.ID, sentence(namesOf(a.Faults)), "opens from the unsecured side ("+a.Cause+")",
				standingOf(a.Accepted))
		}
	}
	f.table(t)
}

func standingOf(accepted string) string {
	if accepted == "" {
		return "NOT ALLOWED"
	}
	return "accepted: " + accepted
}

func namesOf(all []*fault.Fault) string {
	var names []string
	for _, x := range all {
		names = append(names, x.Name)
	}
	return strings.Join(names, ", and ")
}
