package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/situation"
)

// faultsView is what single faults come to at the doors of a job, as far as they were tried.
type faultsView struct {
	At, Lead             string
	Waiting              bool // more will come
	Counts, Broken, Left tableView
	Door                 *doorFaultsView // that is asked for; nil for none
}

// faults shows what becomes of every single fault: at once what is known of doors that a change has not touched, the others
// as they are tried.
func (h *handler) faults(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	s := h.sheet(r, at, "Every single fault", step{at.desk.job.Title, at.home})
	s.Tabs = jobTabs(at, "Faults")
	run := h.tryFaults(at, "")
	run.hurry()
	counts, broken, left, tried := at.faultTables(run)
	v := faultsView{At: r.URL.RequestURI(), Lead: triedWords(at, tried), Counts: counts, Broken: broken, Left: left, Waiting: tried < len(at.desk.job.Doors) && !run.failed()}
	if v.Waiting {
		v.Lead += " The others are being tried now."
	}
	var files []*tableView
	if d := at.desk.door(r.URL.Query().Get("door")); d != nil {
		v.Door = at.faultsAt(at.desk.faultsOf(d))
		files = append(files, &v.Door.Seen, &v.Door.Outside)
	}
	if !v.Waiting { // no file of half of the doors
		files = append(files, &v.Counts, &v.Broken, &v.Left)
	}
	if h.filed(w, r, at, files...) {
		return
	}
	h.show(w, r, faultsPage(s, v))
}

// triedWords say at how many doors single faults were tried.
func triedWords(at *atJob, tried int) string {
	return fmt.Sprintf("Every single fault is tried at %d of %s, of the plan as it is now, %s.", tried, counted(len(at.desk.job.Doors), "door", "doors"), revisionOf(at.desk.job.Revision))
}

// faultTables are the figures of each door, what single faults break, and what was not tried; and how many doors were.
func (at *atJob) faultTables(run *faultRun) (counts, broken, left tableView, tried int) {
	counts = tableView{ID: "doors", Title: "Doors", Head: []string{"door", "faults tried", "noticed at once", "in use", "on test", "never", "take a way out", "break a requirement", "tried from outside", "let the door go", "of these accepted"}}
	broken = tableView{ID: "findings", Title: "What single faults break", Head: []string{"door", "level", "what", "why"}}
	left = tableView{ID: "left", Title: "What was not tried", Head: []string{"left out"}}
	var outside []string
	var found []proof.Finding
	for _, d := range at.desk.job.Doors {
		row := []cell{{Text: d.Title, URL: at.home + "/faults?door=" + d.ID + "#at"}}
		x, present := run.resultAt(d.ID)
		if !present {
			says := "being tried"
			if run.failed() {
				says = "not tried"
			}
			counts.Rows = append(counts.Rows, append(row, append([]cell{{Text: says}}, make([]cell, len(counts.Head)-2)...)...))
			continue
		}
		tried++
		if x.opened > 0 {
			outside = append(outside, d.Title+": "+x.outside())
		}
		for _, n := range []int{x.seen, x.notices[proof.AtOnce], x.notices[proof.InUse], x.notices[proof.OnTest], x.notices[proof.Never], x.lost, x.broken, x.attacks, x.opened, x.accepted} {
			row = append(row, cell{Text: fmt.Sprint(n), Figure: true})
		}
		counts.Rows, found = append(counts.Rows, row), append(found, x.findings...)
		if left.Rows == nil {
			for _, says := range x.left {
				left.Rows = append(left.Rows, []cell{{Text: says}})
			}
		}
	}
	counts.Says = strings.Join(outside, " ")
	slices.SortStableFunc(found, func(a, b proof.Finding) int { return cmp.Compare(b.Severity, a.Severity) })
	for _, f := range found {
		broken.Rows = append(broken.Rows, []cell{{Text: f.Door}, {Text: f.Severity.String(), Class: f.Severity.String()}, {Text: f.What}, {Text: f.Why}})
	}
	return counts, broken, left, tried
}

// mostDoorFaults bounds how many doors of a document are kept with all that became of each fault.
const mostDoorFaults = 4

// faultsOf is all that became of each fault at a door, and is kept with the desk: it takes about a second.
func (d *desk) faultsOf(door *job.Door) *proof.DoorFaults {
	d.faultsMu.Lock()
	defer d.faultsMu.Unlock()
	for _, x := range d.doorFaults {
		if x.Door == door {
			return x
		}
	}
	report := proof.TryFaults(d.exam.Result, proof.SingleFaults, door, nil)
	if len(d.doorFaults) == mostDoorFaults {
		d.doorFaults = d.doorFaults[1:]
	}
	d.doorFaults = append(d.doorFaults, &report.Doors[0])
	return &report.Doors[0]
}

// doorFaultsView is all that became of each fault at one door, in groups.
type doorFaultsView struct {
	Title, Says   string
	Seen, Outside tableView // as files
	Groups        []tableGroup
}

// faultsAt sorts the faults of a door: those that break a requirement stand open, as does what lets somebody in and nobody
// has accepted; the others are folded away.
func (at *atJob) faultsAt(d *proof.DoorFaults) *doorFaultsView {
	v := &doorFaultsView{
		Title: "Faults at " + d.Door.Title, Says: countOf(d).outside(),
		Seen:    tableView{ID: "at", Title: "Faults at " + d.Door.Title, Head: []string{"fault", "where", "door while nothing happens", "noticed", "by", "ways out lost", "requirement"}},
		Outside: tableView{ID: "outside", Title: "From the unsecured side", Head: []string{"what somebody does", "door", "while", "accepted because"}},
	}
	const broken, lost, open, accepted = "Break a requirement", "Take a way out", "From outside, let the door go", "From outside, let the door go and are accepted"
	by := map[string][][]cell{}
	for k := range d.Seen {
		s := &d.Seen[k]
		row := []cell{
			{Text: s.Fault.Name, URL: at.home + "/d/" + d.Door.ID + "/try?wrong=" + url.QueryEscape(s.Fault.ID)},
			{Text: s.Fault.Where},
			{Text: s.Idle.String()},
			{Text: string(s.Notice)},
			{Text: s.Shows},
			{Text: lostWords(s.Lost)},
			{Text: s.Broken},
		}
		in := noticed(s.Notice)
		switch {
		case s.Broken != "" && s.Accepted == "":
			row[6].Class, in = "error", broken
		case len(s.Lost) > 0:
			in = lost
		}
		v.Seen.Rows, by[in] = append(v.Seen.Rows, row), append(by[in], row)
	}
	for k := range d.Attacks {
		a := &d.Attacks[k]
		var names []string
		for _, f := range a.Faults {
			names = append(names, f.Name)
		}
		row := []cell{{Text: strings.Join(names, ", and ")}, {Text: a.Effect.String()}, {Text: a.Cause}, {Text: a.Accepted}}
		in := accepted
		if a.Accepted == "" {
			in = open
		}
		v.Outside.Rows, by[in] = append(v.Outside.Rows, row), append(by[in], row)
	}
	for i, title := range []string{broken, open, lost, noticed(proof.Never), noticed(proof.OnTest), noticed(proof.InUse), noticed(proof.AtOnce), accepted} {
		if len(by[title]) == 0 {
			continue
		}
		head := v.Seen.Head
		if title == open || title == accepted {
			head = v.Outside.Head
		}
		g := group{fmt.Sprintf("at-%d", i), title, fmt.Sprint(len(by[title])), title == broken || title == open}
		v.Groups = append(v.Groups, tableGroup{g, []*tableView{{ID: g.ID, Title: title, Head: head, Rows: by[title]}}})
	}
	return v
}

// noticed is the heading of faults that come to light so.
func noticed(n proof.Notice) string {
	if n == proof.Never {
		return "Noticed never: nothing shows them"
	}
	return "Noticed " + string(n)
}

// lostWords names causes by their titles.
func lostWords(ids []string) string {
	says := ""
	for _, id := range ids {
		for _, c := range situation.Causes() {
			if c.ID == id {
				id = c.Title
				break
			}
		}
		if says != "" {
			says += "; "
		}
		says += id
	}
	return says
}
