package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// testOf is the part of the page of tests about one of them.
func testOf(page, id string) string {
	return regexp.MustCompile(`(?s)<section class="test[^"]*" id="` + id + `".*?</section>`).FindString(page)
}

// What must be written down is asked for, what must hold before is held against the record, and what was typed stays.
func TestTestIsNotPassedWithoutItsResult(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/test"
	page := d.post(at, http.StatusUnprocessableEntity, "step", "T22", "outcome", "pass", "note", "by the <riser>", "witness", "kf").Body.String()
	d.has(testOf(page, "T22"), "Write the result down: event; s.", `name="note" value="by the <riser>"`, `<option value="kf" selected>`)
	if strings.Contains(testOf(page, "T23"), "Write the result down") {
		t.Error("the mistake stands beside another test")
	}
	d.has(d.post(at, http.StatusUnprocessableEntity, "step", "T23", "outcome", "pass", "result", "5 s").Body.String(), "Make the test T22 first", `name="result" value="5 s"`)
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "fail", "result", "2 s")
	d.post(at, http.StatusUnprocessableEntity, "step", "T23", "outcome", "pass", "result", "5 s")
	d.post(at, http.StatusSeeOther, "step", "T22", "outcome", "pass", "result", "right name; 0,6 s")
	d.post(at, http.StatusSeeOther, "step", "T23", "outcome", "pass", "result", "5 s")
	d.post(at, http.StatusSeeOther, "step", "T21", "outcome", "pass") // "pass" is all that is written down of it
	d.has(d.get(at, http.StatusOK), "3 of ")
}

// A witness is added beside the tests, and who sits here stays.
func TestWitnessIsAddedBesideTheTests(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/test"
	page := d.get(at, http.StatusOK)
	form := page[strings.Index(page, `id="of-somebody"`):]
	asked := d.post("/people", http.StatusUnprocessableEntity, append(hiddenFields(form), "name", "Odhran Pell", "initials", "o p")...).Body.String()
	if strings.Contains(asked, "Nothing was written yet") {
		t.Error("a witness is asked who sits here")
	}
	again := asked[strings.Index(asked, "Somebody new"):]
	if to := d.post("/people", http.StatusSeeOther, append(hiddenFields(again), "name", "Odhran Pell", "initials", "op")...).Header().Get("Location"); to != at {
		t.Errorf("sent to %q", to)
	}
	d.has(testOf(d.get(at, http.StatusOK), "T22"), `<option value="op">Odhran Pell`)
	if log, _ := d.journal.Device(); d.journal.State().Seats[log] != "mw" {
		t.Error("a witness who is added sits here now")
	}
}
