package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// A cable of the visitor's door is measured before anything is connected; its loop tells its length, and the length is looked
// at and kept.
func TestCablesAreMeasuredAtFirstFix(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/visitor"
	page := d.get(at+"/do/first", http.StatusOK)
	d.has(page, "ring out", "insulation", "screen", "before anything is connected", "Every unit is off both ends")
	d.has(d.get("/j/BTO", http.StatusOK), "planned")
	ones := links(page, "/do/first/one")
	if len(ones) < 10 {
		t.Fatalf("%d measurements", len(ones))
	}
	d.has(page, "at most ", "over range, or more than 500 kohm")
	if strings.Contains(page, "0.0 ohm (0.0 ohm") {
		t.Error("nothing is told as what a meter should show")
	}
	loop, insulation := "", ""
	for _, one := range ones {
		p := d.get(one, http.StatusOK)
		if loop == "" && strings.Contains(p, "W7, loop") {
			loop = one
		}
		if insulation == "" && strings.Contains(p, ", insulation") {
			insulation = one
		}
	}
	d.post(loop, http.StatusUnprocessableEntity, "value", "much", "unit", "ohm")
	d.post(loop, http.StatusSeeOther, "value", "90", "unit", "ohm")
	d.has(d.get(loop, http.StatusOK), "90 ohm is not as it should be", "Next measurement")
	d.post(loop, http.StatusSeeOther, "value", "0.2", "unit", "ohm")
	page = d.get(loop, http.StatusOK)
	d.has(page, "By this loop W7 is")
	d.has(d.get("/j/BTO", http.StatusOK), "first fix")
	form := page[strings.Index(page, `action="`+at+`/plan"`):]
	look := d.post(at+"/plan", http.StatusOK, hiddenFields(form[:strings.Index(form, "</form>")])...).Body.String()
	d.has(look, "runs.W7.pulled")
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	if !regexp.MustCompile(`(?s)W7:.*pulled`).Match(d.journal.State().Job("BTO").Document) {
		t.Error("the measured length is not in the document")
	}
	d.post(insulation, http.StatusSeeOther, "value", "", "unit", overRange)
	d.has(d.get(insulation, http.StatusOK), "is as it should be")
	d.post(insulation, http.StatusSeeOther, "value", "0.1", "unit", "Mohm")
	d.has(d.get(insulation, http.StatusOK), "is not as it should be")
	d.post(insulation, http.StatusSeeOther, "value", "1", "unit", "Mohm")
	d.has(d.get(insulation, http.StatusOK), "1 Mohm is enough, and yet little for a new cable")
	d.get(at+"/do/first/one?n=999", http.StatusNotFound)
	d.has(d.get("/j/BTO/record", http.StatusOK), "insulation, first fix")
	d.has(d.get(at+"/do/land", http.StatusOK), "strip 10 mm, ferrule")
}
