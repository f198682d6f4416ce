package web

import (
	"net/http"
	"strings"
	"testing"
)

// What was typed into a form that is refused stands on the page that says why, and goes through once it is put right.
func TestWhatIsRefusedIsNotLost(t *testing.T) {
	d := withDemo(t)
	var page string
	for _, x := range []struct {
		at, typed string
		form      []string
	}{
		{"/meters", "Multimeter <A>", []string{"id", "M 1", "title", "Multimeter <A>", "number", "41", "calibrated", "2026-03-02"}},
		{"/j/BTO/d/staff/find", "90/32x", []string{"received", "90/32x", "expected", "90/324"}},
	} {
		d.has(d.post(x.at, http.StatusUnprocessableEntity, x.form...).Body.String(), `value="`+x.typed+`"`, "Send it again")
	}
	// What was done on another state of things is typed again where that is seen.
	page = d.post("/j/BTO/plans", http.StatusConflict, "base", "x", "revision", "B").Body.String()
	d.has(page, `name="revision" value="B"`)
	if strings.Contains(page, "Send it again") {
		t.Error("what has changed meanwhile may be passed over")
	}
	if page = d.get("/nowhere", http.StatusNotFound); strings.Contains(page, "<form") {
		t.Error("a page that is not there has a form")
	}
}
