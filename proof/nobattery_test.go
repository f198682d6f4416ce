package proof_test

import (
	"strings"
	"testing"
)

// bare is a door whose supply has no battery.
const bare = `job: NB
title: No battery
rules: [uk-b]
supplies:
  PS1: {model: supply-12-5, place: D1.box}
controllers:
  C1: {model: controller-1-12, place: D1.box, feed: PS1}
doors:
  D1:
    title: Gauge room
    escape: out
    fire-rated: no
    controller: C1
    entry: reader-pulse
    locks: [{model: magnet-12, handle: none, on-battery: let-go}]
    exit: [exit-button]
    contacts: [contact-surface]
    releases: [release-2]
    fire: fire-interface
`

// Where no battery is fitted nothing speaks of one that is full or at its end.
func TestNoBatteryIsToldAsSuch(t *testing.T) {
	r := prove(t, []byte(bare))
	title := ""
	for _, row := range r.Doors[0].Matrix {
		switch {
		case row.Cause == "mains-flat":
			t.Error("a battery that is not there is at its end")
		case row.Cause == "mains" && row.With == "":
			title = row.Title
		}
	}
	if title != "mains lost, no battery fitted" {
		t.Errorf("the cause is called %q", title)
	}
	dark := 0
	for _, f := range r.Findings {
		if strings.Contains(f.Cause, "battery full") || strings.Contains(f.Cause, "at its end") {
			t.Errorf("%s: %s", f.What, f.Cause)
		}
		if f.What == "C1 gets no voltage while mains is lost: PS1 has no battery" {
			dark++
		}
	}
	if dark != 1 {
		t.Errorf("the dark controller is told %d times, want once", dark)
	}
	with := strings.Replace(bare, "place: D1.box}", "place: D1.box, battery: battery-12-38}", 1)
	for _, row := range prove(t, []byte(with)).Doors[0].Matrix {
		if row.Cause == "mains" && row.Title != "mains lost, battery full" {
			t.Errorf("with a battery the cause is called %q", row.Title)
		}
	}
}
