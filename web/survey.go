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
	Action    string
	Typed     url.Values // what was typed and not kept
	Wrong     string
	Asked     []journal.Asked
	Seen      []string
	Photos    []photoView
	PhotoURL  string
	Elevation string
}

type photoView struct{ URL, Alt, Caption string }

func (h *handler) survey(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.doorOf(w, r); ok {
		h.showSurvey(w, r, at, r.URL.Query(), "")
	}
}

// showSurvey shows the survey of a door with what was typed, and after a mistake what it is.
func (h *handler) showSurvey(w http.ResponseWriter, r *http.Request, at *atDoor, typed url.Values, wrong string) {
	v := surveyView{
		Action: at.at + "/survey", PhotoURL: at.at + "/photo", Elevation: string(draw.Inline(draw.Elevation(at.desk.plan, at.door), func(string) string { return "" })),
		Typed: legible(typed), Wrong: wrong,
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
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, surveyPage(h.doorSheet(r, at, "Survey"), v))
}

// surveyed keeps a question, an answer, or what was found: the field whose button was pressed.
func (h *handler) surveyed(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	field := r.PostForm.Get(keepField)
	text := strings.TrimSpace(r.PostForm.Get(field))
	var body journal.Body
	switch what, id, _ := strings.Cut(field, "."); what {
	case "question":
		id := fmt.Sprintf("Q%d", len(at.shelf.Asked)+1)
		body = journal.Asked{Job: at.shelf.ID, Door: at.door.ID, ID: at.door.ID + "-" + id, Question: text, Act: h.act(r)}
	case "answer":
		for _, a := range at.shelf.Asked {
			if a.ID == id && a.Door == at.door.ID {
				a.Answer, a.Act = text, h.act(r)
				body = a
			}
		}
	case "seen":
		body = journal.Sighted{Job: at.shelf.ID, Sight: record.Sight{Door: at.door.ID, What: text, Act: h.act(r)}}
	}
	switch {
	case body == nil || text == "":
		h.showSurvey(w, r, at, r.PostForm, "Nothing was kept. Write a question, an answer, or what is there, and press the button beside it.")
	case len(text) > mostNote:
		h.showSurvey(w, r, at, r.PostForm, "Nothing was kept. Write less than 2000 letters.")
	case h.write(w, r, body):
		h.carryOn(w, r, at.at+"/survey", leftOf(r.PostForm, field), h.showSurvey)
	}
}

// photographed keeps a photo.
func (h *handler) photographed(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	data, kind, err := sentPhoto(w, r)
	if h.who(r) == "" {
		to, ok := carrying(at.at+"/survey", leftOf(r.PostForm))
		if !ok {
			to = at.at + "/survey"
		}
		http.Redirect(w, r, "/people?to="+url.QueryEscape(to), http.StatusSeeOther) // a picture waits in no page
		return
	}
	if err != nil {
		h.showSurvey(w, r, at, r.PostForm, "The photo was not kept. "+err.Error())
		return
	}
	caption := strings.TrimSpace(r.PostForm.Get("caption"))
	if caption == "" || len(caption) > mostNote {
		h.showSurvey(w, r, at, r.PostForm, "The photo was not kept. Write what it shows, and choose it again.")
		return
	}
	p := journal.Photographed{Job: at.shelf.ID, Door: at.door.ID, Type: "image/" + kind, Caption: caption, Act: h.act(r)}
	if _, err := h.Journal.WritePhoto(r.Context(), h.who(r), p, data); err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The photo was not kept", err.Error())
		return
	}
	h.carryOn(w, r, at.at+"/survey", leftOf(r.PostForm, "caption"), h.showSurvey)
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
