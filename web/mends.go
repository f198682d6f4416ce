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
	Against   string // see proof.Finding.Figures
	Searching bool
	Action    string // where a mend is looked at
	Base      string
	AcceptURL string
	Accepted  string
}

// foundView is what was found at a door by calculation.
type foundView struct {
	At       string // where this part of the page is to be had
	Findings []findingView
	Look     []proof.RuleStanding
	Waiting  bool // mends are being looked for
}

// foundAt lists what was found at a door, with mends as soon as they are known.
func (h *handler) foundAt(at *atDoor) foundView {
	v := foundView{At: at.at + "/found"}
	var all []proof.Finding
	all, v.Waiting = h.foundOf(at.atJob, at.door.ID)
	for _, f := range all {
		v.Findings = append(v.Findings, h.findingOf(at, f, v.Waiting))
	}
	for _, x := range at.desk.exam.Doors {
		for _, s := range x.Rules {
			if x.Door == at.door && s.Standing == proof.NotJudged {
				v.Look = append(v.Look, s)
			}
		}
	}
	return v
}

// foundOf are the findings of a door, or with no door those of supplies and what belongs to no one door; true while their
// mends are being looked for.
func (h *handler) foundOf(at *atJob, door string) (all []proof.Finding, waiting bool) {
	others := func(f proof.Finding) bool { return f.Door != door }
	all = slices.DeleteFunc(slices.Clone(at.desk.exam.Findings), others)
	if len(all) == 0 {
		return nil, false
	}
	at.desk.mends.begin(h.engine.examiner, at.desk)
	if found := at.desk.mends.now(); found != nil {
		return slices.DeleteFunc(slices.Clone(found), others), false
	}
	return all, true
}

// foundPart gives the part of a door's page that waits for mends.
func (h *handler) foundPart(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.doorOf(w, r); ok {
		h.show(w, r, found(h.foundAt(at)))
	}
}

// findingOf is a finding at a door with what can be done about it.
func (h *handler) findingOf(at *atDoor, f proof.Finding, searching bool) findingView {
	v := at.told(f)
	v.Searching, v.Action, v.Base = searching, at.at+"/plan", mark(at.shelf.Document)
	at.acceptance(&v, at.at+"/accept")
	return v
}

// acceptance fills in who accepts a finding, or where advice may be accepted.
func (at *atJob) acceptance(v *findingView, url string) {
	if a := at.shelf.Record.Accepted(v.Finding); a != nil {
		v.Accepted = "Accepted by " + at.shelf.Record.Name(a.By) + ", " + a.On.String() + ": " + a.Reason
	} else if v.Severity == rules.Advice {
		v.AcceptURL = url
	}
}

// told is a finding with its figures in words.
func (at *atJob) told(f proof.Finding) findingView {
	return findingView{Finding: f, Against: f.Figures(at.desk.job.Measures)}
}

// accept keeps that somebody accepts a finding of a door, and why.
func (h *handler) accept(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	all := slices.Clone(at.desk.exam.Findings)
	if x, present := at.faults.of(at.atJob).resultAt(at.door.ID); present {
		all = append(all, x.findings...)
	}
	h.accepted(w, r, at.atJob, all, record.Acceptance{Door: at.door.ID}, at.at)
}

// accepted keeps an acceptance that a form completes, of a finding that is among those there are.
func (h *handler) accepted(w http.ResponseWriter, r *http.Request, at *atJob, all []proof.Finding, a record.Acceptance, back string) {
	a.Reason, a.Finding, a.Act = strings.TrimSpace(r.PostForm.Get("reason")), r.PostForm.Get("finding"), h.act(r)
	known := slices.ContainsFunc(all, func(f proof.Finding) bool {
		return f.Severity == rules.Advice && f.Door == a.Door && f.Requirement == a.Finding && (a.Door != "" || f.Subject.Supply == a.Supply)
	})
	switch {
	case a.Reason == "" || len(a.Reason) > mostNote:
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was accepted", "Write why, in less than 2000 letters.")
	case !known:
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was accepted", "There is no such advice there. Errors are mended, not accepted.")
	case h.write(w, r, journal.Accepted{Job: at.shelf.ID, Acceptance: a}):
		http.Redirect(w, r, back, http.StatusSeeOther)
	}
}
