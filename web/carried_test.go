package web

import (
	"bytes"
	"context"
	"html"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/journal"
)

// What was half typed in one place of a page outlives the button of another, whether that goes through or is refused, and is not
// kept by it.
func TestWhatIsHalfTypedIsCarriedAlong(t *testing.T) {
	d := withDemo(t)
	entries := func() int { return len(d.journal.State().Job("BTO").History) }
	typed := func(page string, fields ...string) {
		t.Helper()
		for i := 0; i < len(fields); i += 2 {
			d.has(page, `name="`+fields[i]+`" value="`+fields[i+1]+`"`)
		}
	}
	survey := "/j/BTO/d/staff/survey"
	d.post(survey, http.StatusSeeOther, "keep", "question", "question", "Who has the key?")
	half := []string{"answer.staff-Q1", "the por", "question", "Is it & <", "caption", "box"}
	for _, x := range []struct{ field, text string }{{"seen", "rust"}, {"seen", ""}, {"seen", strings.Repeat("x", mostNote+1)}, {"answer.nix", "y"}} {
		before, code, more := entries(), http.StatusUnprocessableEntity, 0
		if x.text == "rust" {
			code, more = http.StatusSeeOther, 1
		}
		w := d.post(survey, code, append([]string{"keep", x.field, x.field, x.text, "photo", "box.jpg"}, half...)...)
		page := w.Body.String()
		if to := w.Header().Get("Location"); to != "" {
			page = d.get(to, http.StatusOK)
			typed(page, "seen", "")
		}
		typed(page, half...)
		d.has(page, "The picture box.jpg was not sent with the rest")
		if n := entries() - before; n != more {
			t.Errorf("%q keeps %d entries", x.text, n)
		}
	}
	// A photo carries along what stands beside it, too, also while nobody has said who they are.
	photo := func(text, picture string) *http.Request {
		var b bytes.Buffer
		m := multipart.NewWriter(&b)
		for i := 0; i < len(half); i += 2 {
			m.WriteField(half[i], half[i+1]) //nolint:errcheck // a buffer takes all
		}
		m.WriteField("keep", "caption") //nolint:errcheck // a buffer takes all
		file, err := m.CreateFormFile("photo", "box.jpg")
		if err != nil {
			t.Fatal(err)
		}
		file.Write([]byte(picture)) //nolint:errcheck // a buffer takes all
		m.Close()                   //nolint:errcheck // a buffer takes all
		r := httptest.NewRequest(http.MethodPost, text, &b)
		r.Header.Set("Content-Type", m.FormDataContentType())
		return r
	}
	typed(d.answer(photo("/j/BTO/d/staff/photo", "no picture"), http.StatusUnprocessableEntity).Body.String(), half...)
	nobody := newDesktop(t)
	if _, err := nobody.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", Document: string(demo.Brackwater)}); err != nil {
		t.Fatal(err)
	}
	to := nobody.answer(photo("/j/BTO/d/staff/photo", "x"), http.StatusSeeOther).Header().Get("Location")
	back, err := url.Parse(to)
	if err != nil {
		t.Fatal(err)
	}
	typed(nobody.get(back.Query().Get("to"), http.StatusOK), half[2:]...)

	snags := "/j/BTO/d/staff/do/snags"
	d.post(snags, http.StatusSeeOther, "keep", "what", "what", "release sticks", "class", "life", "retest", "T31")
	page := d.get(d.post(snags, http.StatusSeeOther, "keep", "what", "what", "scratch", "class", "looks", "fix.S1", "greased & <tried>", "retest.S1", "T27").Header().Get("Location"), http.StatusOK)
	typed(page, "fix.S1", "greased & <tried>", "what", "")
	d.has(page, "S2: scratch", `<option value="T27" selected>`, `<option value="function" selected>`)
	page = d.post(snags, http.StatusUnprocessableEntity, "keep", "fix.S1", "fix.S1", "greased", "retest.S1", "T31", "what", "hinge", "class", "looks", "owner", "us").Body.String()
	d.has(page, "Make the test T31 again first", `<option value="looks" selected>`)
	typed(page, "fix.S1", "greased", "what", "hinge", "owner", "us")
	d.post("/j/BTO/d/staff/do/test", http.StatusSeeOther, "step", "T31", "outcome", "pass", "result", "0,4 s", "witness", "kf")
	d.has(d.post(snags, http.StatusUnprocessableEntity, "keep", "fix.S1", "retest.S1", "T31").Body.String(), "Write what was done")
	at := d.post(snags, http.StatusSeeOther, "keep", "fix.S1", "fix.S1", "greased", "retest.S1", "T31", "what", "hinge", "class", "function", "retest.S2", "").Header().Get("Location")
	if at != snags+"?what=hinge" {
		t.Errorf("carried along is %q", at)
	}
	h := d.journal.State().Job("BTO").History
	if s, ok := h[len(h)-1].Body.(journal.Snagged); !ok || s.ID != "S1" || s.Fix != "greased" || s.Open() {
		t.Errorf("kept is %+v", h[len(h)-1].Body)
	}
	// More than an address takes is shown at once.
	long := strings.Repeat("ä", mostNote/2)
	typing := []string{"keep", "seen", "seen", "rust", "question", long, "caption", long, "answer.staff-Q1", long}
	typed(d.post(survey, http.StatusOK, typing...).Body.String(), "question", long, "caption", long, "answer.staff-Q1", long, "seen", "")
	if page = html.UnescapeString(d.get(survey+"?question=%ff", http.StatusOK)); strings.Contains(page, "\xff") {
		t.Error("what is no text is shown")
	}
}
