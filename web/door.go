package web

import (
	"cmp"
	"fmt"
	"net/http"
	"strings"

	"doorwright/draw"
	"doorwright/job"
	"doorwright/journal"
	"doorwright/proof"
	"doorwright/unit"
)

// atDoor is one request about a door.
type atDoor struct {
	*atJob
	door *job.Door
	at   string // where its pages are
}

// doorOf finds the door of a request; false when an answer was given already.
func (h *handler) doorOf(w http.ResponseWriter, r *http.Request) (*atDoor, bool) {
	at, ok := h.job(w, r)
	if !ok {
		return nil, false
	}
	d := at.desk.door(r.PathValue("door"))
	if d == nil {
		h.refuse(w, r, http.StatusNotFound, "There is no such door", fmt.Sprintf("The job %s has no door %q.", at.shelf.ID, r.PathValue("door")))
		return nil, false
	}
	return &atDoor{at, d, at.home + "/d/" + d.ID}, true
}

// doorSheet is the frame of a page about a door.
func (h *handler) doorSheet(r *http.Request, at *atDoor, here string) sheet {
	s := h.sheet(r, at.atJob, at.door.Title, step{at.desk.job.Title, at.home})
	for _, t := range []tab{{Title: "Overview"}, {Title: "Survey", URL: "/survey"}, {Title: "Plan", URL: "/plan"}, {Title: "Try-out", URL: "/try"}, {Title: "At work", URL: "/do"}} {
		t.URL = at.at + t.URL
		t.Here = t.Title == here
		s.Tabs = append(s.Tabs, t)
	}
	s.Footer = append(s.Footer, field{"door", at.door.ID})
	return s
}

// leafSheet is the frame of a page on which one thing of a step of the work is done: its tabs would take half of a phone, so
// the way leads back to them.
func (h *handler) leafSheet(r *http.Request, at *atDoor, title, stage string) sheet {
	s := h.sheet(r, at.atJob, title, step{at.desk.job.Title, at.home}, step{at.door.Title, at.at})
	for _, t := range journal.Stages() {
		if t.Page == stage {
			s.Where = append(s.Where, step{t.Title, at.at + t.Page})
		}
	}
	s.Leaf = true
	s.Footer = append(s.Footer, field{"door", at.door.ID})
	return s
}

// doorView is what the overview of a door shows.
type doorView struct {
	Lead    string
	Failed  []openPoint // what was tried and is wrong
	Found   foundView
	Faults  faultVerdict
	Fitted  []field
	Drawing string
	Matrix  []matrixRow
	// MatrixURL is where the matrix is to be had as a file.
	MatrixURL string
}

type matrixRow struct{ Title, Step, Says, Class, Volts, Alarm string }

func (h *handler) door(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	v := doorView{
		Lead: leadOf(at.door), Failed: at.failed(), Found: h.foundAt(at), Faults: h.faultsAt(at), Fitted: fittedOf(at.door),
		Drawing: string(draw.Inline(at.desk.wiringOf(at.door), func(string) string { return "" })),
	}
	for _, x := range at.desk.exam.Doors {
		if x.Door != at.door {
			continue
		}
		for _, row := range x.Matrix {
			v.Matrix = append(v.Matrix, matrixRowOf(row))
		}
	}
	t := matrixTable(v.Matrix)
	if h.filed(w, r, at.atJob, &t) {
		return
	}
	v.MatrixURL = t.CSV
	h.show(w, r, doorPage(h.doorSheet(r, at, "Overview"), v))
}

func matrixTable(rows []matrixRow) tableView {
	t := tableView{ID: "follows", Title: "Cause and effect", Head: []string{"cause", "step", "door", "volts at the lock", "alarm"}}
	for _, m := range rows {
		t.Rows = append(t.Rows, []cell{{Text: m.Title}, {Text: m.Step}, {Text: m.Says}, {Text: m.Volts}, {Text: m.Alarm}})
	}
	return t
}

func matrixRowOf(r proof.Row) matrixRow {
	row := matrixRow{Title: r.Title, Step: r.Step, Says: r.Says, Class: strings.ReplaceAll(r.Says, " ", "-"), Alarm: r.Alarm, Volts: bandOf(r.Volts)}
	if r.Says == proof.Restless {
		row.Volts = ""
	}
	switch r.With {
	case "fire":
		row.Title += ", with the fire signal on"
	case "release":
		row.Title += ", with the release operated"
	}
	return row
}

func bandOf(b unit.Band[unit.Volt]) string {
	low, high := volts(b.Low), volts(b.High)
	if low == high {
		return low
	}
	return low + " to " + high
}

// leadOf says in a line what the door is, and what was taken for it because nobody said.
func leadOf(d *job.Door) string {
	says := "Secured side: " + cmp.Or(d.Secured, "not stated") + ". "
	switch d.Escape {
	case job.EscapeNone:
		says += "Not an escape door."
	case job.EscapeOut:
		says += "Escape door, outwards."
	case job.EscapeIn:
		says += "Escape door, inwards."
	case job.EscapeBoth:
		says += "Escape door, both ways."
	}
	if !d.EscapeStated {
		says += " (Nobody has said so: the strictest is taken.)"
	}
	if d.FireRated {
		says += " Fire-rated."
	}
	return says
}

// fittedOf lists what is fitted at a door.
func fittedOf(d *job.Door) []field {
	var all []field
	add := func(name string, f *job.Fitted, more string) {
		if f != nil {
			all = append(all, field{name, f.Title + more})
		}
	}
	add("controller", &d.Controller.Fitted, fmt.Sprintf(" (%s, door %d)", d.Controller.ID, max(1, d.Channel)))
	for _, l := range d.Locks {
		add("lock", &l.Fitted, "")
	}
	if d.Entry != nil {
		add("reader, entry", &d.Entry.Fitted, "")
	}
	if d.ExitReader != nil {
		add("reader, exit", &d.ExitReader.Fitted, "")
	}
	for _, e := range d.Exits {
		add("exit device", &e.Fitted, "")
	}
	for _, c := range d.Contacts {
		add("door contact", c, "")
	}
	for _, x := range d.Releases {
		add("manual release", &x.Fitted, "")
	}
	add("fire signal", d.Fire, "")
	add("sounder", d.Sounder, "")
	add("door loop", d.Loop, "")
	all = append(all, field{"supply", suppliesOf(d)})
	var families []string
	for _, f := range d.Families {
		families = append(families, f.ID)
	}
	return append(all, field{"judged under", strings.Join(families, ", ")})
}
