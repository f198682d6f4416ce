package web

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"

	"doorwright/draw"
	"doorwright/journal"
	"doorwright/paper"
)

// paperRow is one paper that can be made.
type paperRow struct {
	Name, Title string
	make        func(*paper.Work, paper.Frame) (*paper.Paper, error)
}

// labelSheet is a common grid of labels: 3 by 8 of 64 mm by 34 mm, as the command has it; others by the command.
func labelSheet(size paper.Size) paper.Stock {
	return paper.Stock{Page: size, Columns: 3, Rows: 8, Wide: 64, High: 34, Across: 64, Down: 34}.Centred()
}

// papersOf lists the papers of a job.
func papersOf(at *atJob) []paperRow {
	all := []paperRow{
		{Name: "job-set", Title: "Job set", make: func(w *paper.Work, f paper.Frame) (*paper.Paper, error) { return w.JobSet(f), nil }},
		{Name: "handover", Title: "Handover pack", make: func(w *paper.Work, f paper.Frame) (*paper.Paper, error) { return w.Handover(f), nil }},
		{Name: "door-sheets", Title: "Door sheets of all doors", make: (*paper.Work).DoorSheets},
		{Name: "labels", Title: "Labels, 3 by 8 on a sheet", make: func(w *paper.Work, f paper.Frame) (*paper.Paper, error) { return w.Labels(labelSheet(f.Size), nil) }},
		{Name: "labels-12", Title: "Labels on 12 mm tape", make: func(w *paper.Work, _ paper.Frame) (*paper.Paper, error) {
			return w.Labels(paper.Tape(draw.MM(12)), nil)
		}},
	}
	for _, d := range at.desk.job.Doors {
		all = append(all, paperRow{Name: "door-" + d.ID, Title: "Door sheet: " + d.Title, make: func(w *paper.Work, f paper.Frame) (*paper.Paper, error) {
			return w.DoorSheet(f, d)
		}})
	}
	return all
}

func (h *handler) papers(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	h.show(w, r, papersPage(h.jobSheet(r, at, "Papers", "Papers"), papersOf(at)))
}

// paper makes one paper.
func (h *handler) paper(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	v := r.URL.Query()
	size, ok := paper.FindSize(strings.ToLower(v.Get("size")))
	if !ok {
		size = paper.Sizes()[0]
	}
	for _, p := range papersOf(at) {
		if p.Name != v.Get("what") {
			continue
		}
		today := h.Now()
		today.Timed, today.Hour, today.Minute = false, 0, 0
		frame := paper.Frame{Size: size, Owner: v.Get("owner"), Made: h.who(r), Issued: today}
		work := paper.NewWork(at.desk.exam, at.shelf.Record)
		heads, err := h.heads(r)
		if err != nil {
			h.refuse(w, r, http.StatusInternalServerError, "The heads of the logs cannot be read", err.Error())
			return
		}
		work.Heads, work.Withdrawn = heads, h.withdrawnWords(at)
		made, err := p.make(work, frame)
		var data []byte
		if err == nil {
			data, err = made.PDF()
		}
		if err != nil {
			h.refuse(w, r, http.StatusInternalServerError, "The paper cannot be made", err.Error())
			return
		}
		send(w, "application/pdf", fmt.Sprintf("%s-%s.pdf", at.shelf.ID, p.Name), data)
		return
	}
	h.refuse(w, r, http.StatusNotFound, "There is no such paper", "Choose one of the list.")
}

// heads are those of all logs, as a paper shows them.
func (h *handler) heads(r *http.Request) ([]paper.Head, error) {
	report, err := h.Journal.Verify(r.Context())
	if err != nil {
		return nil, err
	}
	var all []paper.Head
	for i, x := range report.Heads {
		all = append(all, paper.Head{Log: x.Log, Size: x.Size, Root: x.Root.String(), Signed: string(report.Signed[i])})
	}
	return all, nil
}

// send gives a file to keep.
func send(w http.ResponseWriter, kind, name string, data []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Header().Set("Cache-Control", "no-store")
	w.Write(data) //nolint:errcheck // whoever asked is gone
}

func (h *handler) workbook(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	data, err := paper.Workbook(paper.NewWork(at.desk.exam, at.shelf.Record).Schedules())
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The workbook cannot be made", err.Error())
		return
	}
	send(w, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", at.shelf.ID+".xlsx", data)
}

func (h *handler) scheduleFile(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	name, found := strings.CutSuffix(r.PathValue("file"), ".csv")
	for _, k := range paper.ScheduleKinds() {
		if found && k.Name == name {
			s := paper.NewWork(at.desk.exam, at.shelf.Record).Schedule(k)
			send(w, "text/csv; charset=utf-8", at.shelf.ID+"-"+name+".csv", s.CSV())
			return
		}
	}
	h.nowhere(w, r)
}

// pack gives the whole journal.
func (h *handler) pack(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	var b bytes.Buffer
	if err := h.Journal.Export(r.Context(), &b); err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The pack cannot be made", err.Error())
		return
	}
	send(w, "application/zip", at.shelf.ID+journal.PackSuffix, b.Bytes())
}
