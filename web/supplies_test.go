package web

import (
	"context"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"doorwright/internal/site"
	"doorwright/journal"
)

func TestEachSupplyHasItsPage(t *testing.T) {
	d := withDemo(t)
	all := links(d.get("/j/BTO/supplies", http.StatusOK), "/j/BTO/supplies/")
	if len(all) != 3 {
		t.Fatalf("%d supplies, not 3: %v", len(all), all)
	}
	for _, at := range all {
		page := d.get(at, http.StatusOK)
		d.has(page, "Supply tree of", "at its terminals", "battery lasts")
		d.has(d.post(at, http.StatusUnprocessableEntity, filledForm(page)...).Body.String(), "nothing is different")
	}
	d.get("/j/BTO/supplies/PS9", http.StatusNotFound)
	d.post("/j/BTO/supplies/PS1", http.StatusUnprocessableEntity, with(filledForm(d.get("/j/BTO/supplies/PS1", http.StatusOK)), "base", "0")...)
}

// The fail contact of a fused board ends at an input of the door that is chosen; what a document may not say is told.
func TestADoorIsToldOfAnOpenFuse(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/supplies/PS2"
	form := filledForm(d.get(at, http.StatusOK))
	if got := d.post(at, http.StatusUnprocessableEntity, with(form, "tells", "records")...).Body.String(); !strings.Contains(got, "has no fail contact, choose one with fuses") {
		t.Error("it is not said that the board has no fail contact")
	}
	fused := with(with(form, "board", "board-24-8-fused"), "tells", "records")
	look := d.post(at, http.StatusOK, fused...).Body.String()
	d.has(look, "supplies.PS2.tells", "supplies.PS2.board", "new: ", "Keep it")
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	page := d.get(at, http.StatusOK)
	d.has(page, "an open fuse is told at", `<option value="records" selected>`)
	look = d.post(at, http.StatusOK, with(filledForm(page), "tells", "")...).Body.String()
	d.has(look, "supplies.PS2.tells", "no longer there")
	d.post(at, http.StatusUnprocessableEntity, with(filledForm(page), "tells", "moon")...)
}

func TestWhatEndsAtABoardIsChosen(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/supplies/PS2"
	form := filledForm(d.get(at, http.StatusOK))
	for _, x := range []struct{ path, value, says string }{
		{"released", "1, 2, 3", "supplies.PS2.released"},
		{"reset.model", "", "supplies.PS2.reset"},
		{"standby", "6 h", "supplies.PS2.standby"},
	} {
		d.has(d.post(at, http.StatusOK, with(form, x.path, x.value)...).Body.String(), x.says)
	}
	for _, x := range []struct{ path, value, says string }{
		{"released", "1, 2, 99", "outputs 1 to 8"},
		{"released", "one", "released"},
		{"latching", "1, 3", "is not among the released outputs"},
		{"fire.model", "", "nothing tells the board of a fire"},
		{"battery", "battery-12-38", "is a battery of 12 V"},
		{"standby", "long", "standby"},
	} {
		d.has(d.post(at, http.StatusUnprocessableEntity, with(form, x.path, x.value)...).Body.String(), x.says)
	}
}

// A page tells of one supply, however many there are.
func TestSuppliesOfABigJobAreALightPage(t *testing.T) {
	d := newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "SITE", Document: string(site.Generate(100))}); err != nil {
		t.Fatal(err)
	}
	page := d.get("/j/SITE/supplies", http.StatusOK)
	all := links(page, "/j/SITE/supplies/")
	if len(all) < 5 || strings.Contains(page, "<svg") {
		t.Errorf("%d supplies; with drawings: %v", len(all), strings.Contains(page, "<svg"))
	}
	d.has(d.get(all[len(all)-1], http.StatusOK), "Supply tree of")
}

// What is wrong at a supply stands on no door's page: it is told in the register, and stands with its mends at the supplies.
func TestWhatIsFoundAtASupplyIsTold(t *testing.T) {
	d := withDemo(t)
	if strings.Contains(d.get("/j/BTO", http.StatusOK), "At the supplies") {
		t.Error("something is told where nothing was found")
	}
	d.has(d.get("/j/BTO/supplies", http.StatusOK), "Every requirement that is calculated holds")
	at := "/j/BTO/supplies/PS1"
	look := d.post(at, http.StatusOK, with(filledForm(d.get(at, http.StatusOK)), "battery", "battery-12-7")...).Body.String()
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	d.has(d.get("/j/BTO", http.StatusOK), "At the supplies: 1 point of advice")
	page := d.get("/j/BTO/supplies", http.StatusOK)
	d.has(page, "PS1 lasts", ", 3 h asked, while mains is lost", "Calculated: ", "limit 3 h, beyond it by ", "When: mains lost (")
	for range 600 {
		if page = d.get("/j/BTO/found", http.StatusOK); !strings.Contains(page, "data-later") {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	i := strings.Index(page, `action="/j/BTO/supplies"`)
	if i < 0 {
		t.Fatal("no mend is offered for a battery that does not last")
	}
	form := page[i:]
	look = d.post("/j/BTO/supplies", http.StatusOK, hiddenFields(form[:strings.Index(form, "</form>")])...).Body.String()
	d.has(look, "1 finding cured", "Keep it")
	d.post("/j/BTO/supplies", http.StatusUnprocessableEntity, "base", "0")
}

// A charger that gives too little is advice at its supply, with what mends it, and stands on the page of the supply.
func TestAChargerThatGivesTooLittleIsShown(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/supplies/PS1"
	d.has(d.get(at, http.StatusOK), "1.00 A; needed 941 mA")
	look := d.post(at, http.StatusOK, with(filledForm(d.get(at, http.StatusOK)), "battery", "battery-12-38")...).Body.String()
	d.has(look, "the charger of PS1 gives 1 A to charge battery-12-38")
	d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	page := d.get("/j/BTO/supplies", http.StatusOK)
	d.has(page, "the charger of PS1 gives 1 A to charge battery-12-38", "1.00 A, too little", "R-33")
	d.has(d.get(at, http.StatusOK), "1.00 A, too little; needed 1.49 A")
	if strings.Contains(page, "the charger of PS2") {
		t.Error("a charger that gives enough is told as well")
	}
}

// Advice at one supply is accepted for that one, with a reason; the doors on it have it open until then.
func TestAdviceAtASupplyIsAccepted(t *testing.T) {
	d := withDemo(t)
	for supply, battery := range map[string]string{"PS1": "battery-12-7", "PS2": "battery-24-7"} {
		at := "/j/BTO/supplies/" + supply
		look := d.post(at, http.StatusOK, with(filledForm(d.get(at, http.StatusOK)), "battery", battery)...).Body.String()
		d.post("/j/BTO/keep", http.StatusSeeOther, hiddenFields(look)...)
	}
	open := func(door, supply string) bool {
		return strings.Contains(d.get("/j/BTO/d/"+door+"/do/hand", http.StatusOK), "by calculation: "+supply+" lasts")
	}
	if !open("staff", "PS1") || !open("plant", "PS2") {
		t.Fatal("nothing is open to begin with")
	}
	page := d.get("/j/BTO/supplies", http.StatusOK)
	at := "/j/BTO/supplies/PS1/accept"
	i := strings.Index(page, `action="`+at+`"`)
	if i < 0 {
		t.Fatal("it cannot be accepted")
	}
	form := hiddenFields(page[i : i+strings.Index(page[i:], "</form>")])
	d.post(at, http.StatusUnprocessableEntity, append(form, "reason", " ")...)
	d.post(at, http.StatusUnprocessableEntity, "finding", "supply-reserve", "reason", "there is no such advice")
	d.post("/j/BTO/supplies/PS3/accept", http.StatusUnprocessableEntity, append(form, "reason", "it is sound")...)
	d.post("/j/BTO/supplies/PS9/accept", http.StatusNotFound, append(form, "reason", "it is none")...)
	d.post(at, http.StatusSeeOther, append(form, "reason", "the generator takes over")...)
	page = d.get("/j/BTO/supplies", http.StatusOK)
	d.has(page, "Accepted by Mara Wren, 2026-10-12 09:00: the generator takes over", `action="/j/BTO/supplies/PS2/accept"`)
	if strings.Contains(page, at) {
		t.Error("it can be accepted twice")
	}
	if open("staff", "PS1") || !open("plant", "PS2") {
		t.Error("what is open at the doors does not follow")
	}
	d.has(d.get("/j/BTO/record", http.StatusOK), "accepted at PS1: Standby long enough, because the generator takes over")
}

// Every drawing that begins fitted to a narrow page can be seen at full size: the control stands right before it, which is
// what the style goes by.
func TestDrawingsAreSeenAtFullSize(t *testing.T) {
	d := withDemo(t)
	for _, at := range []string{"/j/BTO/d/staff", "/j/BTO/d/staff/try", "/j/BTO/supplies/PS1"} {
		page := d.get(at, http.StatusOK)
		all := strings.Count(page, `<div class="drawing"`)
		if n := len(regexp.MustCompile(`<label class="full"><input type="checkbox"> at full size</label>\s*<div class="drawing"`).FindAllString(page, -1)); all == 0 || n != all {
			t.Errorf("%s: %d of %d drawings", at, n, all)
		}
	}
}
