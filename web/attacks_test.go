package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/journal"
	"doorwright/record"
)

// hostile is a text that is a page of its own wherever it is not written out.
const hostile = `<script>alert(1)</script>"><img src=x onerror=alert(2)>`

// What somebody writes, or brings in with a document, is text on every page and in every drawing (OWASP ASVS 5.0, V1, from
// memory).
func TestWhatIsWrittenIsText(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", hostile, "initials", "mw", "role", hostile)
	text := strings.NewReplacer("title: Staff door", "title: '"+hostile+"'", "secured: Corridor east", "secured: '"+hostile+"'",
		"title: Brackwater Tidal Observatory", "title: '"+hostile+"'", "title: Riser on the ground floor", "title: '"+hostile+"'").Replace(string(demo.Brackwater))
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "BTO", File: hostile, Document: text},
		journal.Sighted{Job: "BTO", Sight: record.Sight{Door: "staff", What: hostile, Act: record.Act{By: "mw", On: record.Date{Year: 2026, Month: 1, Day: 2}}}}); err != nil {
		t.Fatal(err)
	}
	d.post("/j/BTO/d/staff/survey", http.StatusSeeOther, "keep", "question", "question", hostile)
	d.post("/j/BTO/d/staff/do/snags", http.StatusSeeOther, "keep", "what", "what", hostile, "class", "looks", "owner", hostile)
	d.post("/j/BTO/d/staff/do/test", http.StatusSeeOther, "step", "T35", "outcome", "fail", "note", hostile, "result", hostile)
	pages := 0
	for _, at := range []string{
		"/", "/people", "/j/BTO", "/j/BTO/record", "/j/BTO/plans", "/j/BTO/supplies", "/j/BTO/supplies/PS1", "/j/BTO/schedules", "/j/BTO/rules", "/j/BTO/papers", "/j/BTO/units", "/j/BTO/about",
		"/j/BTO/door", "/j/BTO/d/staff", "/j/BTO/d/staff/survey", "/j/BTO/d/staff/plan", "/j/BTO/d/staff/try", "/j/BTO/d/staff/do/land", "/j/BTO/d/staff/do/test",
		"/j/BTO/d/staff/do/snags", "/j/BTO/d/staff/do/hand", "/j/BTO/handover", "/workspace", "/j/BTO?q=" + "%3Cscript%3Ealert(1)%3C/script%3E",
	} {
		page := d.get(at, http.StatusOK)
		for _, raw := range []string{"<script>alert", "<img src=x"} {
			if strings.Contains(page, raw) {
				t.Errorf("%s has %q as it was written", at, raw)
			}
		}
		if strings.Contains(page, "alert(1)") {
			pages++
		}
	}
	if pages < 12 {
		t.Errorf("the text is on %d pages only", pages)
	}
}

// The policy lets nothing in but our own files, on every answer.
func TestEveryAnswerHasThePolicy(t *testing.T) {
	d := withDemo(t)
	for _, at := range []string{"/", "/j/BTO/d/staff", "/nowhere", "/static/app.js", "/j/BTO/paper?what=labels-12"} {
		w := httptest.NewRecorder()
		d.pages.ServeHTTP(w, httptest.NewRequest(http.MethodGet, at, nil))
		csp := w.Header().Get("Content-Security-Policy")
		if !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") || w.Header().Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: %q", at, csp)
		}
	}
}

func TestPathsLeadNowhereElse(t *testing.T) {
	d := withDemo(t)
	for _, at := range []string{"/static/..%2fhandler.go", "/static/%2e%2e/%2e%2e/etc/passwd", "/j/..%2f..%2fetc/d/x", "/j/BTO/photo/..%2f..%2fx", "/j/BTO/schedules/..%2fx.csv"} {
		w := httptest.NewRecorder()
		d.pages.ServeHTTP(w, httptest.NewRequest(http.MethodGet, at, nil))
		if w.Code != http.StatusNotFound && w.Code/100 != 3 {
			t.Errorf("%s: %d", at, w.Code)
		}
	}
	for _, to := range []string{"//evil.example", "https://evil.example", "/\\evil.example", "javascript:alert(1)"} {
		d2 := withDemo(t)
		if got := d2.post("/people/seat", http.StatusSeeOther, "initials", "mw", "to", to).Header().Get("Location"); got != "/" {
			t.Errorf("%q leads to %q", to, got)
		}
	}
}
