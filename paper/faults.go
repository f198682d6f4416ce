package paper

import (
	"strings"

	"doorwright/fault"
	"doorwright/proof"
	"doorwright/situation"
)

// faultSummary says what became of the single faults of each door.
func (w *Work) faultSummary(f *flow) {
	f.head("Single faults, each tried in every cause")
	if w.Examination.Faults == nil {
		f.say("Faults were not tried for this paper. " + tryThem)
		return
	}
	t := table{columns: []column{
		{title: "door"},
		{title: "faults", right: true},
		{title: "noticed at once", right: true},
		{title: "in use", right: true},
		{title: "on test only", right: true},
		{title: "never", right: true},
		{title: "take a way out", right: true},
		{title: "not accepted", right: true},
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
		whole(by[proof.Never]), whole(lost), whole(broken), whole(d.Tried), whole(len(d.Attacks)),
	}
}

// badFaults lists the faults that break a requirement, accepted or not, and what opens a door from outside: those of one
// effect at one door together.
func (w *Work) badFaults(f *flow) {
	titles := map[string]string{}
	for _, c := range situation.Causes() {
		titles[c.ID] = c.Title
	}
	asked := map[string]*proof.Requirement{}
	for _, r := range proof.FaultRequirements() {
		asked[r.ID] = r
	}
	for i := range w.Examination.Faults.Doors {
		d := &w.Examination.Faults.Doors[i]
		var parts []string
		of := map[string][]string{}
		add := func(part, fault string) {
			if of[part] == nil {
				parts = append(parts, part)
			}
			of[part] = append(of[part], sentence(fault))
		}
		for k := range d.Seen {
			if s := &d.Seen[k]; s.Broken != "" {
				add(effectOf(s, titles)+standingOf(s.Accepted, asked[s.Broken]), s.Fault.Name)
			}
		}
		for k := range d.Attacks {
			a := &d.Attacks[k]
			add("The door opens from the unsecured side (while "+a.Cause+"). "+standingOf(a.Accepted, asked[outsideOpens]), namesOf(a.Faults))
		}
		if len(parts) == 0 {
			continue
		}
		f.room(30) // with the first effect and the first of its faults
		f.sub("At " + d.Door.ID)
		for _, p := range parts {
			f.room(22) // with the first of its faults
			f.say(p)
			t := table{columns: []column{{title: counted(len(of[p]), "fault")}}}
			for _, name := range of[p] {
				t.add(name)
			}
			f.columns(t, 2)
		}
	}
}

// effectOf says what a fault takes away: ways out of the door, and other doors.
func effectOf(s *proof.FaultSeen, titles map[string]string) string {
	text := ""
	if len(s.Lost) > 0 {
		var ways []string
		for _, id := range s.Lost {
			ways = append(ways, titles[id])
		}
		text = "These no longer let people out: " + strings.Join(ways, "; ") + ". "
	}
	if s.Beside != nil && len(s.Beside.Takes) > 0 {
		text += "Other doors go out with it: " + strings.Join(s.Beside.Takes, ", ") + ". "
	}
	return text
}

// outsideOpens is the requirement that an attack from outside breaks.
const outsideOpens = "keeps-out-at-hand"

// standingOf says whether it was accepted, or what it breaks.
func standingOf(accepted string, breaks *proof.Requirement) string {
	switch {
	case accepted != "":
		return "Accepted: " + sentence(accepted)
	case breaks.Advice:
		return "Against advice, not accepted: " + lowered(sentence(breaks.Title))
	}
	return "BREAKS A RULE, not accepted: " + lowered(sentence(breaks.Title))
}

func namesOf(all []*fault.Fault) string {
	var names []string
	for _, x := range all {
		names = append(names, x.Name)
	}
	return strings.Join(names, ", and ")
}
