package web

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/record"
	"doorwright/wiring"
)

// desktop is a person at the pages, over a journal in memory.
type desktop struct {
	t       testing.TB
	journal *journal.Journal
	pages   http.Handler
}

func newDesktop(t testing.TB) *desktop {
	t.Helper()
	j, err := journal.Open(context.Background(), journal.NewMemory(), time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	today := func() record.Date { return record.Date{Year: 2026, Month: 10, Day: 12, Timed: true, Hour: 9} }
	return &desktop{t, j, New(Options{Journal: j, Now: today, Background: t.Context()})}
}

// withDemo has the demo job and two people; the first sits here.
func withDemo(t testing.TB) *desktop {
	t.Helper()
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Kari Fenn", "initials", "kf")
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(demo.Brackwater)}); err != nil {
		t.Fatal(err)
	}
	return d
}

func (d *desktop) get(at string, code int) string {
	d.t.Helper()
	return d.answer(httptest.NewRequest(http.MethodGet, at, nil), code).Body.String()
}

func (d *desktop) post(at string, code int, fields ...string) *httptest.ResponseRecorder {
	d.t.Helper()
	v := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		v.Add(fields[i], fields[i+1])
	}
	r := httptest.NewRequest(http.MethodPost, at, strings.NewReader(v.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return d.answer(r, code)
}

func (d *desktop) answer(r *http.Request, code int) *httptest.ResponseRecorder {
	d.t.Helper()
	w := httptest.NewRecorder()
	d.pages.ServeHTTP(w, r)
	if w.Code != code {
		body, _ := io.ReadAll(w.Body)
		d.t.Fatalf("%s %s: %d, not %d\n%s", r.Method, r.URL, w.Code, code, body)
	}
	return w
}

func (d *desktop) has(page string, texts ...string) {
	d.t.Helper()
	page = html.UnescapeString(page)
	for _, text := range texts {
		if !strings.Contains(page, text) {
			d.t.Errorf("the page does not say %q", text)
		}
	}
}

// links are the addresses of a page that contain a text.
func links(page, with string) []string {
	var all []string
	for _, m := range regexp.MustCompile(`href="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		if at := html.UnescapeString(m[1]); strings.Contains(at, with) {
			all = append(all, at)
		}
	}
	return all
}

func TestNothingIsWrittenByNobody(t *testing.T) {
	d := newDesktop(t)
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(demo.Brackwater)}); err != nil {
		t.Fatal(err)
	}
	d.has(d.get("/j/BTO", http.StatusOK), "Say who you are")
	asked := d.post("/j/BTO/d/staff/do/test", http.StatusUnprocessableEntity, "step", "T35", "outcome", "fail", "result", "no & never\r\n100 %").Body.String()
	d.has(asked, "Nothing was written yet", "That is me")
	if n := d.journal.State().Entries; n != 1 {
		t.Fatalf("%d entries", n)
	}

	// What waited is kept as soon as somebody says who they are, even at the second attempt.
	waits := hiddenFields(asked)
	asked = d.post("/people", http.StatusUnprocessableEntity, append(waits, "name", "Mara Wren", "initials", "m w")...).Body.String()
	w := d.post("/people", http.StatusSeeOther, append(hiddenFields(asked), "name", "Mara Wren", "initials", "mw")...)
	if to := w.Header().Get("Location"); !strings.HasPrefix(to, "/j/BTO/d/staff/do/test") {
		t.Errorf("sent to %q", to)
	}
	h := d.journal.State().Job("BTO").History
	x, ok := h[len(h)-1].Body.(journal.Tested)
	if !ok || x.Step != "T35" || x.By != "mw" || !strings.Contains(x.Result, "no & never") || !strings.Contains(x.Result, "100 %") {
		t.Errorf("what waited is kept as %+v", h[len(h)-1].Body)
	}
}

// A page of ours and nothing else is where a form that waited goes.
func TestWhatWaitsGoesNowhereElse(t *testing.T) {
	for _, to := range []string{"https://evil.example/", "//evil.example/", "/\\evil.example", "", "/nowhere"} {
		d := newDesktop(t)
		w := d.post("/people", http.StatusNotFound, "name", "Mara Wren", "initials", "mw", "to", to, "again", "a=b")
		if at := w.Header().Get("Location"); at != "" {
			t.Errorf("%q leads to %q", to, at)
		}
	}
}

// Whoever joined from elsewhere writes in that name, and cannot change who sits at the machine.
func TestDeviceFromElsewhereKeepsItsName(t *testing.T) {
	d := withDemo(t)
	d.pages = New(Options{Journal: d.journal, Now: func() record.Date { return record.Date{Year: 2026, Month: 10, Day: 12} }, Who: func(*http.Request) string { return "kf" }})
	d.post("/people/seat", http.StatusForbidden, "initials", "kf")
	d.post("/people", http.StatusSeeOther, "name", "Odhran Pell", "initials", "op")
	d.post("/j/BTO/d/staff/survey", http.StatusSeeOther, "keep", "seen", "seen", "rust")
	st := d.journal.State()
	log, _ := d.journal.Device()
	h := st.Job("BTO").History
	if st.Seats[log] != "mw" || h[len(h)-1].Who != "kf" {
		t.Errorf("%s sits here, %s has written", st.Seats[log], h[len(h)-1].Who)
	}
}

func TestJobIsLookedAtBeforeItIsKept(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	send := func(text string, code int) string {
		var b bytes.Buffer
		b.WriteString("--x\r\nContent-Disposition: form-data; name=\"text\"\r\n\r\n" + text + "\r\n--x--\r\n")
		r := httptest.NewRequest(http.MethodPost, "/bring", &b)
		r.Header.Set("Content-Type", "multipart/form-data; boundary=x")
		return d.answer(r, code).Body.String()
	}
	d.has(send(string(demo.Brackwater), http.StatusOK), "a new job here", "Visitor entrance", "Keep it")
	d.has(send("job: BTO\ndoors: 7", http.StatusUnprocessableEntity), "doors", "job: BTO\ndoors: 7</textarea>")
	d.has(send("job: [", http.StatusUnprocessableEntity), "Look at it")
	if n := d.journal.State().Entries; n != 2 {
		t.Fatalf("looking has written: %d entries", n)
	}
	d.post("/bring/keep", http.StatusSeeOther, "name", "b.yaml", "text", strings.ReplaceAll(string(demo.Brackwater), "\n", "\r\n"))
	if got := d.journal.State().Job("BTO").Document; !bytes.Equal(got, demo.Brackwater) {
		t.Error("the document is not kept as it was sent")
	}
	d.has(send(strings.Replace(string(demo.Brackwater), "title: Staff door", "title: Side door", 1), http.StatusOK), "1 field would change", "doors.staff.title", "Side door")
}

func TestEveryPageOfTheDemoIsShown(t *testing.T) {
	d := withDemo(t)
	seen := map[string]bool{}
	queue := []string{"/"}
	for len(queue) > 0 && len(seen) < 400 {
		at, _, _ := strings.Cut(queue[0], "#")
		queue = queue[1:]
		path, _, query := strings.Cut(at, "?")
		if testing.Short() && strings.Contains(path, "/d/") && !strings.Contains(path, "/d/staff") {
			continue // one door is walked through
		}
		if seen[path] || path == "/devices" || strings.HasPrefix(path, "/static/") || query && strings.Contains(path, "/try") {
			continue
		}
		seen[path] = true
		r := httptest.NewRequest(http.MethodGet, at, nil)
		w := httptest.NewRecorder()
		d.pages.ServeHTTP(w, r)
		if w.Code >= 400 {
			t.Errorf("%s: %d", at, w.Code)
		}
		if to := w.Header().Get("Location"); to != "" {
			queue = append(queue, to)
		}
		queue = append(queue, links(w.Body.String(), "/")...)
	}
	if len(seen) < 20 {
		t.Errorf("only %d pages", len(seen))
	}
}

func TestTickIsKeptAndTakenBack(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/d/staff/do/land", http.StatusOK)
	d.has(page, "0 of ", "☐")
	core := regexp.MustCompile(`name="core" value="(W2/1)"`).FindStringSubmatch(page)
	end := regexp.MustCompile(`name="core" value="W2/1">\s*<input type="hidden" name="end" value="([^"]*)"`).FindStringSubmatch(page)
	if core == nil || end == nil {
		t.Fatal("the core W2/1 is not there")
	}
	d.post("/j/BTO/d/staff/do/land", http.StatusSeeOther, "core", core[1], "end", end[1])
	d.has(d.get("/j/BTO/d/staff/do/land", http.StatusOK), "1 of ", "☑", "landed by Mara Wren, 2026-10-12 09:00")
	if to := d.answer(httptest.NewRequest(http.MethodGet, "/j/BTO/d/staff/do", nil), http.StatusSeeOther).Header().Get("Location"); to != "/j/BTO/d/staff/do/land" {
		t.Errorf("it goes on at %s", to)
	}
	d.post("/j/BTO/d/staff/do/land", http.StatusSeeOther, "core", core[1], "end", end[1], "off", "yes")
	d.has(d.get("/j/BTO/d/staff/do/land", http.StatusOK), "0 of ")
	d.post("/j/BTO/d/staff/do/land", http.StatusConflict, "core", "W99/1", "end", end[1])
}

// unitHeads are the heads of the units of a page of landings, in their order: the unit, whether it is unfolded, its count.
func unitHeads(page string) [][]string {
	var all [][]string
	for _, m := range regexp.MustCompile(`(?s)<details id="d-([^"]*)" class="group unit[^"]*"( open)?>.*?<b class="figure[^"]*">([^<]*)</b>`).FindAllStringSubmatch(page, -1) {
		all = append(all, []string{m[1], strings.TrimSpace(m[2]), m[3]})
	}
	return all
}

// The page of landings begins with the unit that has something open, and folds the others. While somebody works at one it stays
// unfolded and in its place; once it is done it stands last, and the next is unfolded.
func TestCoresAreLandedUnitByUnit(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/do/land"
	plan := newEngine().on("BTO", d.journal.State().Job("BTO").Document)
	all := plan.landingsOf("staff")
	tick := func(l wiring.Landing, more ...string) string {
		return d.post(at, http.StatusSeeOther, append(more, "core", l.Conductor.ID, "end", wiring.End{Device: l.Device, Pin: l.Terminal.Pin}.String())...).Header().Get("Location")
	}
	onlyOpen := func(page, unit, count string) {
		t.Helper()
		for _, h := range unitHeads(page) {
			if (h[1] == "open") != (h[0] == unit) || h[0] == unit && h[2] != count {
				t.Errorf("%q; only %s is to be unfolded, with %s", h, unit, count)
			}
		}
	}
	of := map[string][]wiring.Landing{}
	for _, l := range all {
		of[l.Device.ID] = append(of[l.Device.ID], l)
	}
	first := all[0].Device.ID
	page := d.get(at, http.StatusOK)
	heads := unitHeads(page)
	if len(heads) != len(of) || len(heads) < 5 || heads[0][0] != first {
		t.Fatalf("the units are %q", heads)
	}
	onlyOpen(page, first, fmt.Sprintf("0 of %d", len(of[first])))

	exit := of["staff.exit1"]
	to, anchor, _ := strings.Cut(tick(exit[0]), "#")
	page = d.get(to, http.StatusOK)
	onlyOpen(page, "staff.exit1", fmt.Sprintf("1 of %d", len(exit)))
	d.has(page, `id="`+anchor+`" class="ticked"`)
	if !slices.EqualFunc(heads, unitHeads(page), func(a, b []string) bool { return a[0] == b[0] }) {
		t.Error("the units have changed places while one is worked at")
	}
	for _, l := range exit[1:] {
		to, anchor, _ = strings.Cut(tick(l), "#")
	}
	page = d.get(to, http.StatusOK)
	next := heads[1+slices.IndexFunc(heads, func(h []string) bool { return h[0] == "staff.exit1" })][0]
	onlyOpen(page, next, fmt.Sprintf("0 of %d", len(of[next])))
	now := unitHeads(page)
	if done := now[len(now)-1]; done[0] != "staff.exit1" || done[2] != fmt.Sprintf("%d of %[1]d", len(exit)) {
		t.Errorf("last stands %q", done)
	}
	if summary := regexp.MustCompile(`<summary id="([^"]*)" data-told>`).FindStringSubmatch(page); summary == nil || summary[1] != anchor {
		t.Errorf("it goes on at %q, the unfolded head is %q", anchor, summary)
	}
	to, _, _ = strings.Cut(tick(exit[0], "off", "yes"), "#")
	onlyOpen(d.get(to, http.StatusOK), "staff.exit1", fmt.Sprintf("%d of %d", len(exit)-1, len(exit)))
	tick(exit[0])

	for _, l := range all {
		if l.Device.ID != "staff.exit1" {
			tick(l)
		}
	}
	page = d.get(at, http.StatusOK)
	d.has(page, fmt.Sprintf("%d of %[1]d ends landed and tugged.", len(all)))
	onlyOpen(page, "none", "")
}

func TestWrongReadingLeadsToTheFault(t *testing.T) {
	d := withDemo(t)
	all := links(d.get("/j/BTO/d/staff/do/read", http.StatusOK), "/read/one?")
	if len(all) < 5 {
		t.Fatalf("only %d readings", len(all))
	}
	at := ""
	for _, l := range all {
		if strings.Contains(l, "of=volts") {
			at = l
			break
		}
	}
	d.has(d.post(at, http.StatusUnprocessableEntity, "value", "twelve", "unit", "V").Body.String(), `"twelve" is no figure`, `name="value" value="twelve"`)
	d.has(d.post(at, http.StatusUnprocessableEntity, "value", "1e300", "unit", "V").Body.String(), "the most that is taken is 1500 V", `name="value" value="1e300"`)
	d.post(at, http.StatusUnprocessableEntity, "value", "12", "unit", "ohm")
	d.post(at, http.StatusSeeOther, "value", "0,02", "unit", "V")
	d.has(d.get(at, http.StatusOK), "20 mV is not as it should be", "Find what is wrong")
	page := d.get("/j/BTO/d/staff/find", http.StatusOK)
	d.has(page, ": 20 mV", "Mended: measure again", "Read and seen so far")
	d.post("/j/BTO/d/staff/find", http.StatusSeeOther, "look", "lock holds; no", "in", "idle")
	d.has(d.get("/j/BTO/d/staff/find", http.StatusOK), "lock holds: no (powered, nothing operated)")
	id := regexp.MustCompile(`name="mended" value="([^"]*)"`).FindStringSubmatch(page)
	d.post("/j/BTO/d/staff/find", http.StatusSeeOther, "mended", html.UnescapeString(id[1]))
	if page := d.get("/j/BTO/d/staff/find", http.StatusOK); strings.Contains(page, "lock holds: no (powered, nothing operated)") {
		t.Error("what was seen before the repair still counts")
	}
}

func TestTestThatBearsOnLifeCountsOnlyWitnessed(t *testing.T) {
	d := withDemo(t)
	step := ""
	for _, s := range record.Steps() {
		if s.Life {
			step = s.ID
			if strings.Contains(d.get("/j/BTO/d/visitor/do/test", http.StatusOK), `id="`+step+`"`) {
				break
			}
		}
	}
	at := "/j/BTO/d/visitor/do/test"
	d.post(at, http.StatusSeeOther, "step", step, "outcome", "pass", "result", "as asked")
	d.has(d.get(at, http.StatusOK), "0 of ", "not witnessed: it does not count")
	d.post(at, http.StatusUnprocessableEntity, "step", step, "outcome", "pass", "witness", "mw")
	d.post(at, http.StatusUnprocessableEntity, "step", step, "outcome", "perhaps")
	d.post(at, http.StatusUnprocessableEntity, "step", step, "outcome", "not-applicable")
	d.post(at, http.StatusSeeOther, "step", step, "outcome", "pass", "witness", "kf", "result", "as asked")
	d.has(d.get(at, http.StatusOK), "1 of ", "witnessed by Kari Fenn")
}

func TestTryOutCutsACore(t *testing.T) {
	d := withDemo(t)
	d.has(d.get("/j/BTO/d/visitor/try", http.StatusOK), "The door is held")
	page := d.get("/j/BTO/d/visitor/try?wrong=cut+W9%2F1&pick=W9%2F1", http.StatusOK)
	d.has(page, "The door is released", "is cut", "Mend this core", "cutwire", "follows from what is altered in the wiring", "Make One-door controller C1 hang (it stops working)")
	if strings.Contains(page, "as it was left") || strings.Contains(page, "Hang ") {
		t.Error("a door with a core cut stands as it was left, or a controller is hung up")
	}
	d.has(d.get("/j/BTO/d/visitor/try?do=on+C1+hung", http.StatusOK), "<b>Make One-door controller C1 hang")
	d.has(d.get("/j/BTO/d/visitor/try?do=nonsense", http.StatusUnprocessableEntity), "this cannot be played", "Begin again")
	d.has(d.get("/j/BTO/d/visitor/try?heat=hot", http.StatusUnprocessableEntity), "degrees Celsius")
	d.has(d.get("/j/BTO/d/visitor/try?do=off+PS1+mains&cell=1.9", http.StatusOK), "from the battery")
}

func TestFilesAreWhatTheySay(t *testing.T) {
	d := withDemo(t)
	for _, f := range []struct{ at, begins, kind string }{
		{"/j/BTO/paper?what=door-visitor&size=A4", "%PDF-", "application/pdf"},
		{"/j/BTO/paper?what=handover&size=Letter&owner=Brackwater", "%PDF-", "application/pdf"},
		{"/j/BTO/paper?what=labels-12", "%PDF-", "application/pdf"},
		{"/j/BTO/schedules.xlsx", "PK", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"},
		{"/j/BTO/schedules/cables.csv", "run,cable", "text/csv; charset=utf-8"},
		{"/j/BTO/pack", "PK", "application/zip"},
	} {
		w := d.answer(httptest.NewRequest(http.MethodGet, f.at, nil), http.StatusOK)
		if !strings.HasPrefix(w.Body.String(), f.begins) || w.Header().Get("Content-Type") != f.kind || !strings.Contains(w.Header().Get("Content-Disposition"), "BTO") {
			t.Errorf("%s: %q, %v", f.at, w.Body.String()[:20], w.Header())
		}
	}
	d.get("/j/BTO/paper?what=nothing", http.StatusNotFound)
	d.get("/j/BTO/schedules/nothing.csv", http.StatusNotFound)
	pack, err := journal.OpenPack(context.Background(), d.answer(httptest.NewRequest(http.MethodGet, "/j/BTO/pack", nil), http.StatusOK).Body.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if r, err := journal.Verify(context.Background(), pack); err != nil || len(r.Wrong) > 0 || len(r.Heads) != 1 {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestFaultsAreTriedInTheBackground(t *testing.T) {
	d := withDemo(t)
	for {
		page := d.get("/j/BTO/faults?door=tanks", http.StatusOK)
		if strings.Contains(page, "is tried at 8 of 8 doors") {
			d.has(page, "revision A", "what was done from the unsecured side", "60 attempts from outside let the door go, 60 of them accepted: the manual release",
				"of these accepted", "What was not tried", `<section id="at-0" aria-label="Break a requirement"`, "From outside, let the door go and are accepted: 60")
			for _, group := range []string{"Noticed never: nothing shows them", "Noticed at once", "From outside, let the door go and are accepted"} {
				if !regexp.MustCompile(`<details id="at-\d" class="group"><summary><h2>` + group).MatchString(page) {
					t.Errorf("%q is not folded away", group)
				}
			}
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
}
