package web

import (
	"context"
	"net/http"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"

	"doorwright/find"
	"doorwright/journal"
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

// What to ask first at a door, and next, is worked out once: it is used again after the door was forgotten, and after a
// change elsewhere; not after one of the door itself.
func TestFirstQuestionsAreKept(t *testing.T) {
	d := withDemo(t)
	e := newEngine()
	at := func() *atDoor {
		j := d.journal.State().Job("BTO")
		job := &atJob{shelf{Job: j}, e.on("BTO", j.Document), "/j/BTO", &faultRuns{}}
		return &atDoor{job, job.desk.door("staff"), "/j/BTO/d/staff"}
	}
	bench := func() *bench {
		b, err := at().benchOf()
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	b := bench()
	unaided := *b.first
	b.mu.Unlock()
	for e.openings.of("BTO", "staff") == nil {
		time.Sleep(20 * time.Millisecond)
	}
	kept := e.openings.of("BTO", "staff")
	edit := func(door string) {
		if _, err := d.journal.Write(context.Background(), "mw", journal.Edited{Job: "BTO", Object: "doors/" + door, Field: "cable-length", Value: "19 m"}); err != nil {
			t.Fatal(err)
		}
	}
	edit("gauge") // it shares no copper with the staff door
	b = bench()
	if !b.finder.Begin(kept) {
		t.Error("what was worked out does not serve after a change elsewhere")
	}
	if b.first.Why != unaided.Why || !reflect.DeepEqual(b.first.Look, unaided.Look) || !reflect.DeepEqual(b.first.Pair, unaided.Pair) {
		t.Errorf("asked first %+v, without what was kept %+v", b.first, unaided)
	}
	b.mu.Unlock()
	edit("staff")
	b = bench()
	defer b.mu.Unlock()
	if b.finder.Begin(kept) {
		t.Error("what was worked out for another plan of the door is used")
	}
}
