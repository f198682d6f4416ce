package web

import (
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"strings"

	"doorwright/device"
	"doorwright/document"
	"doorwright/draw"
	"doorwright/job"
	"doorwright/journal"
)

type unitsView struct {
	From                            []optionGroup
	Begun, ID, Text, Wrong, LookURL string
	Looked                          lookedView
}

// lookedView is a model as far as it is written.
type lookedView struct {
	Flaws   []string
	Drawing string
}

// units is where one makes a unit of one's own.
func (h *handler) units(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	v := unitsView{From: unitChoices(at.desk.job), Begun: r.URL.Query().Get("from"), LookURL: at.home + "/units/look"}
	if v.Begun != "" {
		m, own := modelOf(at.desk.job, v.Begun)
		if m == nil {
			h.refuse(w, r, http.StatusNotFound, "There is no such unit", "Choose one of the list.")
			return
		}
		text, err := document.Print(m)
		if err != nil {
			h.refuse(w, r, http.StatusInternalServerError, "The unit cannot be written", err.Error())
			return
		}
		v.Text, v.ID = string(text), v.Begun
		if !own {
			v.ID = "my-" + v.Begun
		}
		v.Looked = lookAtUnit(v.ID, v.Text)
	}
	h.show(w, r, unitsPage(h.jobSheet(r, at, "Units of one's own", "Units"), v))
}

// modelOf is a model by id, and whether it is one of the job's own.
func modelOf(j *job.Job, id string) (m *device.Model, own bool) {
	if m, ok := j.Document.Models.Get(id); ok {
		return m, true
	}
	m, _ = device.Builtin().Get(id)
	return m, false
}

// unitChoices are all models, the job's own first, then kind by kind.
func unitChoices(j *job.Job) []optionGroup {
	groups := []optionGroup{{Title: "of this job"}}
	for _, m := range j.Document.Models {
		groups[0].Options = append(groups[0].Options, option{m.Key, m.Value.Title})
	}
	if len(groups[0].Options) == 0 {
		groups = nil
	}
	c := device.Builtin()
	for _, id := range c.IDs() {
		m, _ := c.Get(id)
		if k := device.KindOf(m.Kind); len(groups) == 0 || groups[len(groups)-1].Title != k.Title {
			groups = append(groups, optionGroup{Title: k.Title})
		}
		g := &groups[len(groups)-1]
		g.Options = append(g.Options, option{id, m.Title})
	}
	return groups
}

// lookAtUnit reads a model and says what is wrong with it, and draws what there is.
func lookAtUnit(id, text string) lookedView {
	var m device.Model
	var v lookedView
	if _, problems := document.Read("data sheet", []byte(text), &m); len(problems) > 0 {
		for _, p := range problems {
			v.Flaws = append(v.Flaws, p.Error())
		}
		return v
	}
	for _, f := range device.Check(id, &m) {
		v.Flaws = append(v.Flaws, f.String())
	}
	if len(m.Strip) > 0 && len(v.Flaws) == 0 {
		v.Drawing = string(draw.Inline(draw.Unit(id, &m), func(string) string { return "" }))
	}
	return v
}

// unitForm is what a form says of a unit.
func (h *handler) unitForm(w http.ResponseWriter, r *http.Request) (id, text string, ok bool) {
	if !h.form(w, r) {
		return "", "", false
	}
	return strings.TrimSpace(r.PostForm.Get("id")), strings.ReplaceAll(r.PostForm.Get("text"), "\r\n", "\n"), true
}

// unitLook answers with the part of the page that shows a unit while it is typed.
func (h *handler) unitLook(w http.ResponseWriter, r *http.Request) {
	if _, ok := h.job(w, r); !ok {
		return
	}
	id, text, ok := h.unitForm(w, r)
	if ok {
		h.show(w, r, unitLooked(lookAtUnit(id, text)))
	}
}

// unitNameForm is that of the keys of a document.
var unitNameForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]{0,31}$`)

// unit shows a unit as it is written, or keeps it in the job.
func (h *handler) unit(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	id, text, ok := h.unitForm(w, r)
	if !ok {
		return
	}
	v := unitsView{From: unitChoices(at.desk.job), ID: id, Text: text, LookURL: at.home + "/units/look", Looked: lookAtUnit(id, text)}
	if r.PostForm.Get("do") == "keep" {
		err := h.keepUnit(w, r, at, id, text, len(v.Looked.Flaws))
		if err == nil {
			return
		}
		v.Wrong = err.Error()
		unfit(w)
	}
	h.show(w, r, unitsPage(h.jobSheet(r, at, "Units of one's own", "Units"), v))
}

// keepUnit keeps a unit; an error says why it was not, and nil that an answer was given.
func (h *handler) keepUnit(w http.ResponseWriter, r *http.Request, at *atJob, id, text string, flaws int) error {
	if _, built := device.Builtin().Get(id); built || !unitNameForm.MatchString(id) {
		return errors.New("give it a name of its own, of letters, digits and -")
	}
	if flaws > 0 {
		return fmt.Errorf("%s must be put right first", counted(flaws, "thing", "things"))
	}
	tree, err := document.ReadTree(at.shelf.Document)
	if err != nil {
		return err
	}
	was, err := tree.Get("models", id)
	if err == nil {
		err = tree.Set(text, "models", id)
	}
	if err != nil {
		return err
	}
	changed, err := tree.Bytes()
	if err != nil {
		return err
	}
	if d := h.engine.on(at.shelf.ID, changed); d.job == nil {
		return d.problems.Unplaced()
	}
	if h.write(w, r, journal.Edited{Job: at.shelf.ID, Object: "models", Field: id, Value: text, Was: was}) {
		http.Redirect(w, r, at.home+"/units?from="+id, http.StatusSeeOther)
	}
	return nil
}
