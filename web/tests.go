package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"doorwright/journal"
	"doorwright/record"
)

// testsView is the list of function tests of a door.
type testsView struct {
	Tabs          workTabsView
	Cautions      []string
	Says          string
	Next, NextURL string // the first that is open; empty when none is
	Groups        []testGroup
}

type testGroup struct {
	group
	Tests []testRow
}

type testRow struct {
	record.Step
	URL, Done, Class string
}

// counts says that nothing is open about a test.
func (t testRow) counts() bool { return t.Class == "good" }

const bearsOnLife = "bears on life: at every door, and witnessed"

func testCautions() []string {
	return []string{
		"See that nobody is shut in, and how to free the door. Tell whoever monitors the fire signal before and after.",
		"Never bridge a release or a fire contact, not for a moment.",
	}
}

// testRows are the tests that the door calls for, in the order of the work, each with what is recorded of it.
func (at *atDoor) testRows() []testRow {
	var all []testRow
	for _, s := range record.StepsOf(at.door) {
		row := testRow{Step: s, URL: at.testURL(s.ID)}
		if t := at.shelf.Record.Test(at.door.ID, s.ID); t != nil {
			row.Done, row.Class = testWords(at.shelf.Record, t), "advice"
			switch {
			case t.Counts(s):
				row.Class = "good"
			case t.Outcome == "fail":
				row.Class = "error"
			default:
				row.Done += ", not witnessed: it does not count"
			}
		}
		all = append(all, row)
	}
	return all
}

func (at *atDoor) testURL(step string) string {
	return at.at + "/do/test/one?" + url.Values{"step": {step}}.Encode()
}

// nextTest is the test to be made after some place of the list: the first after it that is open, else the first of all.
func nextTest(all []testRow, after int) (says, url string) {
	for i := range all {
		if t := all[(after+1+i)%len(all)]; !t.counts() {
			return "Next: " + t.ID + " " + t.Do, t.URL
		}
	}
	return "", ""
}

func (h *handler) tests(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	all := at.testRows()
	wrong := testGroup{group: group{ID: "wrong", Title: "Failed, or does not count", Open: true}}
	todo := testGroup{group: group{ID: "todo", Title: "To do", Open: true}}
	good := testGroup{group: group{ID: "good", Title: "Done and good"}}
	for _, t := range all {
		switch {
		case t.counts():
			good.Tests = append(good.Tests, t)
		case t.Done != "":
			wrong.Tests = append(wrong.Tests, t)
		default:
			todo.Tests = append(todo.Tests, t)
		}
	}
	v := testsView{Tabs: at.workTabs("/do/test"), Cautions: testCautions(), Says: fmt.Sprintf("%d of %d done and good.", len(good.Tests), len(all))}
	v.Next, v.NextURL = nextTest(all, -1)
	for _, g := range []testGroup{wrong, todo, good} {
		if g.Count = testCount(g.Tests, g.Open); g.Count != "" {
			v.Groups = append(v.Groups, g)
		}
	}
	h.show(w, r, testsPage(h.doorSheet(r, at, "At work"), v))
}

// testCount says how many tests there are, and how many of those that are open bear on life; nothing for none.
func testCount(all []testRow, open bool) string {
	life := 0
	for _, t := range all {
		if t.Life {
			life++
		}
	}
	switch {
	case len(all) == 0:
		return ""
	case open && life > 0:
		return fmt.Sprintf("%d, %d of them bearing on life", len(all), life)
	}
	return fmt.Sprint(len(all))
}

// testView is one function test of a door, with what was typed.
type testView struct {
	Stale                 string
	Cautions              []string
	Test                  testRow
	Wrong                 string
	Result, Witness, Note string
	Somebody              journal.Named // who is not yet in the list
	People                []option
	Action, BackURL       string
	Next, NextURL         string
}

// addSomebody is the outcome of a form that only adds a witness to the list of people.
const addSomebody = "somebody"

func (h *handler) test(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.doorOf(w, r); ok {
		q := r.URL.Query()
		h.showTest(w, r, at, q.Get("step"), q, "")
	}
}

// showTest shows a test of a door with what was typed, and after a mistake what it is.
func (h *handler) showTest(w http.ResponseWriter, r *http.Request, at *atDoor, step string, typed url.Values, wrong string) {
	all := at.testRows()
	here := slices.IndexFunc(all, func(t testRow) bool { return t.ID == step })
	if here < 0 {
		h.refuse(w, r, http.StatusNotFound, "There is no such test", fmt.Sprintf("What is fitted at the door calls for no test %q: begin again at the list.", step))
		return
	}
	v := testView{
		Stale: at.staleWords(), Cautions: testCautions(), Test: all[here], Action: at.at + "/do/test", BackURL: at.at + "/do/test#" + step,
		Wrong: wrong, Result: typed.Get("result"), Witness: typed.Get("witness"), Note: typed.Get("note"), Somebody: namedIn(typed),
	}
	v.Next, v.NextURL = nextTest(all, here)
	if v.NextURL == v.Test.URL {
		v.Next, v.NextURL = "", ""
	}
	for _, p := range h.Journal.State().People {
		if p.Key != h.who(r) {
			v.People = append(v.People, option{p.Key, p.Value.Name})
		}
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, testPage(h.leafSheet(r, at, v.Test.ID, "/do/test"), v))
}

// testWords says what is recorded of a test, with the reason that was given before where it failed again without one.
func testWords(rec *record.Record, t *record.Test) string {
	says := entryWords(rec, t)
	if before := rec.Reason(t.Door, t.Step); before != nil {
		says += "; before: " + entryWords(rec, before)
	}
	return says
}

func entryWords(rec *record.Record, t *record.Test) string {
	says := t.Said() + ", " + rec.Name(t.By) + ", " + t.On.String()
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

// tested keeps the outcome of a test, or a witness who is not yet in the list.
func (h *handler) tested(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	f := r.PostForm
	if f.Get("outcome") == addSomebody {
		h.addWitness(w, r, at)
		return
	}
	t := record.Test{
		Door: at.door.ID, Step: f.Get("step"), Outcome: f.Get("outcome"), Witness: f.Get("witness"),
		Result: strings.TrimSpace(f.Get("result")), Note: strings.TrimSpace(f.Get("note")), Act: h.act(r),
	}
	step, known := record.FindStep(t.Step)
	if !known {
		h.refuse(w, r, http.StatusUnprocessableEntity, "The test was not kept", fmt.Sprintf("There is no test %q.", t.Step))
		return
	}
	if wrong := cmp.Or(h.ungiven(t), at.unpassed(step, t)); wrong != "" {
		h.showTest(w, r, at, t.Step, f, "The test was not kept. "+wrong)
		return
	}
	if h.write(w, r, append(h.stopped(r, at, "/do/test"), journal.Tested{Job: at.shelf.ID, Test: t})...) {
		http.Redirect(w, r, at.testURL(t.Step), http.StatusSeeOther)
	}
}

// addWitness adds somebody to the list of people and has them as the witness of the test, which is yet to be sent.
func (h *handler) addWitness(w http.ResponseWriter, r *http.Request, at *atDoor) {
	f := r.PostForm
	named := namedIn(f)
	if wrong := h.unnamed(named); wrong != "" {
		h.showTest(w, r, at, f.Get("step"), f, "Nobody was added. "+wrong)
		return
	}
	if h.write(w, r, named) {
		q := url.Values{"step": f["step"], "result": f["result"], "note": f["note"], "witness": {named.Initials}}
		http.Redirect(w, r, at.at+"/do/test/one?"+q.Encode(), http.StatusSeeOther)
	}
}

// ungiven says what is wrong or missing in the outcome of any test; nothing when it can be kept.
func (h *handler) ungiven(t record.Test) string {
	_, person := h.Journal.State().People.Get(t.Witness)
	switch {
	case t.Outcome != "pass" && t.Outcome != "fail" && t.Outcome != "not-applicable":
		return "Say whether it passed, failed, or does not apply."
	case t.Outcome == "not-applicable" && t.Note == "":
		return "Write in the note why it does not apply."
	case t.Witness != "" && (!person || t.Witness == t.By):
		return "The witness is somebody else who is known here."
	case len(t.Result) > mostNote || len(t.Note) > mostNote:
		return "Write less than 2000 letters."
	}
	return ""
}

// stepNamed finds the tests that are named in what must hold before another, such as "T22 passed".
var stepNamed = regexp.MustCompile(`\bT\d\d\b`)

// unpassed says why a test cannot be written down as passed: a test that must be passed before it is not, or what has to be
// written down is missing. Nothing for one that can.
func (at *atDoor) unpassed(s record.Step, t record.Test) string {
	if t.Outcome != "pass" {
		return ""
	}
	for _, x := range record.StepsOf(at.door) {
		if slices.Contains(stepNamed.FindAllString(s.Before, -1), x.ID) && !at.shelf.Record.Test(at.door.ID, x.ID).Counts(x) {
			return fmt.Sprintf("Before it, this must hold: %s. Make the test %s first.", s.Before, x.ID)
		}
	}
	if t.Result == "" && !strings.HasPrefix(s.Evidence, "pass") { // "passed" by itself says the others
		return "Write the result down: " + s.Evidence + "."
	}
	if like := s.Lacks(t.Result); like != "" {
		return fmt.Sprintf("Write down what was measured, with its unit (%s). %q has no such figure; write it like %s.", s.Evidence, t.Result, like)
	}
	return ""
}
