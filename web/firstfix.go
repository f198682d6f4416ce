package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"doorwright/journal"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/unit"
)

// firstCautions stand where cables are measured before anything is connected.
func firstCautions() []string {
	return []string{
		"Every unit is off both ends of the cable: 250 V of an insulation tester destroys electronics, and frightens whoever holds the far end.",
		"Prove the cores dead first: another trade may have connected them.",
	}
}

// firsts are the measurements of first fix on the runs of the door.
func (at *atDoor) firsts() []meter.FirstFix {
	return meter.FirstFixOf(at.desk.plan, at.door.ID, meter.Default(), nil)
}

// firstReading is the last reading of a measurement at first fix, and whether it is within its band; nil when there is none.
func (at *atDoor) firstReading(x meter.FirstFix) (*record.Reading, bool) {
	r := at.shelf.Record.Reading(record.SpotOfRun(x), meter.Ohms)
	if r == nil {
		return nil, false
	}
	v := r.Shows.Figure()
	if x.Band.Open {
		return r, v >= x.Band.Low // over range is infinite
	}
	return r, x.Band.Holds(v)
}

func (at *atDoor) firstURL(n int) string { return fmt.Sprintf("%s/do/first/one?n=%d", at.at, n) }

// firstFix lists what is measured on the cables of a door before anything is connected.
func (h *handler) firstFix(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok {
		return
	}
	v := readingsView{Tabs: at.workTabs("/do/first"), Cautions: firstCautions()}
	good, all := 0, at.firsts()
	var rows []readingRow
	for n, x := range all {
		row := readingRow{URL: at.firstURL(n), Says: x.Run + ", " + x.What + coresOf(x), Why: x.Why, Band: bandWords(meter.Ohms, x.Band)}
		if m, in := at.firstReading(x); m != nil {
			row.Showed, row.Class = m.Shows.String()+", "+at.shelf.Record.Name(m.By)+", "+m.On.String(), "error"
			switch {
			case in && x.Doubtful(m.Shows.Figure()):
				row.Class = "advice"
			case in:
				row.Class = "good"
				good++
			}
		}
		rows = append(rows, row)
	}
	v.sort(rows)
	v.Says = fmt.Sprintf("%s on the cables of this door, before anything is connected. %d are taken and good.", counted(len(all), "measurement", "measurements"), good)
	h.show(w, r, readingsPage(h.doorSheet(r, at, "At work"), v))
}

func coresOf(x meter.FirstFix) string {
	if x.Red == "" {
		return ""
	}
	return ", " + x.Red + " and " + x.Black
}

// first is the measurement that an address names.
func (h *handler) first(w http.ResponseWriter, r *http.Request, at *atDoor) (n int, all []meter.FirstFix, ok bool) {
	all = at.firsts()
	n, err := strconv.Atoi(r.URL.Query().Get("n"))
	if err != nil || n < 0 || n >= len(all) {
		h.refuse(w, r, http.StatusNotFound, "There is no such measurement", "The cables of the door may have changed: begin again at the list.")
		return 0, nil, false
	}
	return n, all, true
}

func (h *handler) firstOne(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.doorOf(w, r); ok {
		h.showFirst(w, r, at, "")
	}
}

func (h *handler) showFirst(w http.ResponseWriter, r *http.Request, at *atDoor, wrong string) {
	n, all, ok := h.first(w, r, at)
	if !ok {
		return
	}
	x := all[n]
	v := readingView{
		Stale: at.staleWords(), Before: firstCautions(), In: x.Run + ", " + x.What + ": " + x.Where, Why: x.Why, Band: bandWords(meter.Ohms, x.Band),
		BackURL: at.at + "/do/first", Wrong: wrong, Value: r.PostForm.Get("value"), Units: units(meter.Ohms), Next: "Next measurement", Back: "All measurements",
	}
	if x.Red != "" {
		v.Red, v.Black = x.Run+" "+x.Red, x.Run+" "+x.Black
	}
	m, in := at.firstReading(x)
	if m != nil {
		v.Verdict, v.VerdictClass = m.Shows.String()+" is as it should be", "good"
		switch {
		case !in:
			v.Verdict, v.VerdictClass = m.Shows.String()+" is not as it should be", "error"
		case x.Doubtful(m.Shows.Figure()):
			v.Verdict, v.VerdictClass = m.Shows.String()+" is enough, and yet little for a new cable: look for water or a staple", "advice"
		}
		// The first loop of a run tells its length.
		if n == slices.IndexFunc(all, func(o meter.FirstFix) bool { return o.Run == x.Run && o.What == "loop" }) {
			v.Length = at.lengthBy(x.Run, m)
		}
	}
	if m != nil && n+1 < len(all) {
		v.NextURL = at.firstURL(n + 1)
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, readingPage(h.leafSheet(r, at, fmt.Sprintf("Measurement %d of %d", n+1, len(all)), "/do/first"), v))
}

// lengthView is the length that a measured loop stands for, and the form that takes it into the plan.
type lengthView struct {
	Says, Action, Base, Path, Value string
}

// lengthBy is how long a run is by its loop; nil where nothing follows, as of a run that is not written in the document.
func (at *atDoor) lengthBy(id string, m *record.Reading) *lengthView {
	for _, run := range at.desk.job.Runs {
		if run.ID != id || run.Assumed {
			continue
		}
		length, err := meter.LoopLength(run, unit.Ohm(m.Shows.Figure()))
		if err != nil {
			return nil
		}
		told := at.desk.job.Measures.Length(length)
		return &lengthView{
			Says:   fmt.Sprintf("By this loop %s is %s long at 20 C; the plan has %s.", run.ID, told, at.desk.job.Measures.Length(run.Length())),
			Action: at.at + "/plan", Base: mark(at.shelf.Document), Path: "set.runs." + run.ID + ".pulled", Value: told,
		}
	}
	return nil
}

// firstMeasured keeps what the meter showed.
func (h *handler) firstMeasured(w http.ResponseWriter, r *http.Request) {
	at, ok := h.doorOf(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	n, all, ok := h.first(w, r, at)
	if !ok {
		return
	}
	shows, err := shownOf(meter.Ohms, r.PostForm.Get("value"), r.PostForm.Get("unit"))
	if err != nil {
		h.showFirst(w, r, at, err.Error())
		return
	}
	s := record.SpotOfRun(all[n])
	m := record.Reading{Device: s.Device, Red: s.Red, Black: s.Black, Condition: s.Condition, Shows: shows, Meter: h.meter(), Act: h.act(r)}
	if h.write(w, r, append(h.stopped(r, at, "/do/first"), journal.Measured{Job: at.shelf.ID, Reading: m})...) {
		http.Redirect(w, r, at.firstURL(n), http.StatusSeeOther)
	}
}
