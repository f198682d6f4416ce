package web

import (
	"context"
	"net/http"
	"reflect"
	"regexp"
	"slices"
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

// What is wrong is asked before anything else; the list is that of the door, as the command has it. Choosing one enters what the
// list of all that can be seen enters, which counts as a call and is taken back; once something is told the list is folded.
func TestWhatIsWrongIsAskedFirst(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/find"
	page := d.get(at, http.StatusOK)
	forms := regexp.MustCompile(`(?s)<form method="post" action="`+at+`">(.*?)<button name="answer" value="([^"]*)">([^<]*)<`).FindAllStringSubmatch(page, -1)
	said := map[string][]string{}
	for _, f := range forms {
		said[f[3]] = append(hiddenFields(f[1]), "answer", f[2])
	}
	desk := newEngine().on("BTO", d.journal.State().Job("BTO").Document)
	finder, err := find.New(desk.site, "staff", meter.Default())
	if err != nil {
		t.Fatal(err)
	}
	if len(finder.Calls()) < 8 || len(said) != len(finder.Calls()) {
		t.Errorf("%d calls are offered, the door has %d", len(said), len(finder.Calls()))
	}
	for _, c := range finder.Calls() {
		if want := []string{"look", string(c.Seen.What), "in", c.Seen.In.String(), "answer", c.Seen.Is}; !slices.Equal(said[c.Says], want) {
			t.Errorf("%q sends %q, want %q", c.Says, said[c.Says], want)
		}
	}
	if strings.Contains(page, `id="next"`) || strings.Contains(page, "Mended: measure again") {
		t.Error("a reading is asked for, or something suspected, before anything was told")
	}
	d.has(page, "Nothing was told: ask me")
	d.has(d.get(at+"?untold", http.StatusOK), `id="next"`, "<summary>What is wrong, as it was told</summary>")

	d.post(at, http.StatusSeeOther, said["the door does not lock"]...)
	page = d.get(at, http.StatusOK)
	d.has(page, `id="next"`, "<summary>What is wrong, as it was told</summary>", "lock holds: no (powered, nothing operated)")
	if strings.Contains(page, `id="call"`) {
		t.Error("what is wrong is asked again")
	}
	h := d.journal.State().Job("BTO").History
	chosen := h[len(h)-1].Body.(journal.Sighted).What
	line := regexp.MustCompile(`(?s)action="(/j/BTO/entry/[^"]*)".*?</form>`).FindStringSubmatch(page)
	d.post(line[1], http.StatusSeeOther, hiddenFields(line[0])...)
	d.has(d.get(at, http.StatusOK), `id="call"`)
	d.post(at, http.StatusSeeOther, "look", "lock holds; no", "in", "idle")
	h = d.journal.State().Job("BTO").History
	if typed := h[len(h)-1].Body.(journal.Sighted).What; typed != chosen {
		t.Errorf("the list enters %q, the form %q", chosen, typed)
	}
}

// The first thing told is what somebody called for, if it is of the list of calls, or is no answer to the first look; a reading
// never is.
func TestOnlyWhatIsToldUnaskedIsACall(t *testing.T) {
	asked := meter.Observation{What: meter.LockHolds, In: meter.Undisturbed()}
	b := &bench{first: &find.Next{Look: &asked}}
	other := meter.Observation{What: meter.ReaderDark, Is: "yes", In: meter.Undisturbed()}
	answer := asked
	answer.Is = "no"
	if b.called(note{}) || b.called(note{seen: &answer}) || !b.called(note{seen: &other}) {
		t.Error("an answer is taken for a call, or a call for an answer")
	}
	b.calls = []find.Call{{Says: "the door does not lock", Seen: answer}}
	if b.calls[0].Seen.Called = true; !b.called(note{seen: &answer}) {
		t.Error("what was chosen of the list is taken for an answer")
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
