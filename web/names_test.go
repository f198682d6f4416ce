package web

import (
	"context"
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"doorwright/journal"
	"doorwright/proof"
	"doorwright/wiring"
)

var (
	unseen = regexp.MustCompile(`(?s)<(script|style|svg|option)\b.*?</(script|style|svg|option)>`)
	tags   = regexp.MustCompile(`<[^>]*>`)
)

// seenOn is the text of a page, without drawings, addresses and what stands in fields.
func seenOn(page string) string {
	return html.UnescapeString(tags.ReplaceAllString(unseen.ReplaceAllString(page, " "), " "))
}

// rawIn finds what only the program calls by that name: terminals by their pins, faults, requirements and pages.
func rawIn(text string, d *desk) []string {
	var names []string
	for _, x := range d.plan.Devices {
		for _, t := range x.Model.Strip {
			if t.Pin != t.Label {
				names = append(names, wiring.End{Device: x, Pin: t.Pin}.String())
			}
		}
	}
	for _, door := range d.job.Doors {
		for _, f := range d.faults().Of(door.ID) {
			names = append(names, f.ID)
		}
	}
	for _, r := range append(proof.Requirements(), proof.FaultRequirements()...) {
		if strings.Contains(r.ID, "-") {
			names = append(names, r.ID)
		}
	}
	for _, s := range journal.Stages() {
		names = append(names, s.Page)
	}
	var raw []string
	for _, n := range names {
		if strings.Contains(text, n) && regexp.MustCompile(`(^|[^\w.-])`+regexp.QuoteMeta(n)+`($|[^\w-])`).MatchString(text) {
			raw = append(raw, n)
		}
	}
	return raw
}

func (d *desktop) plain(at string) {
	d.t.Helper()
	text := seenOn(d.get(at, http.StatusOK))
	if raw := rawIn(text, d.atJob().desk); len(raw) > 0 {
		d.t.Errorf("%s shows %q", at, raw)
	}
}

// What was done at a door is told as people at the door would: terminals by their labels, faults by their names, work by the
// titles of its steps.
func TestWorkIsToldWithoutRawNames(t *testing.T) {
	d := withDemo(t)
	readings := links(d.get("/j/BTO/d/staff/do/read", http.StatusOK), "/read/one?")
	for _, at := range readings[:min(len(readings), 4)] {
		value, unit := "0.02", "V"
		if strings.Contains(at, "of=ohms") {
			value, unit = "3", "ohm"
		}
		if strings.Contains(at, "of=diode") {
			continue
		}
		d.post(at, http.StatusSeeOther, "value", value, "unit", unit)
	}
	d.post("/j/BTO/d/staff/find", http.StatusSeeOther, "look", "lock holds; yes", "in", "release")
	d.has(d.get("/j/BTO/d/staff/find", http.StatusOK), "lock holds: yes (powered, manual release operated)")
	d.plain("/j/BTO/d/staff/find")

	id := html.UnescapeString(regexp.MustCompile(`name="mended" value="([^"]*)"`).FindStringSubmatch(d.get("/j/BTO/d/staff/find", http.StatusOK))[1])
	var name string
	for _, f := range d.atJob().desk.faults().Of("staff") {
		if f.ID == id {
			name = f.Name
		}
	}
	if name == "" {
		t.Fatalf("%s is no fault of the door", id)
	}
	d.post("/j/BTO/d/staff/find", http.StatusSeeOther, "mended", id)
	page := d.get("/j/BTO/d/staff/find", http.StatusOK)
	d.has(page, "mended: "+name)
	if strings.Contains(seenOn(page), "lock holds: yes (") {
		t.Error("what was seen before still counts")
	}
	d.plain("/j/BTO/d/staff/find")
	d.post("/j/BTO/d/staff/find", http.StatusUnprocessableEntity, "mended", "open:nowhere")

	for _, l := range d.atJob().desk.landingsOf("staff") {
		d.post("/j/BTO/d/staff/do/land", http.StatusSeeOther, "core", l.Conductor.ID, "end", wiring.End{Device: l.Device, Pin: l.Terminal.Pin}.String())
	}
	for _, at := range []string{"", "/do/first", "/do/land", "/do/read", "/do/test", "/do/hand"} {
		d.plain("/j/BTO/d/staff" + at)
	}
	d.plain("/j/BTO/record")
	for _, at := range links(d.get("/j/BTO/record", http.StatusOK), "/j/BTO/entry/")[:20] {
		d.plain(at)
	}
	d.has(d.get("/j/BTO/record", http.StatusOK), "works at staff: Land the cores", "seen at staff: mended: "+name)
}

func TestStaleTicksAreToldByLabels(t *testing.T) {
	d := withDemo(t)
	for _, l := range d.atJob().desk.landingsOf("staff") {
		d.post("/j/BTO/d/staff/do/land", http.StatusSeeOther, "core", l.Conductor.ID, "end", wiring.End{Device: l.Device, Pin: l.Terminal.Pin}.String())
	}
	if _, err := d.journal.Write(context.Background(), "mw", journal.Edited{Job: "BTO", Object: "doors/staff", Field: "supervision", Value: "double"}); err != nil {
		t.Fatal(err)
	}
	if stale := d.atJob().shelf.stale; len(stale) == 0 {
		t.Fatal("nothing is stale")
	}
	d.has(d.get("/j/BTO/d/staff/do/land", http.StatusOK), "their ticks no longer count")
	d.plain("/j/BTO/d/staff/do/land")
	d.plain("/j/BTO/record")
}
