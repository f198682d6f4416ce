package web

import (
	"cmp"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"doorwright/journal"
)

// entryView is one entry of the record.
type entryView struct {
	What, Gone, Instead string
	Facts               []field
	Can                 bool // it may be withdrawn
}

// entryURL is where an entry is shown.
func entryURL(at *atJob, e *journal.Entry) string {
	return at.home + "/entry/" + e.Log + "/" + strconv.FormatInt(e.Seq, 10)
}

// entryOf finds the entry of a request; nil when an answer was given already.
func (h *handler) entryOf(w http.ResponseWriter, r *http.Request) (*atJob, *journal.Entry) {
	at, ok := h.job(w, r)
	if !ok {
		return nil, nil
	}
	i := slices.IndexFunc(at.shelf.History, func(e *journal.Entry) bool {
		return e.Log == r.PathValue("log") && strconv.FormatInt(e.Seq, 10) == r.PathValue("seq")
	})
	if i < 0 {
		h.refuse(w, r, http.StatusNotFound, "There is no such entry", "The record of this job has none of that name.")
		return nil, nil
	}
	return at, at.shelf.History[i]
}

// goneWords says why an entry counts no more; nothing when it counts.
func (h *handler) goneWords(at *atJob, e *journal.Entry, withdrawals map[journal.Ref]*journal.Entry) string {
	if at.shelf.Counts(e) {
		return ""
	}
	if by := withdrawals[e.Ref()]; by != nil {
		return "withdrawn by " + at.shelf.Record.Name(by.Who) + ", " + whenOf(by) + ": " + by.Body.(journal.Withdrawn).Why
	}
	return "it fits nothing any more and does not count"
}

// withdrawnWords lists what was withdrawn of a job, with who and why.
func (h *handler) withdrawnWords(at *atJob) []string {
	withdrawals := at.shelf.Withdrawals()
	var all []string
	for _, e := range at.shelf.History {
		if withdrawals[e.Ref()] != nil {
			all = append(all, journal.Words(e.Body, at.desk.plan)+"; "+h.goneWords(at, e, withdrawals))
		}
	}
	return all
}

func (h *handler) entry(w http.ResponseWriter, r *http.Request) {
	at, e := h.entryOf(w, r)
	if e == nil {
		return
	}
	v := entryView{What: journal.Words(e.Body, at.desk.plan), Gone: h.goneWords(at, e, at.shelf.Withdrawals())}
	v.Facts = []field{{"when", whenOf(e)}, {"written by", at.shelf.Record.Name(e.Who)}, {"entry", e.String()}}
	v.Can = v.Gone == "" && e.Withdrawable()
	if v.Gone == "" && !v.Can {
		v.Instead = insteadOf(e.Body)
	}
	s := h.jobSheet(r, at, "An entry of the record", "Record")
	s.Where = append(s.Where, step{"Record", at.home + "/record"})
	h.show(w, r, entryPage(s, v))
}

// insteadOf says how what cannot be withdrawn is put right.
func insteadOf(b journal.Body) string {
	switch b.(type) {
	case journal.Imported, journal.Edited, journal.Removed:
		return "A change of the document is taken back by another change, on the page of the plan."
	case journal.Ticked:
		return "A tick is taken back where the core is landed."
	case journal.Withdrawn:
		return "What was withdrawn by mistake is written down anew."
	}
	return ""
}

// withdrawn takes an entry out of what counts.
func (h *handler) withdrawn(w http.ResponseWriter, r *http.Request) {
	at, e := h.entryOf(w, r)
	if e == nil || !h.form(w, r) {
		return
	}
	why := strings.TrimSpace(r.PostForm.Get("why"))
	switch {
	case why == "" || len(why) > mostNote:
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was withdrawn", "Write why, in less than 2000 letters.")
	case !e.Withdrawable():
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was withdrawn", "It is none of the entries that are withdrawn. "+insteadOf(e.Body))
	case !at.shelf.Counts(e):
		h.refuse(w, r, http.StatusConflict, "Nothing was withdrawn", "The entry counts no more already: look at it again.")
	default:
		if h.write(w, r, journal.Withdrawn{Job: at.shelf.ID, Log: e.Log, Seq: e.Seq, Why: why}) {
			http.Redirect(w, r, cmp.Or(inside(r.PostForm.Get("back")), entryURL(at, e)), http.StatusSeeOther)
		}
	}
}
