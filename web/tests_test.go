package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// groupOn is the part of a page under the heading of a group.
func groupOn(page, id string) string {
	return regexp.MustCompile(`(?s)<(section|details) id="` + id + `".*?</(section|details)>`).FindString(page)
}

// What is open is never folded away, and what is done is.
func TestOnlyTestsThatAreDoneAreFolded(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/test"
	page := d.get(at, http.StatusOK)
	d.has(groupOn(page, "todo"), `<section id="todo"`, "To do: 32, ", "of them bearing on life", `id="T02"`, `id="T22"`)
	if strings.Contains(page, "<details") || groupOn(page, "good") != "" || groupOn(page, "wrong") != "" {
		t.Error("a door that nobody has tested has tests that are folded, failed or good")
	}
	d.has(page, "Next: T01 ")
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "pass", "result", "right name; 0,6 s")
	d.post(at, http.StatusSeeOther, "step", "T23", "outcome", "fail")
	d.post(at, http.StatusSeeOther, "step", "T02", "outcome", "pass")
	page = d.get(at, http.StatusOK)
	d.has(groupOn(page, "good"), `<details id="good"`, "Done and good: 1", `id="T22"`)
	d.has(groupOn(page, "wrong"), `<section id="wrong"`, "Failed, or does not count: 2", `id="T02"`, "it does not count", `id="T23"`)
	d.has(groupOn(page, "todo"), "To do: 29")
	d.has(page, `href="#good"`, `href="#wrong"`, `href="#todo"`, "1 of 32 done and good")
	d.has(d.get(at+"/one?step=T22", http.StatusOK), "Next: T23 ")
	d.get(at+"/one?step=T99", http.StatusNotFound)
	d.get(at+"/one", http.StatusNotFound)
}

// What must be written down is asked for, what must hold before is held against the record, and what was typed stays.
func TestTestIsNotPassedWithoutItsResult(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/test"
	page := d.post(at, http.StatusUnprocessableEntity, "step", "T22", "outcome", "pass", "note", "by the <riser>", "witness", "kf").Body.String()
	d.has(page, "Write the result down: event; s.", `name="note" value="by the <riser>"`, `<option value="kf" selected>`)
	d.has(d.post(at, http.StatusUnprocessableEntity, "step", "T23", "outcome", "pass", "result", "5 s").Body.String(), "Make the test T22 first", `name="result" value="5 s"`)
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "fail", "result", "2 s")
	d.post(at, http.StatusUnprocessableEntity, "step", "T23", "outcome", "pass", "result", "5 s")
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "pass", "result", "right name; 0,6 s")
	d.post(at, http.StatusSeeOther, "step", "T23", "outcome", "pass", "result", "5 s")
	d.post(at, http.StatusSeeOther, "step", "T21", "outcome", "pass") // "pass" is all that is written down of it
	for step, like := range map[string]string{"T05": "0.8 ohm", "T06": "0.8 ohm", "T07": "200 Mohm"} {
		// measured: words are no figure
		page = d.post(at, http.StatusUnprocessableEntity, "step", step, "outcome", "pass", "result", "all fine").Body.String()
		d.has(page, like, "has no such figure", `name="result" value="all fine"`)
	}
	d.post(at, http.StatusSeeOther, "step", "T07", "outcome", "pass", "result", "over 200 Mohm each")
	d.has(d.get(at, http.StatusOK), "4 of ")
}

// A test that failed with a reason and fails again without one keeps the reason in sight, until it passes.
func TestTheReasonOfAFailedTestStays(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/test"
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "fail", "note", "card table not loaded")
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "fail")
	for _, page := range []string{d.get(at, http.StatusOK), d.get(at+"/one?step=T22", http.StatusOK)} {
		d.has(page, "; before: failed, ", "card table not loaded")
	}
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "fail", "result", "3 s")
	if page := d.get(at, http.StatusOK); strings.Contains(page, "before: failed") {
		t.Error("a reason of its own is followed by the one before")
	}
}

// A witness is added in the form of the test: what was typed stays, they are its witness, and who sits here stays.
func TestWitnessIsAddedBesideTheTest(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/test"
	typed := []string{"step", "T22", "result", "event; 0,6 s", "note", "by the <riser>", "outcome", addSomebody, "name", "Odhran Pell"}
	asked := d.post(at, http.StatusUnprocessableEntity, append(typed, "initials", "o p")...).Body.String()
	d.has(asked, "Nobody was added. Write initials", `value="o p"`, `value="Odhran Pell"`, `value="event; 0,6 s"`, `value="by the <riser>"`, "<details open>")
	d.has(d.post(at, http.StatusUnprocessableEntity, append(typed, "initials", "kf")...).Body.String(), "somebody else's")
	to := d.post(at, http.StatusSeeOther, append(typed, "initials", "op")...).Header().Get("Location")
	d.has(d.get(to, http.StatusOK), `<option value="op" selected>Odhran Pell`, `value="event; 0,6 s"`, `value="by the <riser>"`)
	d.has(d.get(at, http.StatusOK), "To do: 32")
	if log, _ := d.journal.Device(); d.journal.State().Seats[log] != "mw" {
		t.Error("a witness who is added sits here now")
	}
}
