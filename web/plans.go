package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"doorwright/journal"
)

type plansView struct {
	Says, Next, Base string
	Cores            []string
	Issued           tableView
}

// plans shows what was issued to site, and how the job differs from it now.
func (h *handler) plans(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	now := journal.CoresOf(at.desk.plan)
	v := plansView{Base: mark(at.shelf.Document), Next: at.desk.job.Revision, Says: "No plan was issued yet. What is issued is kept by value: whatever changes later, it stays as it was given."}
	v.Issued = tableView{ID: "issued", Title: "Issued", Head: []string{"revision", "when", "by", "cores"}}
	for _, e := range slices.Backward(at.shelf.History) {
		if p, ok := e.Body.(journal.Planned); ok && at.shelf.Counts(e) {
			v.Issued.Rows = append(v.Issued.Rows, []cell{{Text: p.Revision}, {Text: whenOf(e)}, {Text: e.Who}, {Text: fmt.Sprint(len(p.Cores)), Figure: true}})
		}
	}
	if n := len(at.shelf.Plans); n > 0 {
		last := at.shelf.Plans[n-1]
		d := journal.Compare(last.Cores, now)
		v.Cores = coreWords(d, at.desk.plan, at.desk.plan)
		v.Next = nextRevision(last.Revision)
		v.Says = fmt.Sprintf("Revision %s is on site. The job differs from it in %s.", last.Revision, counted(len(d.Added)+len(d.Removed)+len(d.Moved), "core", "cores"))
		if d.None() {
			v.Says, v.Next = fmt.Sprintf("Revision %s is on site, and the job is as it was issued.", last.Revision), ""
		}
	}
	if h.filed(w, r, at, &v.Issued) {
		return
	}
	h.show(w, r, plansPage(h.jobSheet(r, at, "Plans given to site", "Plans"), v))
}

// nextRevision is the letter or number that follows.
func nextRevision(r string) string {
	if len(r) == 1 && r[0] >= 'A' && r[0] < 'Z' {
		return string(r[0] + 1)
	}
	var n int
	if _, err := fmt.Sscan(r, &n); err == nil {
		return fmt.Sprint(n + 1)
	}
	return r + "1"
}

// issue keeps the present plan as given to site.
func (h *handler) issue(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	rev := strings.TrimSpace(r.PostForm.Get("revision"))
	taken := slices.ContainsFunc(at.shelf.Plans, func(p journal.Planned) bool { return p.Revision == rev })
	switch {
	case r.PostForm.Get("base") != mark(at.shelf.Document):
		h.refuse(w, r, http.StatusConflict, "Nothing was issued", "The job was changed since this page was opened: look at it again.")
	case rev == "" || len(rev) > 12 || taken:
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was issued", "Write a revision that was not issued yet.")
	default:
		bodies := []journal.Body{journal.Planned{Job: at.shelf.ID, Revision: rev, Cores: journal.CoresOf(at.desk.plan)}}
		if rev != at.desk.job.Revision {
			bodies = append(bodies, journal.Edited{Job: at.shelf.ID, Field: "revision", Value: rev, Was: at.desk.job.Revision})
		}
		if h.write(w, r, bodies...) {
			http.Redirect(w, r, at.home+"/plans", http.StatusSeeOther)
		}
	}
}
