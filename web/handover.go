package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"doorwright/journal"
	"doorwright/record"
)

// handoverView is a door that is to be handed over, or was.
type handoverView struct {
	Tabs        workTabsView
	Says        string
	First, Open []openPoint
	Handed      *handedView
	Seal        string
	SheetURL    string
	JobURL      string
}

// handedView is a handover that was written down.
type handedView struct {
	Says string
	Open []string
}

func handedOf(rec *record.Record, x *record.Handover) *handedView {
	if x == nil {
		return nil
	}
	says := "Handed over to " + x.To
	if x.Role != "" {
		says += ", " + x.Role
	}
	says += fmt.Sprintf(", by %s, %s, built to %s.", rec.Name(x.By), x.On, revisionOf(x.Revision))
	if x.Note != "" {
		says += " " + x.Note
	}
	return &handedView{says, x.Open}
}

// handPoints are all open points of a door, its readings among them.
func (at *atDoor) handPoints() ([]openPoint, error) {
	readings, err := at.openReadings()
	return append(at.openPoints(), readings...), err
}

// handover shows what is open at a door before it is handed over.
func (h *handler) handover(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	h.tryFaults(at.atJob, at.door.ID)
	all, err := at.handPoints()
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The readings cannot be worked out", err.Error())
		return
	}
	v := handoverView{
		Tabs: at.workTabs("/do/hand"), Handed: handedOf(at.shelf.Record, at.shelf.Record.HandedAt(at.door.ID)), Seal: sealOfPoints(all),
		SheetURL: at.home + "/paper?what=door-" + at.door.ID + "&size=A4", JobURL: at.home + "/handover",
		Says: "Nothing is in the way.",
	}
	for _, p := range all {
		if p.First {
			v.First = append(v.First, p)
		} else {
			v.Open = append(v.Open, p)
		}
	}
	if len(v.First) > 0 {
		v.Says = counted(len(v.First), "thing", "things") + " in the way."
	}
	if len(v.Open) > 0 {
		v.Says += " " + counted(len(v.Open), "point", "points") + " open besides."
	}
	h.show(w, r, handoverPage(h.doorSheet(r, at, "At work"), v))
}

// taker is who takes over, as a form says it.
type taker struct{ to, role, note string }

func takerOf(r *http.Request) (taker, string) {
	line := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	t := taker{line("to"), line("role"), line("note")}
	switch {
	case t.to == "" || len(t.to) > mostName || len(t.role) > mostName:
		return t, "Write the full name of who takes it over, in at most 120 letters."
	case len(t.note) > mostNote:
		return t, "Write less than 2000 letters."
	}
	return t, ""
}

// handed keeps that somebody takes over a door.
func (h *handler) handed(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	all, err := at.handPoints()
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The readings cannot be worked out", err.Error())
		return
	}
	t, wrong := takerOf(r)
	code := http.StatusUnprocessableEntity
	switch {
	case inTheWay(all):
		wrong = "What stands in the way is put right first."
	case wrong == "" && r.PostForm.Get("seal") != sealOfPoints(all):
		code, wrong = http.StatusConflict, "What is open has changed since this page was opened: look at it again."
	}
	if wrong != "" {
		h.refuse(w, r, code, "The door was not handed over", wrong)
		return
	}
	if h.write(w, r, append(h.stopped(r, at, "/do/hand"), at.handing(t.to, t.role, t.note, all, h.act(r)))...) {
		http.Redirect(w, r, at.at+"/do/hand", http.StatusSeeOther)
	}
}

// jobHandoverView is a job that is to be handed over.
type jobHandoverView struct {
	Says, Seal, Heads string
	Doors             []handRow
	CanHand           bool
}

// handRow is a door in the list of what is handed over.
type handRow struct {
	ID, Title, URL, Handed string
	Stage                  stage
	First, Open            []string
	Seal                   string
	Can                    bool // it may be handed over now
}

// handRows lists the doors of a job with what is open, but for the readings that were not taken.
func (at *atJob) handRows() []handRow {
	var rows []handRow
	for _, d := range at.desk.job.Doors {
		on := &atDoor{at, d, at.home + "/d/" + d.ID}
		row := handRow{ID: d.ID, Title: d.Title, URL: on.at + "/do/hand", Stage: at.progress(d).stage}
		points := on.openPoints()
		row.Seal = sealOfPoints(points)
		for _, p := range points {
			if p.First {
				row.First = append(row.First, p.Says)
			} else {
				row.Open = append(row.Open, p.Says)
			}
		}
		if x := at.shelf.Record.HandedAt(d.ID); x != nil {
			row.Handed = x.To + ", " + x.On.String()
		}
		row.Can = len(row.First) == 0 && row.Stage != handedOver
		rows = append(rows, row)
	}
	return rows
}

func sealOfRows(rows []handRow) string {
	var says []string
	for _, r := range rows {
		says = append(says, r.ID+" "+r.Handed+" "+r.Seal)
	}
	return sealOf(says)
}

// jobHandover shows how far a job is from being handed over, and gives what is handed over with it.
func (h *handler) jobHandover(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	heads, err := h.signedHeads(r)
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The heads of the logs cannot be read", err.Error())
		return
	}
	h.tryFaults(at, "")
	rows := at.handRows()
	v := jobHandoverView{Doors: rows, Seal: sealOfRows(rows), Heads: heads}
	done, free := 0, 0
	for _, x := range rows {
		if x.Stage == handedOver {
			done++
		} else if x.Can {
			free++
		}
	}
	v.CanHand = free > 0
	v.Says = fmt.Sprintf("%d of %s handed over.", done, counted(len(rows), "door is", "doors are"))
	switch {
	case done == len(rows):
	case free == 0:
		v.Says += " At each of the others something must be put right first."
	default:
		v.Says += fmt.Sprintf(" At %d of the others nothing is in the way.", free)
	}
	h.show(w, r, jobHandoverPage(h.jobSheet(r, at, "Hand over", "Hand over"), v))
}

// jobHanded keeps that somebody takes over several doors.
func (h *handler) jobHanded(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	rows := at.handRows()
	t, wrong := takerOf(r)
	var bodies []journal.Body
	for _, x := range rows {
		if !slices.Contains(r.PostForm["door"], x.ID) {
			continue
		}
		if !x.Can {
			wrong = x.ID + ": what stands in the way is put right first, and nothing is handed over twice."
		}
		on := &atDoor{at, at.desk.door(x.ID), ""}
		bodies = append(bodies, on.handing(t.to, t.role, t.note, on.openPoints(), h.act(r)))
	}
	code := http.StatusUnprocessableEntity
	switch {
	case wrong != "":
	case len(bodies) == 0 || len(bodies) != len(r.PostForm["door"]):
		wrong = "Choose the doors that are handed over."
	case r.PostForm.Get("seal") != sealOfRows(rows):
		code, wrong = http.StatusConflict, "What is open has changed since this page was opened: look at it again."
	}
	if wrong != "" {
		h.refuse(w, r, code, "Nothing was handed over", wrong)
		return
	}
	if h.write(w, r, bodies...) {
		http.Redirect(w, r, at.home+"/handover", http.StatusSeeOther)
	}
}

// signedHeads are the signed heads of all logs as text, as doorwright journal heads prints them.
func (h *handler) signedHeads(r *http.Request) (string, error) {
	report, err := h.Journal.Verify(r.Context())
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for _, head := range report.Signed {
		if len(head) > 0 {
			fmt.Fprintf(&b, "%s\n", head)
		}
	}
	return b.String(), nil
}

// headsFile gives the signed heads as a file for another party to keep.
func (h *handler) headsFile(w http.ResponseWriter, r *http.Request) {
	heads, err := h.signedHeads(r)
	if err != nil {
		h.refuse(w, r, http.StatusInternalServerError, "The heads of the logs cannot be read", err.Error())
		return
	}
	send(w, "text/plain; charset=utf-8", "heads.txt", []byte(heads))
}
