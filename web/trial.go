package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"sync"

	"doorwright/proof"
	"doorwright/situation"
)

// trial is the trial of every single fault of a job, which goes on in the background.
type trial struct {
	start sync.Once

	mu        sync.Mutex
	done, all int
	report    *proof.FaultReport // nil until it is finished
}

// begin starts the trial unless it was started before.
func (t *trial) begin(r *proof.Result) {
	t.start.Do(func() {
		go func() {
			report := proof.TryFaults(r, proof.SingleFaults, nil, func(done, all int) bool {
				t.mu.Lock()
				defer t.mu.Unlock()
				t.done, t.all = done, all
				return true
			})
			t.mu.Lock()
			defer t.mu.Unlock()
			t.report = report
		}()
	})
}

// now is how far the trial is; report is nil until it is finished.
func (t *trial) now() (done, all int, report *proof.FaultReport) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.done, t.all, t.report
}

// faults shows what becomes of every single fault.
func (h *handler) faults(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	s := h.sheet(r, at, "Every single fault", step{at.desk.job.Title, at.home})
	s.Tabs = jobTabs(at, "Faults")
	at.desk.trial.begin(at.desk.exam.Result)
	done, all, report := at.desk.trial.now()
	if report == nil {
		w.Header().Set("Refresh", "2")
		h.show(w, r, tablesPage(s, fmt.Sprintf("Trying every single fault at every door: %d of %d doors done. This page goes on by itself.", done, max(all, len(at.desk.job.Doors))), "", nil))
		return
	}
	var tables []tableView
	tables = append(tables, at.faultCounts(report))
	if id := r.URL.Query().Get("door"); id != "" {
		tables = append(tables, at.faultsAt(report, id)...)
	}
	tables = append(tables, faultFindings(report), leftOut(report))
	lead := fmt.Sprintf("Of the document as it is now, %s. Every single fault, in every cause: who still gets out, who gets in, and what shows it.", revisionOf(at.desk.job.Revision))
	if h.filed(w, r, at, eachOf(tables)...) {
		return
	}
	h.show(w, r, tablesPage(s, lead, "", tables))
}

func (at *atJob) faultCounts(report *proof.FaultReport) tableView {
	t := tableView{ID: "doors", Title: "Doors", Head: []string{"door", "faults tried", "noticed at once", "in use", "on test", "no difference", "take a way out", "break a requirement", "tried from outside", "let the door go", "of these accepted"}}
	var outside []string
	for i := range report.Doors {
		d := &report.Doors[i]
		c := countOf(d)
		if c.opened > 0 {
			outside = append(outside, d.Door.Title+": "+c.outside())
		}
		row := []cell{{Text: d.Door.Title, URL: at.home + "/faults?door=" + d.Door.ID + "#at"}}
		for _, n := range []int{len(d.Seen), c.notices[proof.AtOnce], c.notices[proof.InUse], c.notices[proof.OnTest], c.notices[proof.NoEffect], c.lost, c.broken, d.Tried, c.opened, c.accepted} {
			row = append(row, cell{Text: fmt.Sprint(n), Figure: true})
		}
		t.Rows = append(t.Rows, row)
	}
	t.Says = strings.Join(outside, " ")
	return t
}

func (at *atJob) faultsAt(report *proof.FaultReport, id string) []tableView {
	for i := range report.Doors {
		d := &report.Doors[i]
		if d.Door.ID != id {
			continue
		}
		t := tableView{ID: "at", Title: "Faults at " + d.Door.Title, Head: []string{"fault", "where", "door while nothing happens", "noticed", "by", "ways out lost", "requirement"}}
		for k := range d.Seen {
			s := &d.Seen[k]
			class := ""
			if s.Broken != "" && s.Accepted == "" {
				class = "error"
			}
			t.Rows = append(t.Rows, []cell{
				{Text: s.Fault.Name, URL: at.home + "/d/" + id + "/try?wrong=" + url.QueryEscape(s.Fault.ID)},
				{Text: s.Fault.Where},
				{Text: s.Idle.String()},
				{Text: string(s.Notice)},
				{Text: s.Shows},
				{Text: lostWords(s.Lost)},
				{Text: s.Broken, Class: class},
			})
		}
		o := tableView{ID: "outside", Title: "From the unsecured side", Says: countOf(d).outside(), Head: []string{"what somebody does", "door", "while", "accepted because"}}
		for k := range d.Attacks {
			a := &d.Attacks[k]
			name := ""
			for n, f := range a.Faults {
				if n > 0 {
					name += ", and "
				}
				name += f.Name
			}
			o.Rows = append(o.Rows, []cell{{Text: name}, {Text: a.Effect.String()}, {Text: a.Cause}, {Text: a.Accepted}})
		}
		return []tableView{t, o}
	}
	return nil
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

func faultFindings(report *proof.FaultReport) tableView {
	t := tableView{ID: "findings", Title: "What single faults break", Head: []string{"door", "level", "what", "why"}}
	for _, f := range report.Findings {
		t.Rows = append(t.Rows, []cell{{Text: f.Door}, {Text: f.Severity.String(), Class: f.Severity.String()}, {Text: f.What}, {Text: f.Why}})
	}
	return t
}

func leftOut(report *proof.FaultReport) tableView {
	t := tableView{ID: "left", Title: "What was not tried", Head: []string{"left out"}}
	for _, s := range report.Left {
		t.Rows = append(t.Rows, []cell{{Text: s}})
	}
	return t
}
