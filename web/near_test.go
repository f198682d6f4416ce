package web

import (
	"net/http"
	"strings"
	"testing"
)

func TestWhatAChangeDoesAtADoorIsToldWhileTheFormIsFilledIn(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/visitor/plan"
	form := filledForm(d.get(at, http.StatusOK))
	d.has(d.post(at+"/look", http.StatusOK, form...).Body.String(), "No finding goes and none comes")
	got := d.post(at+"/look", http.StatusOK, with(form, "releases.1.model", "")...).Body.String()
	d.has(got, "made worse", "manual release")
	if strings.Contains(got, " 0 findings made worse") {
		t.Error("a magnet without a manual release is not worse")
	}
	d.has(d.post(at+"/look", http.StatusOK, with(form, "cable-length", "long")...).Body.String(), "long")
	d.has(d.post(at+"/look", http.StatusOK, with(form, "controller", "C9")...).Body.String(), "C9")
	d.has(d.post(at+"/look", http.StatusOK, "base", form[1], "text", "title: [").Body.String(), "found error", "not readable as YAML")
	d.has(d.post(at+"/look", http.StatusOK, with(form, "base", "0")...).Body.String(), "look at it again")
}

// What is told while the form is filled in is what the whole look tells of the same change.
func TestWhatIsToldOfADoorIsInTheWholeLookToo(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/visitor/plan"
	form := with(filledForm(d.get(at, http.StatusOK)), "cable-length", "400 m")
	near := d.post(at+"/look", http.StatusOK, form...).Body.String()
	whole := d.post(at, http.StatusOK, form...).Body.String()
	worse := foundIn(near)
	if len(worse) == 0 {
		t.Fatal("400 m of cable are as good as a few")
	}
	for _, f := range worse {
		if !strings.Contains(whole, f) {
			t.Errorf("only near the door: %s", f)
		}
	}
}

// foundIn are the findings that a page tells of.
func foundIn(page string) []string {
	var all []string
	for _, part := range strings.Split(page, `<p class="found`)[1:] {
		_, part, _ = strings.Cut(part, ">")
		part, _, _ = strings.Cut(part, "</p>")
		all = append(all, part)
	}
	return all
}
