package web

import (
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// lookedAt are the fields that keep what was looked at.
func lookedAt(page string) []string {
	text := regexp.MustCompile(`(?s)<textarea name="text" hidden>(.*?)</textarea>`).FindStringSubmatch(page)[1]
	return []string{"name", "new", "text", html.UnescapeString(strings.TrimPrefix(text, "\n"))}
}

// A door from nothing to proved: what is missing at first is found, and its mends and the plan page lead to none.
func TestDoorIsPlannedFromNothingToProved(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	d.has(d.get("/", http.StatusOK), "No job is kept here yet", "A new job")
	fields := []string{
		"job", "TST", "title", "A test", "rules", "uk-b", "supply", "supply-12-5", "battery", "battery-12-17", "controller", "controller-1-12", "door", "D1",
		"door-title", "Front", "secured", "Hall", "escape", "out", "fire-rated", "no", "lock", "strike-12-secure", "handle", "frees", "entry", "reader-pulse",
		"exit", "exit-button", "contact", "contact-surface", "cable-length", "9 m", "feed-length", "20 m",
	}
	page := d.post("/new", http.StatusOK, fields...).Body.String()
	d.has(page, "a new job here", "Front")
	d.post("/bring/keep", http.StatusSeeOther, lookedAt(page)...)
	d.has(d.get("/j/TST", http.StatusOK), "1 door. 0 with errors")
	d.has(d.get("/j/TST/d/D1", http.StatusOK), "Wiring diagram")
	d.has(d.post("/new", http.StatusUnprocessableEntity, fields...).Body.String(), "is here already")
	d.has(d.post("/new", http.StatusUnprocessableEntity, "job", "X Y", "lock", "nothing").Body.String(), "nothing")
	look := d.post("/j/TST/door", http.StatusOK, "door", "D2", "title", "Side", "secured", "Hall", "like", "D1").Body.String()
	d.has(look, "doors.D2", "controllers.C2")
	d.post("/j/TST/keep", http.StatusSeeOther, hiddenFields(look)...)
	d.has(d.get("/j/TST", http.StatusOK), "2 doors.")
	d.post("/j/TST/door", http.StatusUnprocessableEntity, "door", "D2", "like", "D1")
}

func TestDoorFoundOnACallIsSearched(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	d.has(d.get("/call", http.StatusOK), "Search this door")
	d.has(d.post("/call", http.StatusUnprocessableEntity, "lock", "magnet-13").Body.String(), "magnet-13")
	to := d.post("/call", http.StatusSeeOther, "title", "Back door", "lock", "magnet-12", "entry", "reader-pulse", "exit", "exit-button", "release", "release-2").Header().Get("Location")
	page := d.get(to, http.StatusOK)
	d.has(page, "Back door", "the door does not lock")
	d.post(to, http.StatusSeeOther, "look", "lock holds; no", "in", "idle")
	page = d.get(to, http.StatusOK)
	d.has(page, "lock holds: no (powered, nothing operated)")
	at := ""
	for _, l := range links(d.get(strings.TrimSuffix(to, "find")+"do/read", http.StatusOK), "/read/one?") {
		if strings.Contains(l, "of=volts") {
			at = l
			break
		}
	}
	d.post(at, http.StatusSeeOther, "value", "0", "unit", "V")
	d.has(d.get(to, http.StatusOK), ": 0 V")
}

// A lock for another voltage than its feed gives may be the very fault: it is taken as told, and said first of all.
func TestALockForAnotherVoltageIsToldOnACall(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	to := d.post("/call", http.StatusSeeOther, "lock", "magnet-24", "supply", "supply-12-5", "entry", "reader-pulse").Header().Get("Location")
	page := d.get(to, http.StatusOK)
	d.has(page, "door.lock1 is for 24 V, and its supply PS gives 12 V; this alone may be what is wrong")
	if n := strings.Count(page, "this alone may be"); n != 1 {
		t.Errorf("it is told %d times", n)
	}
	to = d.post("/call", http.StatusSeeOther, "lock", "magnet-12", "supply", "supply-12-5", "entry", "reader-pulse").Header().Get("Location")
	if page := d.get(to, http.StatusOK); strings.Contains(page, "this alone may be") {
		t.Error("a lock for what its feed gives is told as well")
	}
}

func TestUnitOfOnesOwnIsLookedAtAndKept(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/units?from=magnet-12", http.StatusOK)
	d.has(page, "Complete for a proof", "my-magnet-12", "<svg")
	text := html.UnescapeString(regexp.MustCompile(`(?s)<textarea[^>]*>(.*?)</textarea>`).FindStringSubmatch(page)[1])
	bad := strings.Replace(text, "holds:", "hold:", 1)
	d.has(d.post("/j/BTO/units/look", http.StatusOK, "id", "my-magnet", "text", bad).Body.String(), "hold")
	d.post("/j/BTO/units", http.StatusUnprocessableEntity, "id", "my-magnet", "text", bad, "do", "keep")
	d.post("/j/BTO/units", http.StatusUnprocessableEntity, "id", "magnet-12", "text", text, "do", "keep")
	d.post("/j/BTO/units", http.StatusSeeOther, "id", "my-magnet", "text", text, "do", "keep")
	d.has(d.get("/j/BTO/d/visitor/plan", http.StatusOK), `value="my-magnet"`)
	d.has(d.get("/j/BTO/units", http.StatusOK), "of this job")
}

// A form has no lines and columns; what is wrong is told by its name.
func TestMistakesOfAFormHaveNoPlaceInAText(t *testing.T) {
	d := withDemo(t)
	for at, page := range map[string]string{
		"a new job": d.post("/new", http.StatusUnprocessableEntity, "job", "X", "lock", "magnet-12").Body.String(),
		"a door":    d.post("/j/BTO/d/staff/plan", http.StatusUnprocessableEntity, with(filledForm(d.get("/j/BTO/d/staff/plan", http.StatusOK)), "controller", "C99")...).Body.String(),
		"near it":   d.post("/j/BTO/d/staff/plan/look", http.StatusOK, with(filledForm(d.get("/j/BTO/d/staff/plan", http.StatusOK)), "controller", "C99")...).Body.String(),
	} {
		if m := regexp.MustCompile(`\S*:\d+:\d+:`).FindString(page); m != "" || !strings.Contains(page, "found") && !strings.Contains(page, "is missing") {
			t.Errorf("%s says %q", at, m)
		}
	}
}
