package paper

import (
	"strings"
	"sync"

	"doorwright/job"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/situation"
)

// reading is one reading of the short list of a door, with where a record has what was measured.
type reading struct {
	meter.Listed
	spot   record.Spot
	shared bool   // at a unit that serves other doors too
	where  string // both leads: "C1 REX1 against 0V"
}

// shortLists are the readings of doors, each made when it is first asked for: they cost more than the rest of a paper.
type shortLists struct {
	mu sync.Mutex
	of map[string][]reading // by door
}

// readers is how many doors are read at once: what a phone or a small machine has.
const readers = 2

// readAll makes the lists of all doors, some at once.
func (w *Work) readAll() {
	next := make(chan *job.Door)
	var done sync.WaitGroup
	for range readers {
		done.Go(func() {
			for d := range next {
				w.readingsOf(d)
			}
		})
	}
	for _, d := range w.Job.Doors {
		next <- d
	}
	close(next)
	done.Wait()
}

// readingsOf are the readings of a door.
func (w *Work) readingsOf(d *job.Door) []reading {
	w.readings.mu.Lock()
	all, known := w.readings.of[d.ID]
	w.readings.mu.Unlock()
	if known {
		return all
	}
	all = w.readingsAt(w.Examination.Site, d)
	w.readings.mu.Lock()
	defer w.readings.mu.Unlock()
	if w.readings.of == nil {
		w.readings.of = map[string][]reading{}
	}
	w.readings.of[d.ID] = all
	return all
}

// firstFixOf is what is measured on the runs of a door before anything is connected.
func (w *Work) firstFixOf(d *job.Door) []meter.FirstFix {
	return meter.FirstFixOf(w.Plan, d.ID, meter.Default(), nil)
}

func (w *Work) readingsAt(site *situation.Site, d *job.Door) []reading {
	book, list := meter.ShortList(site, d, meter.Default())
	all := make([]reading, len(list))
	for i, l := range list {
		red, black := book.Label(l.Pair.At), book.Label(l.Pair.To)
		x := reading{Listed: l, spot: record.SpotOf(w.Plan, l.Pair)}
		x.where = red + " against " + strings.TrimPrefix(black, x.spot.Device+" ")
		if u := w.Plan.Device(x.spot.Device); u != nil {
			x.shared = u.Door != d.ID && u.ID != d.Controller.ID
		}
		all[i] = x
	}
	return all
}

// measured is what was measured of a reading; nil when nothing was.
func (w *Work) measured(x reading) *record.Reading {
	if w.Record == nil {
		return nil
	}
	return w.Record.Reading(x.spot, x.Pair.Quantity)
}

// verdictOf says whether a reading is as expected.
func verdictOf(q meter.Quantity, band meter.Band, r *record.Reading) string {
	switch {
	case r.Shows.Quantity != q:
		return "NOT COMPARABLE"
	case band.Holds(r.Shows.Figure()):
		return "within"
	}
	return "OUTSIDE"
}

// deadTable and liveTable list the readings of a door, condition by condition, with what was measured. What was not is a
// box on a sheet to work from, and words on one that is handed over.
func (w *Work) deadTable(f *flow, d *job.Door, all []reading, over bool) {
	w.readingTable(f, d, "Dead test: everything off, proved dead", func(in meter.Condition) bool { return in.Dead() }, all, over)
}

func (w *Work) liveTable(f *flow, d *job.Door, all []reading, over bool) {
	w.readingTable(f, d, "Live test", func(in meter.Condition) bool { return !in.Dead() }, all, over)
}

// readingTable lists those of the readings that are taken in some conditions.
func (w *Work) readingTable(f *flow, d *job.Door, title string, in func(meter.Condition) bool, all []reading, over bool) {
	t := table{columns: []column{
		{title: "where"},
		{title: "band, calculated", right: true},
		{title: "measured", least: 18, boxed: !over},
	}}
	last := meter.Condition{}
	for _, x := range all {
		if !in(x.Pair.In) {
			continue
		}
		if x.Pair.In != last {
			t.part(conditionWords(d, x.Pair.In))
			last = x.Pair.In
		}
		t.add(strings.ReplaceAll(x.where, d.ID+".", ""), calculated(bandWords(x.Pair.Quantity, x.Band)), w.measuredWords(w.measured(x), x.Pair.Quantity, x.Band, over))
	}
	if len(t.rows) == 0 {
		return
	}
	if !over {
		title += toSign
	}
	f.sub(title)
	f.columns(t, 2)
}

// conditionWords is a condition in as few words as a heading has room for.
func conditionWords(d *job.Door, in meter.Condition) string {
	words := map[meter.Act]string{
		meter.Idle: "nothing operated", meter.Button: "exit device held operated", meter.Card: "just after a valid card",
		meter.Release: "manual release operated", meter.DoorOpen: "door open", meter.Fire: "fire signal present",
	}[in.Act]
	if in.Power == meter.Battery {
		words = "on battery, mains off, " + words
	}
	for _, p := range in.Plugs() {
		words = near(d, p) + " pulled, leads into the plug; " + words
	}
	if in.Alone != "" {
		words = near(d, in.Alone) + " alone, its cores off; " + words
	}
	return sentence(words)
}

// measuredWords are the figure that was measured, by whom, when and with which meter.
func (w *Work) measuredWords(r *record.Reading, q meter.Quantity, band meter.Band, over bool) string {
	switch {
	case r == nil && over:
		return markTodo + " not measured"
	case r == nil:
		return ""
	}
	words := shownWords(r)
	if v := verdictOf(q, band, r); v != "within" {
		words += " " + v
	}
	if r.Note != "" {
		words += " (" + r.Note + ")"
	}
	return words + "; " + r.By + ", " + r.On.String() + ", " + r.Meter
}

func shownWords(r *record.Reading) string { return markMeasured + " " + showsWords(r.Shows) }

// toSign leaves room for who measured a table.
const toSign = ". By, on, meter: ______________"

// runTable lists what is measured on the runs of a door before anything is connected, a line for each run.
func (w *Work) runTable(f *flow, d *job.Door, over bool) {
	t := table{columns: []column{
		{title: "run, cable"},
		{title: "cores ring out", least: 14, boxed: !over},
		{title: "loop of two cores", right: true},
		{title: "measured", least: 22, boxed: !over},
		{title: "insulation, 250 V", least: 24, boxed: !over},
		{title: "screen to earth", least: 18, boxed: !over},
	}}
	for _, group := range runsIn(w.firstFixOf(d)) {
		t.add(w.runWords(d, group, over)...)
	}
	if len(t.rows) == 0 {
		return
	}
	title := "First fix: cables alone, cores off at both ends; loops joined at the far end"
	if !over {
		title += toSign
	}
	f.sub(title)
	f.table(t)
}

// runsIn takes the measurements of runs apart, run by run.
func runsIn(all []meter.FirstFix) [][]meter.FirstFix {
	var groups [][]meter.FirstFix
	for i, x := range all {
		if i == 0 || x.Run != all[i-1].Run {
			groups = append(groups, nil)
		}
		groups[len(groups)-1] = append(groups[len(groups)-1], x)
	}
	return groups
}

// runWords are the cells of one run.
func (w *Work) runWords(d *job.Door, all []meter.FirstFix, over bool) []string {
	none := func(limit string) string {
		if over {
			return markTodo + " not measured"
		}
		return markPrompt + limit
	}
	cells := []string{"", none(""), "", none(""), none(""), "no screen"}
	var loops, shown []string
	for _, x := range all {
		limit := calculated(bandWords(meter.Ohms, x.Band))
		at := map[string]int{"ring out": 1, "insulation": 4, "screen": 5}[x.What]
		if r := w.measuredRun(x); r != nil && at > 0 {
			cells[at] = w.measuredWords(r, meter.Ohms, x.Band, over)
			continue
		}
		switch x.What {
		case "loop":
			if len(loops) == 0 || loops[len(loops)-1] != limit {
				loops = append(loops, limit)
			}
			if r := w.measuredRun(x); r != nil {
				shown = append(shown, x.Red+"/"+x.Black+" "+w.measuredWords(r, meter.Ohms, x.Band, over))
			}
		case "insulation":
			cells[4] = none(bandWords(meter.Ohms, x.Band))
		case "screen":
			cells[5] = none(bandWords(meter.Ohms, x.Band))
		}
	}
	for _, r := range w.Job.Runs {
		if r.ID == all[0].Run {
			cells[0] = near(d, r.ID) + ", " + r.TypeID + ", " + w.Job.Measures.Length(r.Length())
		}
	}
	cells[2] = strings.Join(loops, "; ")
	if len(shown) > 0 {
		cells[3] = strings.Join(shown, "; ")
	}
	return cells
}

func (w *Work) measuredRun(x meter.FirstFix) *record.Reading {
	if w.Record == nil {
		return nil
	}
	return w.Record.Reading(record.SpotOfRun(x), meter.Ohms)
}
