package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"doorwright/find"
	"doorwright/meter"
)

// 165/65211 in place of 90/324 is what two data lines changed over make of it (signal's table of the 26-bit open format).
func TestACardNumberThatWasReadWrongIsEvidence(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/plant/find"
	d.post(at, http.StatusSeeOther, "received", "165/65211", "expected", "90/324")
	d.has(d.get(at, http.StatusOK), "number read was: 165/65211 expected 90/324 (powered, within seconds of showing a valid card)", "165/65211 in place of 90/324:", "D0")
	d.post(at, http.StatusUnprocessableEntity, "received", "x", "expected", "90/324")
	d.post(at, http.StatusUnprocessableEntity, "received", "165/65211", "expected", "")
}

// Where nothing was told yet, that all works is offered before anything else; once something was, what is seen comes first.
func TestThatAllWorksIsOfferedWhereNothingIsCalledFor(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/plant/find"
	first := func() string {
		page := d.get(at, http.StatusOK)
		_, rest, _ := strings.Cut(page, "<optgroup label=\"")
		title, _, _ := strings.Cut(rest, "\"")
		return title
	}
	if got := first(); got != string(meter.Works) {
		t.Errorf("offered first: %q", got)
	}
	d.post(at, http.StatusSeeOther, "look", string(meter.LockHolds)+"; no", "in", meter.Undisturbed().String())
	if got := first(); got != string(meter.LockHolds) {
		t.Errorf("offered first after a complaint: %q", got)
	}
}

// The first thing told is what somebody called for, unless it answers the first look or is a reading.
func TestOnlyWhatIsToldUnaskedIsACall(t *testing.T) {
	asked := meter.Observation{What: meter.LockHolds, In: meter.Undisturbed()}
	b := &bench{first: &find.Next{Look: &asked}}
	other := meter.Observation{What: meter.ReaderDark, Is: "yes", In: meter.Undisturbed()}
	answer := asked
	answer.Is = "no"
	if b.called(note{}) || b.called(note{seen: &answer}) || !b.called(note{seen: &other}) {
		t.Error("an answer is taken for a call, or a call for an answer")
	}
}

// The benches of the doors searched last are kept, and no more than so many.
func TestDoorsReadyToBeSearchedAreBounded(t *testing.T) {
	d := &desk{}
	first := d.benchFor("D0")
	for i := range mostBenches {
		d.benchFor("D" + string(rune('1'+i)))
		if i < mostBenches-1 && d.benchFor("D0") != first {
			t.Fatal("a door that is used all the time is forgotten")
		}
	}
	if len(d.benches) != mostBenches {
		t.Errorf("%d are kept", len(d.benches))
	}
	if d.benchFor("D1") == nil || d.benchFor("D0") != first {
		t.Error("the door used last but one is forgotten")
	}
}

// What was read wrongly is taken back beside its line, with a reason, and the record still tells of it.
func TestWhatWasToldIsTakenBack(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/find"
	d.post(at, http.StatusSeeOther, "look", "lock holds; no", "in", "idle")
	d.post(at, http.StatusSeeOther, "look", "lock holds; yes", "in", "idle")
	page := d.get(at, http.StatusOK)
	told := page[strings.Index(page, "Read and seen so far"):]
	line := regexp.MustCompile(`(?s)action="(/j/BTO/entry/[^"]*)".*?</form>`).FindStringSubmatch(told)
	if line == nil || !strings.Contains(line[0], "lock holds: no (") {
		t.Fatalf("no way back beside the line: %q", told)
	}
	if to := d.post(line[1], http.StatusSeeOther, hiddenFields(line[0])...).Header().Get("Location"); to != at {
		t.Errorf("sent to %q", to)
	}
	page = d.get(at, http.StatusOK)
	d.has(page, "lock holds: yes (")
	if strings.Contains(page, "lock holds: no (") {
		t.Error("what was taken back still counts")
	}
	d.has(d.get("/j/BTO/record", http.StatusOK), "withdrawn by Mara Wren", takenBack)
}
