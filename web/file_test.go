package web

import (
	"encoding/csv"
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"
)

// Every table of the pages of a job is to be had as a file, with as many rows as the page shows.
func TestEveryTableIsToBeHadAsAFile(t *testing.T) {
	d := withDemo(t)
	page := d.get("/j/BTO/plans", http.StatusOK)
	d.post("/j/BTO/plans", http.StatusSeeOther, append(hiddenFields(page), "revision", "A")...)
	for _, at := range []string{"/j/BTO", "/j/BTO/supplies", "/j/BTO/rules", "/j/BTO/record", "/j/BTO/plans", "/j/BTO/d/visitor", "/j/BTO/schedules?show=cables"} {
		page := d.get(at, http.StatusOK)
		tables := strings.Count(page, `<table class="rows`)
		files := regexp.MustCompile(`href="([^"]*csv[^"]*)"`).FindAllStringSubmatch(page, -1)
		if tables == 0 || len(files) != tables {
			t.Errorf("%s: %d tables, %d files", at, tables, len(files))
		}
		for _, f := range files {
			text := d.get(html.UnescapeString(f[1]), http.StatusOK)
			rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
			if err != nil || len(rows) < 2 {
				t.Errorf("%s: %d rows, %v", f[1], len(rows), err)
			}
		}
	}
	d.get("/j/BTO/rules?csv=nothing", http.StatusNotFound)
	rows, err := csv.NewReader(strings.NewReader(d.get("/j/BTO?csv=register&q=visitor", http.StatusOK))).ReadAll()
	if err != nil || len(rows) != 9 || rows[1][0] != "visitor" {
		t.Errorf("the register has %d rows, %v", len(rows), err)
	}
}
