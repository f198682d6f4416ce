package web

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"doorwright/document"
	"doorwright/job"
	"doorwright/journal"
	"doorwright/proof"
)

type planView struct {
	Wrong, Action, LookURL, Base, Text, UndoURL string
	Drawings                                    string // that the cards of the groups show
	Groups                                      []planGroup
	Typed                                       bool // the text was typed, and is shown again
}

// changeView is a change before it is kept.
type changeView struct {
	Wrong, Says, KeepURL, BackURL string
	Changes                       []document.Change
	Cured                         []string
	Worse                         []cell
	Cores                         []string
	Kept                          []field
}

// mark is a short name for a document as it is, so that a change is never kept on another one than it was looked at for.
func mark(document []byte) string {
	sum := sha256.Sum256(document)
	return hex.EncodeToString(sum[:8])
}

func (h *handler) plan(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	h.showPlan(w, r, at, "")
}

// showPlan shows the form of a door; after a mistake it keeps what was typed.
func (h *handler) showPlan(w http.ResponseWriter, r *http.Request, at *atDoor, wrong string) {
	v := planView{
		Wrong: wrong, Action: at.at + "/plan", LookURL: at.at + "/plan/look", Base: baseOf(r, at.atJob), UndoURL: at.home + "/undo?back=" + at.at + "/plan",
		Groups: fill(formOf(at.desk.job, at.door.ID), r.PostForm), Typed: r.PostForm.Get("text") != "",
	}
	v.Drawings = pictured(at.desk.job, v.Groups)
	if v.Typed {
		v.Text = r.PostForm.Get("text")
	} else if tree, err := document.ReadTree(at.shelf.Document); err == nil {
		v.Text, _ = tree.Get("doors", at.door.ID)
	} else {
		v.Wrong = "The document cannot be edited here: " + err.Error()
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, planPage(h.doorSheet(r, at, "Plan"), v))
}

// baseOf is the mark of the document that a form is filled from: it stays that one when the form is shown again, so that
// nothing is kept on a document that nobody has looked at.
func baseOf(r *http.Request, at *atJob) string {
	return cmp.Or(r.PostForm.Get("base"), mark(at.shelf.Document))
}

// planned shows what a change of a door would do: of the form, of its text, or of a mend.
func (h *handler) planned(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.changed(r)
	var again func(string)
	if r.PostForm.Has("title") || r.PostForm.Has("text") { // else it was a mend, which has no form
		again = func(wrong string) { h.showPlan(w, r, at, wrong) }
	}
	h.showChange(w, r, at.atJob, h.doorSheet(r, at, "Plan"), text, err, at.at+"/plan", again)
}

// changed is the document with what the form of a door says, its text, or a mend.
func (at *atDoor) changed(r *http.Request) ([]byte, error) {
	return at.edited(r, func(tree *document.Tree) error {
		if text := r.PostForm.Get("text"); text != "" {
			return tree.Set(strings.ReplaceAll(text, "\r\n", "\n"), "doors", at.door.ID)
		}
		return filledIn(tree, formOf(at.desk.job, at.door.ID), []string{"doors", at.door.ID}, r.PostForm)
	})
}

// edited is the document after an edit that a form asks for, and with the fields that a mend sets. It errs when the
// document is no longer the one that the form was filled from.
func (at *atJob) edited(r *http.Request, edit func(*document.Tree) error) ([]byte, error) {
	if r.PostForm.Get("base") != mark(at.shelf.Document) {
		return nil, fmt.Errorf("the job was changed since this page was opened: look at it again")
	}
	tree, err := document.ReadTree(at.shelf.Document)
	if err != nil {
		return nil, err
	}
	if err := edit(tree); err != nil {
		return nil, err
	}
	for _, name := range sortedKeys(r.PostForm) {
		if path, ok := strings.CutPrefix(name, "set."); ok {
			if err := job.Put(tree, job.Path(path), r.PostForm.Get(name)); err != nil {
				return nil, err
			}
		}
	}
	return tree.Bytes()
}

func sortedKeys(form map[string][]string) []string {
	var all []string
	for k := range form {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}

// showChange proves a changed document and shows what is different. After a mistake it shows the form again, where there
// is one.
func (h *handler) showChange(w http.ResponseWriter, r *http.Request, at *atJob, s sheet, text []byte, err error, back string, again func(wrong string)) {
	v := changeView{BackURL: back, KeepURL: at.home + "/keep"}
	if err == nil {
		err = h.change(at, &v, text)
	}
	if err != nil && again != nil {
		again(err.Error())
		return
	}
	if err != nil {
		v.Wrong = err.Error()
		unfit(w)
	}
	h.show(w, r, changePage(s, v))
}

func (h *handler) change(at *atJob, v *changeView, text []byte) error {
	changes, err := document.Compare(at.shelf.Document, text)
	if err != nil {
		return err
	}
	if len(changes) == 0 {
		return fmt.Errorf("nothing is different")
	}
	d := h.engine.on(at.shelf.ID, text)
	if d.job == nil {
		return d.problems.Unplaced()
	}
	if d.job.ID != at.shelf.ID {
		return fmt.Errorf("the id of a job is permanent: %s cannot become %s", at.shelf.ID, d.job.ID)
	}
	v.Changes = changes
	v.Cured, v.Worse = different(at.desk.exam.Findings, d.exam.Findings)
	diff := journal.Compare(journal.CoresOf(at.desk.plan), journal.CoresOf(d.plan))
	v.Cores = coreWords(diff, at.desk.plan, d.plan)
	v.Says = fmt.Sprintf("%s: %s cured, %s made worse.", counted(len(changes), "field", "fields"), counted(len(v.Cured), "finding", "findings"), counted(len(v.Worse), "finding", "findings"))
	v.Kept = []field{{"base", mark(at.shelf.Document)}, {"back", v.BackURL}}
	tree, err := document.ReadTree(text)
	if err != nil {
		return err
	}
	for _, c := range changes {
		is, err := tree.Get(c.Path...)
		if err != nil {
			return err
		}
		v.Kept = append(v.Kept, field{"set." + strings.Join(c.Path, "."), is})
	}
	return nil
}

// different tells which findings went and which came.
func different(was, is []proof.Finding) (cured []string, worse []cell) {
	has := func(all []proof.Finding, f proof.Finding) bool {
		return slices.ContainsFunc(all, func(o proof.Finding) bool { return o.Key() == f.Key() })
	}
	for _, f := range was {
		if !has(is, f) {
			cured = append(cured, whereFound(f)+f.What)
		}
	}
	for _, f := range is {
		if !has(was, f) {
			worse = append(worse, cell{Text: whereFound(f) + f.What, Class: f.Severity.String()})
		}
	}
	return cured, worse
}

// whereFound is the door that a finding is about, before what it says; nothing for one that is at no one door, which says
// itself where it is.
func whereFound(f proof.Finding) string {
	if f.Door == "" {
		return ""
	}
	return f.Door + ": "
}

// keepChange keeps a change that was looked at: one entry for each field of each object.
func (h *handler) keepChange(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	if r.PostForm.Get("base") != mark(at.shelf.Document) {
		h.refuse(w, r, http.StatusConflict, "Nothing was kept", "The job was changed since this was looked at: look at it again.")
		return
	}
	tree, err := document.ReadTree(at.shelf.Document)
	var bodies []journal.Body
	for _, name := range sortedKeys(r.PostForm) {
		path, is := strings.CutPrefix(name, "set.")
		if !is || err != nil {
			continue
		}
		names := job.Path(path)
		value := r.PostForm.Get(name)
		var was string
		if was, err = tree.Get(names...); err == nil {
			err = tree.Set(value, names...)
		}
		bodies = append(bodies, journal.Edited{Job: at.shelf.ID, Object: strings.Join(names[:len(names)-1], "/"), Field: names[len(names)-1], Value: strings.ReplaceAll(value, "\r\n", "\n"), Was: was, Change: r.PostForm.Get("base")})
	}
	if err == nil {
		var text []byte
		if text, err = tree.Bytes(); err == nil {
			if d := h.engine.on(at.shelf.ID, text); d.job == nil {
				err = d.problems.Unplaced()
			}
		}
	}
	if err != nil || len(bodies) == 0 {
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was kept", fmt.Sprint(err))
		return
	}
	if h.write(w, r, bodies...) {
		to := inside(r.PostForm.Get("back"))
		if to == "" {
			to = at.home
		}
		http.Redirect(w, r, to, http.StatusSeeOther)
	}
}

// undo takes the last change of a job back.
func (h *handler) undo(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	b, err := at.shelf.Undo()
	if err != nil {
		h.refuse(w, r, http.StatusConflict, "Nothing was taken back", err.Error())
		return
	}
	if h.write(w, r, b...) {
		to := inside(r.URL.Query().Get("back"))
		if to == "" {
			to = at.home
		}
		http.Redirect(w, r, to, http.StatusSeeOther)
	}
}

// alike are the fields that make one door like another: what is fitted and set, not what it is called, where it stands and
// what serves it.
func alike() []string {
	return []string{"locks", "entry", "exit-reader", "exit", "contacts", "releases", "fire", "sounder", "watch", "interposing", "loop", "supervision", "resistor", "settings"}
}

// like shows what it would do to make some doors like one.
func (h *handler) like(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.likened(r.PostForm.Get("like"), r.PostForm["door"])
	h.showChange(w, r, at, h.jobSheet(r, at, "Make doors alike", "Doors"), text, err, at.home, nil)
}

func (at *atJob) likened(like string, doors []string) ([]byte, error) {
	if at.desk.door(like) == nil || len(doors) == 0 {
		return nil, fmt.Errorf("tick the doors to change, and choose the one they become like")
	}
	tree, err := document.ReadTree(at.shelf.Document)
	if err != nil {
		return nil, err
	}
	for _, door := range doors {
		if at.desk.door(door) == nil {
			return nil, fmt.Errorf("there is no door %q", door)
		}
		for _, name := range alike() {
			value, err := tree.Get("doors", like, name)
			if err == nil && door != like {
				err = tree.Set(value, "doors", door, name)
			}
			if err != nil {
				return nil, err
			}
		}
	}
	return tree.Bytes()
}
