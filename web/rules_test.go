package web

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/internal/site"
	"doorwright/journal"
)

// imported is a desktop with one job, whose pages are at the address given.
func imported(t *testing.T, name string, document []byte) (d *desktop, at string) {
	t.Helper()
	d = newDesktop(t)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: name, Document: string(document)}); err != nil {
		t.Fatal(err)
	}
	return d, "/j/" + name
}

// What is broken and what a person must judge stands open, each rule that must be judged once; the rest is folded away.
func TestRulesThatAreBrokenOrToBeJudgedAreNotFolded(t *testing.T) {
	d, at := imported(t, "BTO", demo.Flawed)
	page := d.get(at+"/rules", http.StatusOK)
	d.has(groupOn(page, "broken"), `<section id="broken"`, "R-", at+"/d/")
	d.has(groupOn(page, "judge"), `<section id="judge"`, "every door")
	d.has(page, `href="#broken"`, `href="#judge"`)
	if strings.Contains(page, "No rule that is calculated is broken") {
		t.Error("broken rules are told of as held")
	}
	folded := groupOn(page, "door-staff")
	d.has(folded, `<details id="door-staff"`, "rules held", "assumptions", "Rules at Staff door", "doors.staff.")
	broken := strings.Count(groupOn(page, "broken"), ">broken<")
	if all := strings.Count(page, ">broken<"); broken == 0 || all != 2*broken {
		t.Errorf("%d broken rules at the top, %d in all: not each once more with its door", broken, all)
	}
	d.has(d.get(at+"/rules?csv=broken", http.StatusOK), "door,rule,says,stands")

	d = withDemo(t)
	page = d.get("/j/BTO/rules", http.StatusOK)
	d.has(page, "No rule that is calculated is broken, under what is assumed.")
	if groupOn(page, "broken") != "" {
		t.Error("a group of no broken rules")
	}
}

// Of many doors the one is told of that is asked for, and that one is open.
func TestRulesOfOneOfManyDoors(t *testing.T) {
	d, at := imported(t, "SITE", site.Generate(mostRead+1))
	page := d.get(at+"/rules", http.StatusOK)
	to := links(groupOn(page, "doors"), "/rules?door=")
	if len(to) != mostRead+1 || strings.Contains(page, "Rules at ") {
		t.Fatalf("%d doors lead to their rules", len(to))
	}
	door, _, _ := strings.Cut(to[0], "#")
	d.has(d.get(door, http.StatusOK), "Rules at ", `<section id="door-`)
}
