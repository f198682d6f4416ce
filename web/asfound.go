package web

import (
	"fmt"
	"net/http"
	"net/url"
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
func asFoundForm(filled url.Values) []planGroup {
	b := blank()
	return fill([]planGroup{
		{"The door", []planField{text("What people call it", "title", "", "Back door")}},
		{"What is there, or the nearest to it", []planField{
			b.device("Lock", job.RoleLock, "lock", "magnet-12", ""),
			b.device("Reader", job.RoleEntry, "entry", "", "none"),
			b.device("Reader inside", job.RoleExitReader, "exit-reader", "", "none"),
			b.device("Exit device", job.RoleExit, "exit", "", "none"),
			b.device("Door contact", job.RoleContact, "contact", "", "none"),
			b.device("Manual release", job.RoleRelease, "release", "", "none"),
			b.device("Fire signal", job.RoleFire, "fire", "", "none"),
			b.device("Controller", job.RoleController, "controller", "", "one door, as is usual"),
			b.device("Supply", job.RoleSupply, "supply", "", "5 A, as is usual"),
			b.device("Battery", job.RoleBattery, "battery", "", "none"),
		}},
		{"How it is wired, as far as one sees", []planField{
			chosen("The lock is fed from", "feed", "", "", "the supply, or not known", "controller", "the controller", "supply", "the supply"),
			chosen("and landed on", "lands", "", "", "not known", "nc", "NC", "no", "NO"),
			chosen("The release acts on", "release-into", "", "", "the lock feed, or not known", "feed", "the lock feed", "input", "an input"),
			chosen("End-of-line resistors", "supervision", "", "", "none seen", "single", "one on each line", "double", "two on each line"),
			chosen("0 V is joined to earth", "zero-volt", "", "", "not known", "earthed", "yes", "floating", "no"),
			text("Length of the cables, guessed", "cable-length", "", "15 m or 50 ft"),
		}},
	}, filled)
}

func (h *handler) call(w http.ResponseWriter, r *http.Request) { h.showCall(w, r, "") }

func (h *handler) showCall(w http.ResponseWriter, r *http.Request, wrong string) {
	v := startView{
		Lead: "A door somebody else wired: say what is there, then search. Is somebody shut in? Then free the door first.", Do: "Search this door", Wrong: wrong,
		Groups: asFoundForm(r.PostForm), Note: "What is not known widens what a sound door may show; readings fill it in.",
	}
	v.Drawings = pictured(blank().job, v.Groups)
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
	for _, g := range asFoundForm(nil) {
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
		return "", problems.Unplaced()
	}
	doc := j.Document.Clone()
	doc.Job, doc.Title = id, "As found: "+j.Doors[0].Title
	printed, err := job.Print(doc)
	return string(printed), err
}
