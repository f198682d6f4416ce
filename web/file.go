package web

import (
	"net/http"

	"doorwright/paper"
)

// filed gives each table an address at which it is to be had as a file, and answers with the file when that is what was
// asked for; then it is true and the page is not wanted.
func (h *handler) filed(w http.ResponseWriter, r *http.Request, at *atJob, tables ...*tableView) bool {
	query := r.URL.Query()
	asked := query.Get("csv")
	for _, t := range tables {
		if asked != "" && asked == t.ID {
			send(w, "text/csv; charset=utf-8", at.shelf.ID+"-"+t.ID+".csv", t.csv())
			return true
		}
		query.Set("csv", t.ID)
		t.CSV = r.URL.Path + "?" + query.Encode()
	}
	if asked != "" {
		h.nowhere(w, r)
	}
	return asked != ""
}

// csv is the table as text with commas.
func (t *tableView) csv() []byte {
	s := paper.Schedule{Name: t.ID, Title: t.Title}
	for _, h := range t.Head {
		s.Columns = append(s.Columns, paper.Column{Title: h})
	}
	for _, row := range t.Rows {
		var cells []paper.Cell
		for _, c := range row {
			cells = append(cells, paper.Cell{Text: c.Text})
		}
		s.Rows = append(s.Rows, cells)
	}
	return s.CSV()
}
