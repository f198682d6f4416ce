package web

import (
	"cmp"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"

	"doorwright/draw"
	"doorwright/journal"
	"doorwright/meter"
	"doorwright/record"
)

type surveyView struct {
	Asked     []journal.Asked
	Seen      []string
	Photos    []photoView
	PhotoURL  string
	Elevation string
}

type photoView struct{ URL, Alt, Caption string }

func (h *handler) survey(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	v := surveyView{
		PhotoURL: at.at + "/photo", Elevation: string(draw.Inline(draw.Elevation(at.desk.plan, at.door), func(string) string { return "" })),
	}
	for _, a := range at.shelf.Asked {
		if a.Door == at.door.ID {
			v.Asked = append(v.Asked, a)
		}
	}
	for _, s := range at.shelf.Record.Seen {
		if _, err := meter.ParseSeen(s.What); s.Door == at.door.ID && err != nil && s.Mended == "" {
			v.Seen = append(v.Seen, fmt.Sprintf("%s (%s, %s)", s.What, at.shelf.Record.Name(s.By), s.On))
		}
	}
	for _, p := range at.shelf.Photos {
		if p.Door == at.door.ID {
			v.Photos = append(v.Photos, photoView{at.home + "/photo/" + p.Blob, p.Caption, fmt.Sprintf("%s (%s, %s)", p.Caption, at.shelf.Record.Name(p.By), p.On)})
		}
	}
	h.show(w, r, surveyPage(h.doorSheet(r, at, "Survey"), v))
}

// surveyed keeps a question, an answer, or what was found.
func (h *handler) surveyed(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	line := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	if len(line("question"))+len(line("answer"))+len(line("seen")) > mostNote {
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was kept", "Write less than 2000 letters.")
		return
	}
	var body journal.Body
	switch {
	case line("question") != "":
		id := fmt.Sprintf("Q%d", len(at.shelf.Asked)+1)
		body = journal.Asked{Job: at.shelf.ID, Door: at.door.ID, ID: at.door.ID + "-" + id, Question: line("question"), Act: h.act(r)}
	case line("answer") != "":
		for _, a := range at.shelf.Asked {
			if a.ID == line("id") {
				a.Answer, a.Act = line("answer"), h.act(r)
				body = a
			}
		}
	case line("seen") != "":
		body = journal.Sighted{Job: at.shelf.ID, Sight: record.Sight{Door: at.door.ID, What: line("seen"), Act: h.act(r)}}
	}
	if body == nil {
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was kept", "Write a question, an answer, or what is there.")
		return
	}
	if h.write(w, r, body) {
		http.Redirect(w, r, at.at+"/survey", http.StatusSeeOther)
	}
}

// photographed keeps a photo.
func (h *handler) photographed(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	if h.who(r) == "" {
		http.Redirect(w, r, "/people?to="+url.QueryEscape(at.at+"/survey"), http.StatusSeeOther) // a picture waits in no page
		return
	}
	data, kind, err := sentPhoto(w, r)
	if err != nil {
		h.refuse(w, r, http.StatusUnprocessableEntity, "The photo was not kept", err.Error())
		return
	}
	caption := strings.TrimSpace(r.PostFormValue("caption"))
	if caption == "" || len(caption) > mostNote {
		h.refuse(w, r, http.StatusUnprocessableEntity, "The photo was not kept", "Write what it shows.")
		return
	}
	p := journal.Photographed{Job: at.shelf.ID, Door: at.door.ID, Type: "image/" + kind, Caption: caption, Act: h.act(r)}
	if _, err := h.Journal.WritePhoto(r.Context(), h.who(r), p, data); err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The photo was not kept", err.Error())
		return
	}
	http.Redirect(w, r, at.at+"/survey", http.StatusSeeOther)
}

// sentPhoto is the picture of a form. It errs on what is no picture, whatever it calls itself.
func sentPhoto(w http.ResponseWriter, r *http.Request) (data []byte, kind string, err error) {
	r.Body = http.MaxBytesReader(w, r.Body, mostPhoto+mostForm)
	if err := cmp.Or(r.ParseMultipartForm(mostPhoto+mostForm), isText(r.Form)); err != nil {
		return nil, "", fmt.Errorf("it cannot be read: %w", err)
	}
	file, _, err := r.FormFile("photo")
	if err != nil {
		return nil, "", fmt.Errorf("no picture was sent: %w", err)
	}
	defer file.Close() //nolint:errcheck // it was only read
	if data, err = io.ReadAll(file); err != nil {
		return nil, "", err
	}
	return bared(data)
}

// photo shows a picture that is kept, as the type it was found to be and nothing else. One that came in a pack may still have
// what a camera writes beside the picture: it stays in the bytes that were signed, and is never shown.
func (h *handler) photo(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	for _, p := range at.shelf.Photos {
		if p.Blob != r.PathValue("hash") {
			continue
		}
		data, err := h.Journal.Blob(r.Context(), p.Blob)
		if err != nil || data == nil {
			break
		}
		shown, kind, err := bared(data)
		if err != nil {
			h.refuse(w, r, http.StatusUnprocessableEntity, "The picture cannot be shown", "It is kept as it came: "+err.Error()+".")
			return
		}
		w.Header().Set("Content-Type", "image/"+kind)
		w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
		w.Write(shown) //nolint:errcheck // whoever asked is gone
		return
	}
	h.nowhere(w, r)
}

type snagsView struct {
	Tabs  workTabsView
	Says  string
	Snags []snagView
	Steps []option
}

type snagView struct{ ID, What, About, Level, Closed, Retest string }

func (h *handler) snags(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	v := snagsView{Tabs: at.workTabs("/do/snags"), Steps: []option{{"", "no test"}}}
	for _, s := range record.StepsOf(at.door) {
		v.Steps = append(v.Steps, option{s.ID, fmt.Sprintf("%s %s (%s)", s.ID, s.Do, s.Before)})
	}
	open := 0
	for _, s := range at.shelf.Record.Snags {
		if s.Value.Door != at.door.ID {
			continue
		}
		x := snagView{
			ID: s.Key, What: s.Value.What, Level: "advice", Retest: s.Value.Retest,
			About: fmt.Sprintf("%s; %s, %s %s", s.Value.Class, at.shelf.Record.Name(s.Value.By), s.Value.On, s.Value.Owner),
		}
		if s.Value.Class == "life" || s.Value.Class == "security" {
			x.Level = "error"
		}
		if c := s.Value.Closed; c != nil {
			x.Closed, x.Level = fmt.Sprintf("%s; %s, %s", s.Value.Fix, at.shelf.Record.Name(c.By), c.On), "good"
		} else {
			open++
		}
		v.Snags = append(v.Snags, x)
	}
	v.Says = counted(open, "open snag", "open snags") + "."
	h.show(w, r, snagsPage(h.doorSheet(r, at, "At work"), v))
}

// snagged keeps a new snag, or that one was put right.
func (h *handler) snagged(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	line := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	body := journal.Snagged{Job: at.shelf.ID, ID: line("id")}
	wrong := ""
	if body.ID == "" {
		body.ID = fmt.Sprintf("S%d", len(at.shelf.Record.Snags)+1)
		body.Snag = record.Snag{Door: at.door.ID, What: line("what"), Class: line("class"), Owner: line("owner"), Retest: line("retest"), Act: h.act(r)}
		switch body.Class {
		case "life", "security", "function", "looks":
		default:
			wrong = "Say what it touches."
		}
	} else {
		old, known := at.shelf.Record.Snags.Get(body.ID)
		if !known || old.Door != at.door.ID || !old.Open() {
			wrong = "There is no such open snag at this door."
		} else {
			body.Snag = *old
			act := h.act(r)
			body.Fix, body.Retest, body.Closed = line("fix"), line("retest"), &act
			wrong = at.untested(body.Snag)
		}
	}
	if _, ok := record.FindStep(body.Retest); body.Retest != "" && !ok {
		wrong = fmt.Sprintf("There is no test %q.", body.Retest)
	}
	if body.What == "" || len(body.What)+len(body.Fix)+len(body.Owner) > mostNote {
		wrong = "Write what is wrong, in less than 2000 letters."
	}
	if wrong != "" {
		h.refuse(w, r, http.StatusUnprocessableEntity, "The snag was not kept", wrong)
		return
	}
	if h.write(w, r, append(h.stopped(r, at, "/do/snags"), body)...) {
		http.Redirect(w, r, at.at+"/do/snags", http.StatusSeeOther)
	}
}

// untested says what is missing before a snag may be closed: what touches getting out is retested first.
func (at *atDoor) untested(s record.Snag) string {
	if s.Class != "life" {
		return ""
	}
	if s.Retest == "" {
		return "A snag that touches getting out is closed with a test."
	}
	if !at.passedSince(s) {
		return "Make the test " + s.Retest + " again first: it must pass after the snag was found, witnessed where it bears on life."
	}
	return ""
}

// passedSince says that the test of a snag was passed after the snag was written down.
func (at *atDoor) passedSince(s record.Snag) bool {
	step, _ := record.FindStep(s.Retest)
	passed := false
	for _, e := range at.shelf.History {
		if !at.shelf.Counts(e) {
			continue
		}
		switch b := e.Body.(type) {
		case journal.Snagged:
			if b.Act == s.Act && b.Door == s.Door && b.Open() {
				passed = false
			}
		case journal.Tested:
			if b.Door == s.Door && b.Step == s.Retest {
				passed = b.Outcome == "pass" && b.Test.Counts(step)
			}
		}
	}
	return passed
}
