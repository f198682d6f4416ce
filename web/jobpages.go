package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"doorwright/journal"
	"doorwright/paper"
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

const (
	mostRead = 20  // doors at most that are all told of on one page
	mostRows = 500 // of a table on a page; all are in the file
)

// shorten leaves of a long table what a page can hold.
func (t *tableView) shorten() {
	if n := len(t.Rows); n > mostRows {
		t.Rows = t.Rows[:mostRows]
		t.Says = fmt.Sprintf("The first %d of %d rows; all of them are in the file.", mostRows, n)
	}
}

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
		v.Table.shorten()
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
