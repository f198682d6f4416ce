package web

import (
	"fmt"
	"net/http"
	"strings"

	"doorwright/document"
	"doorwright/find"
	"doorwright/job"
	"doorwright/journal"
)

// asFoundFile is the file name of a door that nobody planned here: what is known of it is a guess, and it may be wired
// otherwise.
const asFoundFile = "as found"

// asFoundForm is what can be told of a door after a look round, in two minutes.
func asFoundForm(filled func(string) string) []planGroup {
	b := blank()
	return fill([]planGroup{
		{"The door", []planField{text("What people call it", "title", "", "Back door")}},
		{"What is there, or the nearest to it", []planField{
			{Title: "Lock", Path: "lock", Value: "magnet-12", Options: b.models(job.RoleLock, "")},
			{Title: "Reader", Path: "entry", Options: b.models(job.RoleEntry, "none")},
			{Title: "Reader inside", Path: "exit-reader", Options: b.models(job.RoleExitReader, "none")},
			{Title: "Exit device", Path: "exit", Options: b.models(job.RoleExit, "none")},
			{Title: "Door contact", Path: "contact", Options: b.models(job.RoleContact, "none")},
			{Title: "Manual release", Path: "release", Options: b.models(job.RoleRelease, "none")},
			{Title: "Fire signal", Path: "fire", Options: b.models(job.RoleFire, "none")},
			{Title: "Controller", Path: "controller", Options: b.models(job.RoleController, "one door, as is usual")},
			{Title: "Supply", Path: "supply", Options: b.models(job.RoleSupply, "5 A, as is usual")},
			{Title: "Battery", Path: "battery", Options: b.models(job.RoleBattery, "none")},
		}},
		{"How it is wired, as far as one sees", []planField{
			chosen("The lock is fed from", "feed", "", "", "the supply, or not known", "controller", "the controller", "supply", "the supply"),
			chosen("and landed on", "lands", "", "", "not known", "nc", "NC", "no", "NO"),
			chosen("The release acts on", "release-into", "", "", "the lock feed, or not known", "feed", "the lock feed", "input", "an input"),
			chosen("End-of-line resistors", "supervision", "", "", "none seen", "single", "one on each line", "double", "two on each line"),
			chosen("0 V is joined to earth", "zero-volt", "", "", "not known", "earthed", "yes", "floating", "no"),
			text("Length of the cables, guessed", "cable-length", "", "15 m"),
		}},
	}, filled)
}

func (h *handler) call(w http.ResponseWriter, r *http.Request) { h.showCall(w, r, "") }

func (h *handler) showCall(w http.ResponseWriter, r *http.Request, wrong string) {
	v := startView{
		Lead: "A door somebody else wired: say what is there, then search. Nobody is shut in? If so, free the door first.", Do: "Search this door", Wrong: wrong,
		Groups: asFoundForm(r.PostFormValue), Note: "What is not known widens what a sound door may show; readings fill it in.",
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, startPage(sheet{Title: "A door found on a call", Who: h.who(r), Where: []step{{"Jobs", "/"}}}, v))
}

// called keeps a door as found, and goes on to search it.
func (h *handler) called(w http.ResponseWriter, r *http.Request) {
	if !h.form(w, r) {
		return
	}
	id := fmt.Sprintf("CALL-%d", h.calls()+1)
	text, err := h.asFound(id, r)
	if err != nil {
		h.showCall(w, r, err.Error())
		return
	}
	if h.write(w, r, journal.Imported{Job: id, File: asFoundFile, Document: text}) {
		http.Redirect(w, r, "/j/"+id+"/d/"+find.FoundDoor+"/find", http.StatusSeeOther)
	}
}

// calls counts the doors as found that are kept.
func (h *handler) calls() int {
	n := 0
	for _, j := range h.Journal.State().Jobs {
		if strings.HasPrefix(j.ID, "CALL-") {
			n++
		}
	}
	return n
}

// asFound is the job document of a door as found.
func (h *handler) asFound(id string, r *http.Request) (string, error) {
	tree, err := document.ReadTree([]byte("{}"))
	if err != nil {
		return "", err
	}
	for _, g := range asFoundForm(func(string) string { return "" }) {
		for _, f := range g.Fields {
			value := strings.TrimSpace(r.PostForm.Get(f.Path))
			if value == "" {
				continue
			}
			if f.Path == "exit" {
				value = "[" + value + "]"
			}
			if err := job.Put(tree, []string{f.Path}, value); err != nil {
				return "", err
			}
		}
	}
	text, err := tree.Bytes()
	if err != nil {
		return "", err
	}
	j, problems := find.ReadAsFound(asFoundFile, text)
	if len(problems) > 0 {
		return "", problems
	}
	doc := j.Document.Clone()
	doc.Job, doc.Title = id, "As found: "+j.Doors[0].Title
	printed, err := job.Print(doc)
	return string(printed), err
}
