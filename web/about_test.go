package web

import (
	"net/http"
	"strings"
	"testing"

	"doorwright/paper"
)

func TestLengthsAreToldAsTheJobSays(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/about", http.StatusOK)
	d.has(page, "Lengths are told", "uk-b")
	d.has(d.get("/j/BTO/d/staff/plan", http.StatusOK), `value="9 m"`)
	form := filledForm(page)
	d.has(d.post("/j/BTO/about", http.StatusUnprocessableEntity, form...).Body.String(), "nothing is different")
	look := d.post("/j/BTO/about", http.StatusOK, with(form, "measures", "feet")...).Body.String()
	d.has(look, "measures", "0 findings cured, 0 findings made worse", "Keep it")
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	plan := d.get("/j/BTO/d/staff/plan", http.StatusOK)
	d.has(plan, `value="29.53 ft"`)
	d.has(d.get("/j/BTO/schedules", http.StatusOK), "width (in)")
	d.has(d.get("/j/BTO/schedules?show=cables", http.StatusOK), "computed (ft)")
	// A form that is told in feet and not touched changes nothing.
	d.has(d.post("/j/BTO/d/staff/plan", http.StatusUnprocessableEntity, filledForm(plan)...).Body.String(), "nothing is different")
	d.has(d.post("/j/BTO/d/staff/plan", http.StatusOK, with(filledForm(plan), "cable-length", "40 ft")...).Body.String(), "40 ft")
	d.post("/j/BTO/undo", http.StatusSeeOther)
	d.has(d.get("/j/BTO/d/staff/plan", http.StatusOK), `value="9 m"`)
}

func TestAJobMadeOfAmericanCables(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	form := filledForm(d.get("/new", http.StatusOK))
	for _, f := range [][2]string{{"job", "US"}, {"title", "Somewhere"}, {"make-up", "north-american"}, {"door", "D1"}, {"door-title", "Door"}, {"feed-length", "50 ft"}, {"cable-length", "80 ft"}} {
		form = with(form, f[0], f[1])
	}
	look := d.post("/new", http.StatusOK, form...).Body.String()
	d.post("/bring/keep", http.StatusSeeOther, lookedAt(look)...)
	d.has(d.get("/j/US/d/D1/plan", http.StatusOK), `value="80 ft"`)
	page := d.get("/j/US/schedules?show=cables", http.StatusOK)
	d.has(page, "22-6s", "18-4", "computed (ft)")
	if strings.Contains(page, "0.75 mm2") {
		t.Error("a metric cable was taken")
	}
}

func TestMistakesInWhatHoldsForTheJobAreTold(t *testing.T) {
	d := withDemo(t)
	form := filledForm(d.get("/j/BTO/about", http.StatusOK))
	for _, x := range [][2]string{{"rules", "moon"}, {"temperature", "warm"}, {"measures", "cubits"}, {"title", ""}} {
		got := d.post("/j/BTO/about", http.StatusUnprocessableEntity, with(form, x[0], x[1])...).Body.String()
		if !strings.Contains(got, x[0]) {
			t.Errorf("%v: it is not said that %s is wrong", x, x[0])
		}
	}
	d.post("/j/BTO/about", http.StatusUnprocessableEntity, with(form, "base", "0")...)
}

func TestEachScheduleIsShownByItself(t *testing.T) {
	d := withDemo(t)
	for _, k := range paper.ScheduleKinds() {
		page := d.get("/j/BTO/schedules?show="+k.Name, http.StatusOK)
		d.has(page, `id="`+k.Name+`"`, `aria-current="page">`+k.Title)
		if strings.Count(page, "<table") != 1 {
			t.Errorf("%s: %d tables", k.Name, strings.Count(page, "<table"))
		}
	}
}
