package web

import (
	"net/http"
	"strings"
	"testing"
)

// Volts that no supply gives may be mains: neither the reading nor the search leads on, until it is taken back.
func TestWhatMayBeMainsIsSaidAndNothingIsSearched(t *testing.T) {
	d := withDemo(t)
	at := "/j/BTO/d/plant/do"
	one := ""
	for _, l := range links(d.get(at+"/read", http.StatusOK), "/do/read/one") {
		if strings.Contains(l, "of=volts") && strings.Contains(l, "in=idle") {
			one = l
			break
		}
	}
	d.post(one, http.StatusSeeOther, "value", "230", "unit", "V")
	page := d.get(one, http.StatusOK)
	d.has(page, "mains may have got into this circuit")
	if strings.Contains(page, "Find what is wrong") {
		t.Error("a search is offered where mains may be")
	}
	page = d.get("/j/BTO/d/plant/find", http.StatusOK)
	d.has(page, "Hands and leads off", "Nothing is searched until this is settled")
	if strings.Contains(page, "Suspects") {
		t.Error("suspects are named where mains may be")
	}
}
