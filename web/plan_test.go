package web

import (
	"bytes"
	"context"
	"html"
	"image"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"time"

	"doorwright/demo"
	"doorwright/journal"
)

// hiddenFields are the hidden fields of a page, name and value by turns.
func hiddenFields(page string) []string {
	var all []string
	for _, m := range regexp.MustCompile(`<input type="hidden" name="([^"]*)" value="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		all = append(all, html.UnescapeString(m[1]), html.UnescapeString(m[2]))
	}
	return all
}

// filledForm are the fields of the form of a door as the page shows them.
func filledForm(page string) []string {
	form := page[strings.Index(page, `class="plan"`):]
	form = form[:strings.Index(form, "</form>")]
	all := hiddenFields(form)
	all = all[:min(2, len(all))] // the mark of the document, if it changes one
	for _, m := range regexp.MustCompile(`<input name="([^"]*)" value="([^"]*)"`).FindAllStringSubmatch(form, -1) {
		all = append(all, html.UnescapeString(m[1]), html.UnescapeString(m[2]))
	}
	for _, m := range regexp.MustCompile(`(?s)<select name="([^"]*)">(.*?)</select>`).FindAllStringSubmatch(form, -1) {
		value := ""
		if s := regexp.MustCompile(`<option value="([^"]*)" selected`).FindStringSubmatch(m[2]); s != nil {
			value = s[1]
		}
		all = append(all, m[1], value)
	}
	for _, m := range regexp.MustCompile(`<input type="radio" name="([^"]*)" value="([^"]*)" checked`).FindAllStringSubmatch(form, -1) {
		all = append(all, m[1], m[2])
	}
	return all
}

func with(fields []string, name, value string) []string {
	all := append([]string{}, fields...)
	for i := 0; i < len(all); i += 2 {
		if all[i] == name {
			all[i+1] = value
			return all
		}
	}
	return append(all, name, value)
}

func TestFormThatIsNotTouchedChangesNothing(t *testing.T) {
	d := withDemo(t)
	for _, door := range []string{"visitor", "staff", "store", "plant", "records", "laboratory", "tanks", "gauge"} {
		page := d.get("/j/BTO/d/"+door+"/plan", http.StatusOK)
		d.has(d.post("/j/BTO/d/"+door+"/plan", http.StatusUnprocessableEntity, filledForm(page)...).Body.String(), "nothing is different")
	}
}

func TestChangeIsProvedBeforeItIsKeptAndTakenBack(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/d/visitor/plan", http.StatusOK)
	fields := with(filledForm(page), "releases.1.model", "")
	look := d.post("/j/BTO/d/visitor/plan", http.StatusOK, fields...).Body.String()
	d.has(look, "doors.visitor.releases", "Made worse", "no longer there", "Keep it")
	d.has(look, "no longer there: W", "no longer there: lead from ")
	if strings.Contains(look, "coil.plus") || strings.Contains(look, "lead:") {
		t.Error("cores are told by what they are called inside")
	}
	if strings.Contains(look, "0 findings made worse") {
		t.Error("a magnet without a manual release is not worse")
	}
	if d.journal.State().Job("BTO").Document == nil || !bytes.Equal(d.journal.State().Job("BTO").Document, demo.Brackwater) {
		t.Fatal("looking has changed the job")
	}
	kept := hiddenFields(look)
	d.post("/j/BTO/keep", http.StatusSeeOther, kept...)
	d.has(d.get("/j/BTO/d/visitor", http.StatusOK), "error")
	d.post("/j/BTO/keep", http.StatusConflict, kept...)
	d.post("/j/BTO/d/visitor/plan", http.StatusUnprocessableEntity, fields...)
	d.post("/j/BTO/undo", http.StatusSeeOther)
	d.has(d.get("/j/BTO/d/visitor", http.StatusOK), "Every requirement that is calculated holds")
	d.post("/j/BTO/undo", http.StatusConflict)
}

// After a mistake the form stands there with what was typed, and once that is put right it is taken.
func TestFormKeepsWhatWasTypedAfterAMistake(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/staff/plan"
	fields := with(with(filledForm(d.get(at, http.StatusOK)), "title", "Side <door>"), "cable-length", "ten")
	page := d.post(at, http.StatusUnprocessableEntity, fields...).Body.String()
	d.has(page, `name="title" value="Side <door>"`, `name="cable-length" value="ten"`, `class="mistake"`)
	d.has(d.post(at, http.StatusOK, with(filledForm(page), "cable-length", "10 m")...).Body.String(), "Side <door>", "Keep it")

	page = d.post(at, http.StatusUnprocessableEntity, "base", hiddenFields(page)[1], "text", "title: [half").Body.String()
	d.has(page, "title: [half", "<details open>")

	for _, f := range []struct{ at, name, bad string }{
		{"/j/BTO/about", "temperature", "warm"}, {"/j/BTO/supplies/PS1", "standby", "long enough"},
	} {
		page := d.get(f.at, http.StatusOK)
		d.has(d.post(f.at, http.StatusUnprocessableEntity, with(filledForm(page), f.name, f.bad)...).Body.String(), `name="`+f.name+`" value="`+f.bad+`"`)
	}
	d.has(d.post("/j/BTO/door", http.StatusUnprocessableEntity, "door", "staff", "title", "Back door", "like", "store").Body.String(),
		"there is a door staff already", `value="Back door"`, `value="store" selected`)
}

func TestMistakesInAChangeAreTold(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/d/staff/plan", http.StatusOK)
	d.has(d.post("/j/BTO/d/staff/plan", http.StatusUnprocessableEntity, with(filledForm(page), "cable-length", "long")...).Body.String(), "long")
	d.has(d.post("/j/BTO/d/staff/plan", http.StatusUnprocessableEntity, with(filledForm(page), "controller", "C9")...).Body.String(), "C9")
	d.has(d.post("/j/BTO/d/staff/plan", http.StatusUnprocessableEntity, "base", hiddenFields(page)[1], "text", "title: [").Body.String(), "title")
}

// A finding of the flawed demo is mended by the press of a button, and the mend does what it says.
func TestMendIsLookedAtAndKept(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(demo.Flawed)}); err != nil {
		t.Fatal(err)
	}
	register := d.get("/j/BTO?by=worst", http.StatusOK)
	var at, page string
	for _, door := range links(register, "/j/BTO/d/") {
		for page = d.get(door, http.StatusOK); strings.Contains(page, "Mends are being looked for"); page = d.get(door, http.StatusOK) {
			time.Sleep(50 * time.Millisecond)
		}
		if strings.Contains(page, "What mends it") {
			at = door
			break
		}
	}
	if at == "" {
		t.Fatal("no door has a mend")
	}
	form := page[strings.Index(page, "What mends it"):]
	form = form[:strings.Index(form, "</form>")]
	look := d.post(at+"/plan", http.StatusOK, hiddenFields(form)...).Body.String()
	if strings.Contains(look, ", 0 findings cured") || !strings.Contains(look, " 0 findings made worse") {
		t.Errorf("the mend does not do what it says: %s\n%v", regexp.MustCompile(`(?s)<p class="(lead|mistake)".*</section>`).FindString(look), hiddenFields(form))
	}
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
}

func TestDoorsAreMadeAlike(t *testing.T) {
	d := withDemo(t)
	look := d.post("/j/BTO/like", http.StatusOK, "like", "staff", "door", "store").Body.String()
	d.has(look, "doors.store.sounder")
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	if got := string(d.journal.State().Job("BTO").Document); strings.Count(got, "sounder: sounder-12") != 2 {
		t.Errorf("the sounder is not at both doors:\n%s", got)
	}
	d.post("/j/BTO/like", http.StatusUnprocessableEntity, "like", "staff")
	d.post("/j/BTO/like", http.StatusUnprocessableEntity, "like", "nowhere", "door", "store")
}

func (d *desktop) sendPhoto(data []byte, code int) {
	d.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	part, err := m.CreateFormFile("photo", "../../etc/passwd")
	if err != nil {
		d.t.Fatal(err)
	}
	part.Write(data)               //nolint:errcheck // into memory
	m.WriteField("caption", "box") //nolint:errcheck // into memory
	m.Close()                      //nolint:errcheck // into memory
	r := httptest.NewRequest(http.MethodPost, "/j/BTO/d/staff/photo", &b)
	r.Header.Set("Content-Type", m.FormDataContentType())
	d.answer(r, code)
}

func TestPhotoIsKeptAndShownAsWhatItIs(t *testing.T) {
	d := withDemo(t)
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 20, 10))); err != nil {
		t.Fatal(err)
	}
	d.sendPhoto(b.Bytes(), http.StatusSeeOther)
	d.sendPhoto([]byte("<script>alert(1)</script>"), http.StatusUnprocessableEntity)
	page := d.get("/j/BTO/d/staff/survey", http.StatusOK)
	at := regexp.MustCompile(`/j/BTO/photo/[0-9a-f]{64}`).FindString(page)
	w := d.answer(httptest.NewRequest(http.MethodGet, at, nil), http.StatusOK)
	if w.Header().Get("Content-Type") != "image/png" || !bytes.Equal(w.Body.Bytes(), b.Bytes()) {
		t.Errorf("%v", w.Header())
	}
	d.get("/j/BTO/photo/"+strings.Repeat("0", 64), http.StatusNotFound)
}

func TestSurveyAndSnags(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/visitor"
	d.post(at+"/survey", http.StatusSeeOther, "keep", "question", "question", "Which side is the riser?")
	d.has(d.get(at+"/survey", http.StatusOK), "Which side is the riser?")
	d.post(at+"/survey", http.StatusSeeOther, "keep", "answer.visitor-Q1", "answer.visitor-Q1", "left")
	d.post(at+"/survey", http.StatusSeeOther, "keep", "seen", "seen", "asbestos label on the frame")
	d.has(d.get(at+"/survey", http.StatusOK), "left", "asbestos label")
	d.post(at+"/survey", http.StatusUnprocessableEntity)
	d.post(at+"/do/snags", http.StatusSeeOther, "keep", "what", "what", "release loose", "class", "life", "retest", "T35")
	d.has(d.get(at+"/do/snags", http.StatusOK), "1 open snag", "S1: release loose", "T25 Show an unknown credential (locked)", "T26 Show a credential without right for this door (locked)")
	d.has(d.post(at+"/do/snags", http.StatusUnprocessableEntity, "keep", "fix.S1", "fix.S1", "fixed", "retest.S1", "T35").Body.String(), "Make the test T35 again first")
	d.post(at+"/do/test", http.StatusSeeOther, "step", "T35", "outcome", "pass", "witness", "kf", "result", "1 s, 0 V")
	d.post(at+"/do/snags", http.StatusSeeOther, "keep", "fix.S1", "fix.S1", "fixed", "retest.S1", "T35")
	d.has(d.get(at+"/do/snags", http.StatusOK), "0 open snags")
}

func TestIssuedPlanStaysAsItWasGiven(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/plans", http.StatusOK)
	d.has(page, "No plan was issued yet")
	d.post("/j/BTO/plans", http.StatusSeeOther, append(hiddenFields(page), "revision", "A")...)
	d.has(d.get("/j/BTO/plans", http.StatusOK), "Revision A is on site, and the job is as it was issued")
	look := d.post("/j/BTO/d/staff/plan", http.StatusOK, with(filledForm(d.get("/j/BTO/d/staff/plan", http.StatusOK)), "sounder.model", "")...).Body.String()
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	page = d.get("/j/BTO/plans", http.StatusOK)
	d.has(page, "The job differs from it in", "no longer there")
	d.post("/j/BTO/plans", http.StatusUnprocessableEntity, append(hiddenFields(page), "revision", "A")...)
	d.post("/j/BTO/plans", http.StatusSeeOther, append(hiddenFields(page), "revision", "B")...)
	d.has(d.get("/j/BTO/plans", http.StatusOK), "Revision B is on site")
}

func TestMetersAndBatteries(t *testing.T) {
	d := withDemo(t)
	d.post("/meters", http.StatusUnprocessableEntity, "id", "M1", "title", "Multimeter", "number", "41", "calibrated", "yesterday")
	d.post("/meters", http.StatusSeeOther, "id", "M1", "title", "Multimeter", "number", "41", "calibrated", "2025-03-02", "due", "2026-03-02")
	d.has(d.get("/people", http.StatusOK), "M1: Multimeter, number 41", "its calibration has run out")
	d.post("/j/BTO/supplies/PS9/battery", http.StatusNotFound)
	d.has(d.get("/j/BTO/supplies/PS1", http.StatusOK), "nobody has said when it was fitted")
	d.post("/j/BTO/supplies/PS1/battery", http.StatusSeeOther)
	d.has(d.get("/j/BTO/supplies/PS1", http.StatusOK), "fitted 2026-10-12 09:00 by Mara Wren")
	d.has(d.get("/j/BTO/supplies", http.StatusOK), "2026-10-12 09:00")
}
