package web

import (
	"net/http"
	"slices"
	"strings"
	"sync"

	"doorwright/journal"
	"doorwright/mend"
	"doorwright/proof"
	"doorwright/record"
	"doorwright/rules"
)

// mends is the search for mends of what was found, which goes on in the background.
type mends struct {
	start sync.Once

	mu       sync.Mutex
	findings []proof.Finding // with their mends; nil until they are found
}

// begin starts the search unless it was started before.
func (m *mends) begin(x *mend.Examiner, d *desk) {
	m.start.Do(func() {
		// A copy, since pages read the findings meanwhile.
		result := *d.exam.Result
		result.Findings = slices.Clone(result.Findings)
		exam := &mend.Examination{Result: &result, Standby: d.exam.Standby}
		go func() {
			x.All(d.job, exam)
			m.mu.Lock()
			defer m.mu.Unlock()
			m.findings = exam.Findings
			if m.findings == nil {
				m.findings = []proof.Finding{}
			}
		}()
	})
}

func (m *mends) now() []proof.Finding {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.findings
}

// findingView is a finding with what can be done about it.
type findingView struct {
	proof.Finding
	Searching bool
	Action    string // where a mend is looked at
	Base      string
	AcceptURL string
	Accepted  string
}

// findings lists what was found at a door, with mends as soon as they are known.
func (h *handler) findings(w http.ResponseWriter, at *atDoor) []findingView {
	d := at.desk
	all := d.exam.Findings
	searching := false
	if slices.ContainsFunc(all, func(f proof.Finding) bool { return f.Door == at.door.ID }) {
		d.mends.begin(h.engine.examiner, d)
		if found := d.mends.now(); found != nil {
			all = found
		} else {
			searching = true
			w.Header().Set("Refresh", "2")
		}
	}
	var views []findingView
	for _, f := range all {
		if f.Door != at.door.ID {
			continue
		}
		v := findingView{Finding: f, Searching: searching, Action: at.at + "/plan", Base: mark(at.shelf.Document)}
		if a := at.shelf.Record.AcceptedAt(at.door.ID, f.Requirement); a != nil {
			v.Accepted = "Accepted by " + at.shelf.Record.Name(a.By) + ", " + a.On.String() + ": " + a.Reason
		} else if f.Severity == rules.Advice {
			v.AcceptURL = at.at + "/accept"
		}
		views = append(views, v)
	}
	return views
}

// accept keeps that somebody accepts a finding, and why.
func (h *handler) accept(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	reason, what := strings.TrimSpace(r.PostForm.Get("reason")), r.PostForm.Get("finding")
	known := slices.ContainsFunc(at.desk.exam.Findings, func(f proof.Finding) bool {
		return f.Door == at.door.ID && f.Requirement == what && f.Severity == rules.Advice
	})
	switch {
	case reason == "" || len(reason) > mostNote:
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was accepted", "Write why, in less than 2000 letters.")
	case !known:
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was accepted", "There is no such advice at this door. Errors are mended, not accepted.")
	default:
		a := journal.Accepted{Job: at.shelf.ID, Acceptance: record.Acceptance{Door: at.door.ID, Finding: what, Reason: reason, Act: h.act(r)}}
		if h.write(w, r, a) {
			http.Redirect(w, r, at.at, http.StatusSeeOther)
		}
	}
}
