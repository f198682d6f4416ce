package web

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"

	"doorwright/demo"
	"doorwright/document"
	"doorwright/journal"
)

// lookView is a document that is looked at before it is kept.
type lookView struct {
	Says    string
	Changes []document.Change
	Rows    []doorRow
	File    string
	Text    string
}

func (h *handler) bring(w http.ResponseWriter, r *http.Request) { h.showBring(w, r, "", "") }

// showBring shows the form; after a mistake it keeps the text that was written there.
func (h *handler) showBring(w http.ResponseWriter, r *http.Request, wrong, text string) {
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, bringPage(sheet{Title: "Bring a job in", Who: h.who(r), Where: []step{{"Jobs", "/"}}}, wrong, text))
}

// mostDocument bounds a document that is sent: above what the reader of documents takes, so that it says why.
const mostDocument = 17 << 20

// look shows what a document would come to.
func (h *handler) look(w http.ResponseWriter, r *http.Request) {
	name, text, err := sent(w, r)
	if err != nil {
		h.showBring(w, r, err.Error(), r.PostForm.Get("text"))
		return
	}
	v, err := h.lookAt(name, text)
	if err != nil {
		h.showBring(w, r, err.Error(), r.PostForm.Get("text"))
		return
	}
	h.show(w, r, lookPage(sheet{Title: "Look before it is kept", Who: h.who(r), Where: []step{{"Jobs", "/"}, {"Bring a job in", "/bring"}}}, *v))
}

// sent is the document of a form: a file, a text, or the demo.
func sent(w http.ResponseWriter, r *http.Request) (name, text string, err error) {
	r.Body = http.MaxBytesReader(w, r.Body, mostDocument)
	if err := r.ParseMultipartForm(mostDocument); err != nil {
		return "", "", fmt.Errorf("the form cannot be read: %w", err)
	}
	if r.PostFormValue("demo") != "" {
		return "brackwater.yaml", string(demo.Brackwater), nil
	}
	file, head, err := r.FormFile("file")
	if err == nil {
		defer file.Close() //nolint:errcheck // it was only read
		data, err := io.ReadAll(file)
		if err != nil {
			return "", "", err
		}
		if len(data) > 0 {
			return path.Base(strings.ReplaceAll(head.Filename, "\\", "/")), string(data), nil
		}
	}
	if text := r.PostFormValue("text"); strings.TrimSpace(text) != "" {
		return "text", text, nil
	}
	return "", "", errors.New("nothing was sent: choose a file, or write its text")
}

// lookAt reads a document and says what it would come to. It errs on one that has mistakes, with all of them.
func (h *handler) lookAt(name, text string) (*lookView, error) {
	d := h.engine.on(name, []byte(text))
	if d.job == nil {
		return nil, d.problems
	}
	if _, err := document.ReadTree([]byte(text)); err != nil {
		return nil, err
	}
	at := &atJob{shelf{Job: &journal.Job{ID: d.job.ID}}, d, "/j/" + d.job.ID, &h.faultRuns}
	v := &lookView{File: name, Text: text, Rows: at.rows(), Says: fmt.Sprintf("%s, %s: a new job here.", d.job.Title, counted(len(d.job.Doors), "door", "doors"))}
	old := h.Journal.State().Job(d.job.ID)
	if old == nil {
		return v, nil
	}
	changes, err := document.Compare(old.Document, []byte(text))
	if err != nil {
		return nil, err
	}
	v.Changes = changes
	v.Says = fmt.Sprintf("%s: the job %s is here already. %s would change; ticks and readings stay with what they belong to.", d.job.Title, d.job.ID,
		counted(len(changes), "field", "fields"))
	return v, nil
}

// keep brings a document in that was looked at.
func (h *handler) keep(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 3*mostDocument) // percent signs make a text three times as long
	if err := cmp.Or(r.ParseForm(), isText(r.Form)); err != nil {
		h.showBring(w, r, "the form cannot be read: "+err.Error(), "")
		return
	}
	text := strings.ReplaceAll(r.PostForm.Get("text"), "\r\n", "\n") // as forms write ends of lines
	v, err := h.lookAt(r.PostForm.Get("name"), text)
	if err != nil {
		h.showBring(w, r, err.Error(), text)
		return
	}
	id := h.engine.on(v.File, []byte(text)).job.ID
	if h.write(w, r, journal.Imported{Job: id, File: v.File, Document: text}) {
		http.Redirect(w, r, "/j/"+id, http.StatusSeeOther)
	}
}
