package web

import (
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"

	"doorwright/journal"
	"doorwright/record"
)

// testsView is the list of function tests of a door.
type testsView struct {
	Tabs     workTabsView
	Cautions []string
	Says     string
	Tests    []testRow
	People   []option
	At       string // of the page
}

type testRow struct {
	record.Step
	Done, Class                  string
	Wrong, Result, Witness, Note string // a mistake, and what was typed
}

func (h *handler) tests(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	h.showTests(w, r, at, "")
}

// showTests shows the tests of a door; after a mistake it keeps what was typed.
func (h *handler) showTests(w http.ResponseWriter, r *http.Request, at *atDoor, wrong string) {
	v := testsView{At: at.at + "/do/test", Tabs: at.workTabs("/do/test"), Cautions: []string{
		"See that nobody is shut in, and how to free the door. Tell whoever monitors the fire signal before and after.",
		"Never bridge a release or a fire contact, not for a moment.",
	}}
	for _, p := range h.Journal.State().People {
		if p.Key != h.who(r) {
			v.People = append(v.People, option{p.Key, p.Value.Name})
		}
	}
	passed := 0
	steps := record.StepsOf(at.door)
	for _, s := range steps {
		row := testRow{Step: s}
		if f := r.PostForm; wrong != "" && f.Get("step") == s.ID {
			row.Wrong, row.Result, row.Witness, row.Note = wrong, f.Get("result"), f.Get("witness"), f.Get("note")
		}
		if t := at.shelf.Record.Test(at.door.ID, s.ID); t != nil {
			row.Done, row.Class = testWords(at.shelf.Record, t), "advice"
			switch {
			case t.Counts(s):
				row.Class = "good"
				passed++
			case t.Outcome == "fail":
				row.Class = "error"
			default:
				row.Done += ", not witnessed: it does not count"
			}
		}
		v.Tests = append(v.Tests, row)
	}
	v.Says = fmt.Sprintf("%d of %d done and good.", passed, len(steps))
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, testsPage(h.doorSheet(r, at, "At work"), v))
}

func testWords(rec *record.Record, t *record.Test) string {
	says := t.Outcome + ", " + rec.Name(t.By) + ", " + t.On.String()
	if t.Witness != "" {
		says += ", witnessed by " + rec.Name(t.Witness)
	}
	for _, more := range []string{t.Result, t.Note} {
		if more != "" {
			says += ", " + more
		}
	}
	return says
}

// mostNote bounds a line that somebody writes.
const mostNote = 2000

// tested keeps the outcome of a test.
func (h *handler) tested(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	f := r.PostForm
	t := record.Test{
		Door: at.door.ID, Step: f.Get("step"), Outcome: f.Get("outcome"), Witness: f.Get("witness"),
		Result: strings.TrimSpace(f.Get("result")), Note: strings.TrimSpace(f.Get("note")), Act: h.act(r),
	}
	step, known := record.FindStep(t.Step)
	if !known {
		h.refuse(w, r, http.StatusUnprocessableEntity, "The test was not kept", fmt.Sprintf("There is no test %q.", t.Step))
		return
	}
	_, person := h.Journal.State().People.Get(t.Witness)
	var wrong string
	switch {
	case t.Outcome != "pass" && t.Outcome != "fail" && t.Outcome != "not-applicable":
		wrong = "Say whether it passed, failed, or does not apply."
	case t.Outcome == "not-applicable" && t.Note == "":
		wrong = "Write in the note why it does not apply."
	case t.Witness != "" && (!person || t.Witness == t.By):
		wrong = "The witness is somebody else who is known here."
	case len(t.Result) > mostNote || len(t.Note) > mostNote:
		wrong = "Write less than 2000 letters."
	case t.Outcome == "pass":
		wrong = at.unpassed(step, t.Result)
	}
	if wrong != "" {
		h.showTests(w, r, at, "The test was not kept. "+wrong)
		return
	}
	if h.write(w, r, append(h.stopped(r, at, "/do/test"), journal.Tested{Job: at.shelf.ID, Test: t})...) {
		http.Redirect(w, r, at.at+"/do/test#"+t.Step, http.StatusSeeOther)
	}
}

// stepNamed finds the tests that are named in what must hold before another, such as "T22 passed".
var stepNamed = regexp.MustCompile(`\bT\d\d\b`)

// unpassed says why a test cannot be written down as passed: a test that must be passed before it is not, or what has to be
// written down is missing. Nothing for one that can.
func (at *atDoor) unpassed(s record.Step, result string) string {
	for _, x := range record.StepsOf(at.door) {
		if slices.Contains(stepNamed.FindAllString(s.Before, -1), x.ID) && !at.shelf.Record.Test(at.door.ID, x.ID).Counts(x) {
			return fmt.Sprintf("Before it, this must hold: %s. Make the test %s first.", s.Before, x.ID)
		}
	}
	if result == "" && !strings.HasPrefix(s.Evidence, "pass") { // "passed" by itself says the others
		return "Write the result down: " + s.Evidence + "."
	}
	return ""
}
