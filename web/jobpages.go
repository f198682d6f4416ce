package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"doorwright/journal"
	"doorwright/paper"
	"doorwright/proof"
	"doorwright/rules"
)

// jobTabs are the pages of a job.
func jobTabs(at *atJob, here string) []tab {
	all := []tab{
		{Title: "Doors"},
		{Title: "The job", URL: "/about"},
		{Title: "Supplies", URL: "/supplies"},
		{Title: "Schedules", URL: "/schedules"},
		{Title: "Faults", URL: "/faults"},
		{Title: "Rules and assumptions", URL: "/rules"},
		{Title: "Plans", URL: "/plans"},
		{Title: "Record", URL: "/record"},
		{Title: "Units", URL: "/units"},
		{Title: "Papers", URL: "/papers"},
		{Title: "Hand over", URL: "/handover"},
	}
	for i := range all {
		all[i].URL = at.home + all[i].URL
		all[i].Here = all[i].Title == here
	}
	return all
}

// jobSheet is the frame of one of the pages of a job.
func (h *handler) jobSheet(r *http.Request, at *atJob, title, here string) sheet {
	s := h.sheet(r, at, title, step{at.desk.job.Title, at.home})
	s.Tabs = jobTabs(at, here)
	return s
}

// rules shows how every rule stands, and what was assumed.
func (h *handler) rules(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	assumed := tableView{ID: "assumed", Title: "Assumed, because nobody has said otherwise", Head: []string{"where", "what was taken", "bears on life"}}
	for _, a := range at.desk.job.Assumed {
		c := cell{}
		if a.Life {
			c = cell{Text: "yes", Class: "advice"}
		}
		assumed.Rows = append(assumed.Rows, []cell{{Text: a.Where}, {Text: a.Text}, c})
	}
	slices.SortStableFunc(assumed.Rows, func(a, b []cell) int { return strings.Compare(b[2].Text, a[2].Text) })
	tables := []tableView{assumed}
	shown := r.URL.Query().Get("door")
	if len(at.desk.exam.Doors) > mostRead {
		tables = append(tables, at.ruleCounts())
	} else {
		shown = ""
	}
	for _, d := range at.desk.exam.Doors {
		if shown != d.Door.ID && (shown != "" || len(at.desk.exam.Doors) > mostRead) {
			continue
		}
		t := tableView{ID: "door-" + d.Door.ID, Title: d.Door.Title, Says: "Judged by: " + d.Family.Title, Head: []string{"rule", "says", "stands", "look at"}}
		for _, s := range d.Rules {
			t.Rows = append(t.Rows, []cell{{Text: s.Rule.ID}, {Text: s.Rule.Says}, {Text: string(s.Standing), Class: standing(s.Standing)}, {Text: s.LookAt}})
		}
		tables = append(tables, t)
	}
	if h.filed(w, r, at, eachOf(tables)...) {
		return
	}
	h.show(w, r, tablesPage(h.jobSheet(r, at, "Rules and assumptions", "Rules and assumptions"), rules.Caution, "", tables))
}

// ruleCounts says of each door how many of its rules stand how, where there are too many doors for a table of each.
func (at *atJob) ruleCounts() tableView {
	t := tableView{ID: "doors", Title: "Doors", Head: []string{"door", "judged by", "held", "broken", "for a person to judge"}}
	for _, d := range at.desk.exam.Doors {
		by := map[proof.Standing]int{}
		for _, s := range d.Rules {
			by[s.Standing]++
		}
		row := []cell{{Text: d.Door.Title, URL: at.home + "/rules?door=" + url.QueryEscape(d.Door.ID) + "#door-" + d.Door.ID}, {Text: d.Family.Title}}
		for _, s := range []proof.Standing{proof.HeldRule, proof.Broken, proof.NotJudged} {
			c := cell{Text: fmt.Sprint(by[s]), Figure: true}
			if s == proof.Broken && by[s] > 0 {
				c = cell{Text: fmt.Sprint(by[s]), Class: "error"}
			}
			row = append(row, c)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func standing(s proof.Standing) string {
	switch s {
	case proof.HeldRule:
		return "good"
	case proof.Broken:
		return "error"
	}
	return "advice"
}

const (
	mostRead = 20  // doors at most that are all told of on one page
	mostRows = 500 // of a schedule on a page; all are in the file
)

// schedules shows one schedule of a job, and what others there are.
func (h *handler) schedules(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	all := paper.ScheduleKinds()
	shown := all[0]
	var others []tab
	for _, k := range all {
		here := r.URL.Query().Get("show") == k.Name
		if here {
			shown = k
		}
		others = append(others, tab{Title: k.Title, URL: at.home + "/schedules?show=" + k.Name})
	}
	for i := range others {
		others[i].Here = all[i].Name == shown.Name
	}
	v := schedulesView{Others: others, Workbook: at.home + "/schedules.xlsx"}
	if n := len(at.desk.job.Doors); shown.Name == "readings" && n > mostRead {
		v.Note = fmt.Sprintf("What a meter should show at %d doors takes a while to work out: it stands on the pages of each door, and in the file.", n)
		v.Table = tableView{ID: shown.Name, Title: shown.Title, CSV: at.home + "/schedules/" + shown.Name + ".csv"}
	} else {
		v.Table = scheduleTable(at, paper.NewWork(at.desk.exam, at.shelf.Record).Schedule(shown))
		if n := len(v.Table.Rows); n > mostRows {
			v.Table.Rows = v.Table.Rows[:mostRows]
			v.Table.Says = fmt.Sprintf("The first %d of %d rows; all of them are in the file.", mostRows, n)
		}
	}
	h.show(w, r, schedulesPage(h.jobSheet(r, at, "Schedules", "Schedules"), v))
}

func scheduleTable(at *atJob, s paper.Schedule) tableView {
	t := tableView{ID: s.Name, Title: s.Title, CSV: at.home + "/schedules/" + s.Name + ".csv"}
	for _, c := range s.Columns {
		if !c.Aside {
			t.Head = append(t.Head, c.Head())
		}
	}
	for _, row := range s.Rows {
		var cells []cell
		for i, x := range row {
			if s.Columns[i].Aside {
				continue
			}
			c := cell{Text: x.Text, Figure: x.Is}
			if x.Is {
				c.Text = fmt.Sprintf("%.*f", s.Columns[i].Decimal, x.Number)
			}
			cells = append(cells, c)
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// record shows what was written about a job, the last first.
func (h *handler) record(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	t := tableView{ID: "entries", Title: "Entries, the last first", Head: []string{"when", "who", "what", "counts", "entry"}}
	withdrawals := at.shelf.Withdrawals()
	for _, e := range slices.Backward(at.shelf.History) {
		what, counts := cell{Text: journal.Words(e.Body, at.desk.plan)}, cell{}
		if gone := h.goneWords(at, e, withdrawals); gone != "" {
			what.Class, counts = "gone", cell{Text: gone, Class: "advice"}
		}
		t.Rows = append(t.Rows, []cell{{Text: whenOf(e), Figure: true}, {Text: e.Who}, what, counts, {Text: e.String(), URL: entryURL(at, e)}})
	}
	state := h.Journal.State()
	var doubts []string
	for _, c := range at.shelf.Clashes {
		doubts = append(doubts, c.String())
	}
	doubts = slices.Concat(doubts, at.shelf.Ill, state.Clashes, state.Strays(at.shelf.Job, at.desk.plan))
	warning := strings.Join(doubts, "; ")
	lead := fmt.Sprintf("%s. Nothing is ever taken out: a correction is a new entry. Open one to withdraw it.", counted(len(at.shelf.History), "entry", "entries"))
	if h.filed(w, r, at, &t) {
		return
	}
	h.show(w, r, tablesPage(h.jobSheet(r, at, "Record", "Record"), lead, warning, []tableView{t}))
}
