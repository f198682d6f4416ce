package web

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/proof"
	"doorwright/rules"
)

// jobRow is one job in the list of jobs.
type jobRow struct{ ID, Title, URL, Says string }

// jobs lists the jobs.
func (h *handler) jobs(w http.ResponseWriter, r *http.Request) {
	var rows []jobRow
	for _, s := range h.Journal.State().Jobs {
		row := jobRow{ID: s.ID, Title: s.ID, URL: "/j/" + s.ID, Says: "has mistakes in its document"}
		if d := h.engine.on(s.ID, s.Document); d.job != nil {
			row.Title, row.Says = d.job.Title, counted(len(d.job.Doors), "door", "doors")
		}
		rows = append(rows, row)
	}
	h.show(w, r, jobsPage(sheet{Title: "Jobs", Who: h.who(r)}, rows))
}

// query is what the register is asked to show.
type query struct {
	Text, Show, By string
	Group          bool
}

type register struct {
	Summary string
	Others  cell   // what was found at no one door, and where it stands; empty for nothing
	Faults  string // how far single faults are tried, and of which plan
	CSV     string // where the register is to be had as a file
	Query   query
	Groups  []doorGroup
}

type doorGroup struct {
	Title string
	Rows  []doorRow
}

// doorRow is one door of the register.
type doorRow struct {
	ID, Title, URL, Place string
	Lock, Supply          string
	Stage                 stage
	Progress              string
	Found, Worst          string // in words, and the class: good, advice, error
	Faults, FaultsWorst   string // the same with every single fault
	errors, advice        int
}

func (h *handler) register(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	v := r.URL.Query()
	q := query{v.Get("q"), v.Get("show"), v.Get("by"), v.Get("group") != ""}
	rows := at.rows()
	run := h.tryFaults(at, "")
	for i := range rows {
		rows[i].Faults, rows[i].FaultsWorst = shortOf(run, rows[i].ID, rows[i].errors)
	}
	t := registerTable(rows)
	if h.filed(w, r, at, &t) {
		return
	}
	s := h.sheet(r, at, at.desk.job.Title)
	s.Tabs = jobTabs(at, "Doors")
	h.show(w, r, registerPage(s, register{summaryOf(rows), at.foundElsewhere(), triedWords(at, run.tried()), t.CSV, q, q.groups(rows)}))
}

// registerTable is the register as a file: all doors, whatever the page shows of them.
func registerTable(rows []doorRow) tableView {
	t := tableView{ID: "register", Title: "Doors", Head: []string{"door", "title", "place", "lock", "supply", "stage", "progress", "found", "single faults"}}
	for _, d := range rows {
		var cells []cell
		for _, text := range []string{d.ID, d.Title, d.Place, d.Lock, d.Supply, string(d.Stage), d.Progress, d.Found, d.Faults} {
			cells = append(cells, cell{Text: text})
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// rows are all doors of the job, in its order.
func (at *atJob) rows() []doorRow {
	found := map[string][]proof.Finding{}
	for _, f := range at.desk.exam.Findings {
		found[f.Door] = append(found[f.Door], f)
	}
	var rows []doorRow
	for _, d := range at.desk.job.Doors {
		row := doorRow{ID: d.ID, Title: d.Title, URL: at.home + "/d/" + d.ID, Place: d.Secured, Lock: locksOf(d), Supply: suppliesOf(d)}
		p := at.progress(d)
		row.Stage, row.Progress = p.stage, p.words()
		for _, f := range found[d.ID] {
			if f.Severity == rules.Error {
				row.errors++
			} else {
				row.advice++
			}
		}
		row.Found, row.Worst = verdict(row.errors, row.advice)
		rows = append(rows, row)
	}
	return rows
}

func verdict(errors, advice int) (says, class string) {
	switch {
	case errors > 0 && advice > 0:
		return counted(errors, "error", "errors") + ", " + counted(advice, "point of advice", "points of advice"), "error"
	case errors > 0:
		return counted(errors, "error", "errors"), "error"
	case advice > 0:
		return counted(advice, "point of advice", "points of advice"), "advice"
	}
	return "nothing", "good"
}

// foundElsewhere counts what was found at supplies and at what belongs to no one door.
func (at *atJob) foundElsewhere() cell {
	errors, advice := 0, 0
	for _, f := range at.desk.exam.Findings {
		switch {
		case f.Door != "":
		case f.Severity == rules.Error:
			errors++
		default:
			advice++
		}
	}
	if errors+advice == 0 {
		return cell{}
	}
	says, class := verdict(errors, advice)
	return cell{Text: "At the supplies: " + says, Class: class, URL: at.home + "/supplies"}
}

func summaryOf(rows []doorRow) string {
	errors, handed := 0, 0
	for _, r := range rows {
		if r.errors > 0 {
			errors++
		}
		if r.Stage == handedOver {
			handed++
		}
	}
	return fmt.Sprintf("%s. %d with errors by calculation, %d handed over.", counted(len(rows), "door", "doors"), errors, handed)
}

func locksOf(d *job.Door) string {
	var all []string
	for _, l := range d.Locks {
		title, _, _ := strings.Cut(l.Title, ",")
		if !slices.Contains(all, title) {
			all = append(all, title)
		}
	}
	return strings.Join(all, ", ")
}

func suppliesOf(d *job.Door) string {
	var all []string
	for _, s := range d.Supplies() {
		all = append(all, s.ID)
	}
	return strings.Join(all, ", ")
}

// groups chooses, orders and groups rows as asked.
func (q query) groups(rows []doorRow) []doorGroup {
	var kept []doorRow
	for _, r := range rows {
		if q.wants(r) {
			kept = append(kept, r)
		}
	}
	switch q.By {
	case "worst":
		slices.SortStableFunc(kept, func(a, b doorRow) int {
			return cmp.Or(cmp.Compare(b.errors, a.errors), cmp.Compare(b.advice, a.advice))
		})
	case "title":
		slices.SortStableFunc(kept, func(a, b doorRow) int {
			return cmp.Compare(strings.ToLower(a.Title), strings.ToLower(b.Title))
		})
	case "stage":
		slices.SortStableFunc(kept, func(a, b doorRow) int {
			return cmp.Compare(slices.Index(stages(), a.Stage), slices.Index(stages(), b.Stage))
		})
	}
	if len(kept) == 0 {
		return nil
	}
	if !q.Group {
		return []doorGroup{{Rows: kept}}
	}
	var groups []doorGroup
	for _, r := range kept {
		i := slices.IndexFunc(groups, func(g doorGroup) bool { return g.Title == r.Place })
		if i < 0 {
			i, groups = len(groups), append(groups, doorGroup{Title: r.Place})
		}
		groups[i].Rows = append(groups[i].Rows, r)
	}
	return groups
}

func (q query) wants(r doorRow) bool {
	text := strings.ToLower(strings.Join([]string{r.ID, r.Title, r.Place, r.Lock, r.Supply}, " "))
	if !strings.Contains(text, strings.ToLower(strings.TrimSpace(q.Text))) {
		return false
	}
	switch q.Show {
	case "":
		return true
	case "errors":
		return r.errors > 0
	case "open":
		return r.Stage != handedOver
	}
	return string(r.Stage) == q.Show
}
