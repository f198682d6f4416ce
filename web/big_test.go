package web

import (
	"context"
	"net/http"
	"testing"

	"doorwright/internal/site"
	"doorwright/journal"
)

// BenchmarkChangeOfOneDoorOf500 is a change of one door that is looked at in a job of 500.
func BenchmarkChangeOfOneDoorOf500(b *testing.B) { changeOneOf500(b, "") }

// BenchmarkNearAChangeOfOneDoorOf500 is what is told of the same change while the form is filled in.
func BenchmarkNearAChangeOfOneDoorOf500(b *testing.B) { changeOneOf500(b, "/look") }

func changeOneOf500(b *testing.B, look string) {
	d := newDesktop(b)
	d.post("/people", http.StatusSeeOther, "name", "Mara Wren", "initials", "mw")
	if _, err := d.journal.Write(context.Background(), "mw", journal.Imported{Job: "SITE", Document: string(site.Generate(500))}); err != nil {
		b.Fatal(err)
	}
	id := d.journal.State().Jobs[0].ID
	register := d.get("/j/"+id, http.StatusOK)
	door := links(register, "/d/")[0]
	page := d.get(door+"/plan", http.StatusOK)
	for i := 0; b.Loop(); i++ {
		length := []string{"7 m", "8 m", "9 m", "11 m"}[i%4]
		d.post(door+"/plan"+look, http.StatusOK, with(filledForm(page), "cable-length", length)...)
	}
}
