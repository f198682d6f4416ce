package paper

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/draw"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/rules"
)

// Handover is the pack that is left with the client: as-built drawings, what was measured and tested, what is open,
// what
// was assumed, batteries and maintenance. It is built from the record; what was not done says so.
func (w *Work) Handover(f Frame) *Paper {
	f.Kind, f.Number, f.Title, f.Revision = "Handover pack", w.Job.ID, w.Job.Title, w.Job.Revision
	w.readAll()
	page := newFlow(f)
	page.name(w.Job.Title, 0)
	page.cautions([]string{
		rules.Caution, "What was calculated stands in square brackets and is no measurement. What was not done says so.",
		cautionExit, cautionFire, meter.CautionRelease, meter.CautionMains, meter.CautionBattery,
	})
	if w.Record == nil {
		page.item("NO RECORD", "No record was given: nothing of this job is shown as landed, measured or tested.")
	}
	w.doneSummary(page)
	w.people(page)
	w.snags(page)
	w.batteries(page)
	w.maintenance(page)
	w.findings(page)
	for _, d := range w.Job.Doors {
		w.doorRecord(page, d)
	}
	var supplies []*draw.Sheet
	for _, s := range w.Job.Supplies {
		supplies = append(supplies, draw.SupplyWiringParts(w.Plan, s, page.fits)...)
	}
	page.among(supplies, func(*flow) {}, w.takenForGranted)
	w.localCodes(page)
	w.withdrawn(page)
	w.heads(page)
	page.head("Handed over")
	w.handed(page)
	page.signatures([]string{"Installer", "Fire", "Client"})
	return page.paper()
}

// localCodes say who decides, and where the figures of the rules come from.
func (w *Work) localCodes(f *flow) {
	f.head("Local codes and licensed practice")
	f.say(rules.Caution)
	for _, x := range w.families() {
		f.item("•", x.Title+". Figures from: "+sentence(x.Edition))
	}
}

// withdrawn lists what counts no more. It is part of the record, and whoever takes the job over can see it.
func (w *Work) withdrawn(f *flow) {
	if len(w.Withdrawn) == 0 {
		return
	}
	f.head("Written down and withdrawn")
	for _, x := range w.Withdrawn {
		f.item("•", x)
	}
}

// handed lists the doors that somebody has taken over, with what was open then.
func (w *Work) handed(f *flow) {
	if w.Record == nil || len(w.Record.Handed) == 0 {
		f.say("Nobody has taken over a door yet.")
		return
	}
	t := table{columns: []column{
		{title: "door"},
		{title: "taken over by"},
		{title: "built to", most: 14},
		{title: "handed over by, on"},
		{title: "open then"},
	}}
	for _, d := range w.Job.Doors {
		x := w.Record.HandedAt(d.ID)
		if x == nil {
			t.add(d.ID, markTodo+" nobody", "", "", "")
			continue
		}
		open := "nothing"
		if len(x.Open) > 0 {
			open = strings.Join(x.Open, "; ")
		}
		t.add(d.ID, joined(", ", x.To, x.Role), joined(" ", "revision", x.Revision), w.Record.Name(x.By)+", "+x.On.String(),
			joined("; ", open, x.Note))
	}
	f.table(t)
}

// families are the rule families of all doors, each once.
func (w *Work) families() []rules.Family {
	var all []rules.Family
	seen := map[string]bool{}
	for _, d := range w.Job.Doors {
		for _, x := range d.Families {
			if !seen[x.ID] {
				seen[x.ID] = true
				all = append(all, x)
			}
		}
	}
	return all
}

// tally is how much of the work is done.
type tally struct{ done, all int }

func (t tally) String() string {
	switch {
	case t.all == 0:
		return "none called for"
	case t.done == t.all:
		return fmt.Sprintf("%s all %d", markDone, t.all)
	}
	return fmt.Sprintf("%s %d of %d", markTodo, t.done, t.all)
}

// doneSummary counts, door by door, what was landed, measured, tested and witnessed.
func (w *Work) doneSummary(f *flow) {
	f.head("What was done")
	t := table{columns: []column{
		{title: "door"},
		{title: "title"},
		{title: "landed"},
		{title: "measured"},
		{title: "outside the band", right: true},
		{title: "tests done"},
		{title: "tests failed", right: true},
		{title: markLife + " witnessed"},
		{title: "open snags", right: true},
	}}
	for _, d := range w.Job.Doors {
		landed, measured, outside := w.landedTally(d), tally{}, 0
		for _, x := range w.readingsOf(d) {
			if x.shared {
				continue
			}
			measured.all++
			if r := w.measured(x); r != nil {
				measured.done++
				if verdictOf(x.Pair.Quantity, x.Band, r) != "within" {
					outside++
				}
			}
		}
		passed, life, failed := w.testTally(d)
		t.add(d.ID, d.Title, landed.String(), measured.String(), whole(outside), passed.String(), whole(failed),
			life.String(),
			whole(w.openSnags(d.ID)))
	}
	f.table(t)
	f.note("Tests done were passed, or judged not applicable with a reason that stands with the door; failed ones " +
		"are not done. Readings of supplies and of " +
		"cables stand at the doors they serve and are not counted here.")
}

func (w *Work) landedTally(d *job.Door) tally {
	var t tally
	for _, x := range w.devicesOf(d.ID) {
		for _, l := range w.landings[x.ID] {
			if l.Door != d.ID {
				continue
			}
			t.all++
			if strings.HasPrefix(w.landedWords(x, l.Terminal), markDone) {
				t.done++
			}
		}
	}
	return t
}

func (w *Work) testTally(d *job.Door) (passed, life tally, failed int) {
	for _, s := range record.StepsOf(d) {
		passed.all++
		if s.Life {
			life.all++
		}
		if w.Record == nil {
			continue
		}
		t := w.Record.Test(d.ID, s.ID)
		switch {
		case t == nil:
		case t.Outcome == "fail":
			failed++
		default:
			passed.done++
			if s.Life && t.Outcome == "pass" && t.Witness != "" {
				life.done++
			}
		}
	}
	return passed, life, failed
}

func (w *Work) openSnags(door string) int {
	n := 0
	if w.Record != nil {
		for _, e := range w.Record.Snags {
			if e.Value.Door == door && e.Value.Open() {
				n++
			}
		}
	}
	return n
}

// people lists who worked and with what.
func (w *Work) people(f *flow) {
	if w.Record == nil {
		return
	}
	f.head("Who, and with which meters")
	t := table{columns: []column{{title: "initials"}, {title: "name"}, {title: "role"}}}
	for _, p := range w.Record.People {
		t.add(p.Key, p.Value.Name, p.Value.Role)
	}
	f.table(t)
	m := table{columns: []column{
		{title: "meter"},
		{title: "what"},
		{title: "number"},
		{title: "calibrated"},
		{title: "due"},
	}}
	for _, x := range w.Record.Meters {
		m.add(x.Key, x.Value.Title, x.Value.Number, x.Value.Calibrated.String(), x.Value.Due.String())
	}
	f.table(m)
}

// snags lists what is open, then what was put right.
func (w *Work) snags(f *flow) {
	f.head("Snags")
	if w.Record == nil || len(w.Record.Snags) == 0 {
		f.say("None were written down.")
		return
	}
	for _, open := range []bool{true, false} {
		t := table{columns: []column{
			{title: "snag"},
			{title: "door"},
			{title: "touches"},
			{title: "what"},
			{title: "found"},
			{title: "owner, due"},
			{title: "fix, retest"},
		}}
		for _, e := range w.Record.Snags {
			if s := e.Value; s.Open() == open {
				t.add(e.Key, s.Door, s.Class, s.What, s.By+", "+s.On.String(), joined(", ", s.Owner, s.Due.String()),
					w.fixWords(s))
			}
		}
		f.sub(map[bool]string{true: "Open", false: "Closed"}[open])
		if len(t.rows) == 0 {
			f.say("None.")
			continue
		}
		f.table(t)
	}
}

func (w *Work) fixWords(s record.Snag) string {
	retest := ""
	if s.Retest != "" {
		retest = "retest " + s.Retest + " " + markTodo + " not done"
		if w.retested(s) {
			retest = "retest " + s.Retest + " " + markDone + " passed"
		}
	}
	closed := ""
	if s.Closed != nil {
		closed = "closed by " + s.Closed.By + ", " + s.Closed.On.String()
	}
	return joined("; ", s.Fix, retest, closed)
}

// retested says that the step of the retest was passed on the day of the snag or later.
func (w *Work) retested(s record.Snag) bool {
	t := w.Record.Test(s.Door, s.Retest)
	return t != nil && t.Outcome == "pass" && !t.On.Before(s.On)
}

// joined joins what is not empty.
func joined(by string, parts ...string) string {
	var all []string
	for _, p := range parts {
		if p != "" {
			all = append(all, p)
		}
	}
	return strings.Join(all, by)
}

// batteryYears is after how many years a sealed lead-acid battery is due at the latest: 3 to 5 years, half for every 8
// K to
// 10 K above 25 C (common practice, no source). The papers name the earlier end.
const batteryYears = 3

// batteries lists the batteries with the date they were fitted.
func (w *Work) batteries(f *flow) {
	f.head("Batteries")
	t := table{columns: []column{
		{title: "battery"},
		{title: "model"},
		{title: "place"},
		{title: "fitted"},
		{title: "due for replacement"},
		{title: "standby, calculated"},
	}}
	for _, s := range w.Job.Supplies {
		if s.Battery == nil {
			continue
		}
		fitted, due := markTodo+" not written down", ""
		if w.Record != nil {
			if a := w.Record.Battery(s.Battery.ID); a != nil {
				on := a.On
				fitted = markDone + " " + on.String() + ", " + a.By
				due = fmt.Sprintf("%04d-%02d, or as a run test says", on.Year+batteryYears, on.Month)
			}
		}
		t.add(s.Battery.ID, s.Battery.Model.Title, s.Battery.Place.ID, fitted, due, w.standbyShort(s))
	}
	if len(t.rows) == 0 {
		f.say("None are fitted.")
		return
	}
	f.table(t)
}

func (w *Work) standbyShort(s *job.Supply) string {
	for i := range w.Examination.Standby {
		if e := &w.Examination.Standby[i]; e.Supply == s || e.Supply.ID == s.ID {
			return "lasts " + calculated(e.Reached.String()) + ", " + e.Asked.String() + " asked"
		}
	}
	return ""
}

// maintenance is what must be done again, and how often (common practice, no source; the rules that apply may ask
// more).
func (w *Work) maintenance(f *flow) {
	f.head("Maintenance")
	f.note("Intervals are common practice; the rules that apply, and the makers of the units, may ask for more.")
	t := table{columns: []column{
		{title: "what"},
		{title: "how often"},
		{title: "steps"},
		{title: "last done", least: 24, boxed: true},
		{title: "next due", least: 24, boxed: true},
	}}
	t.add("Manual release and fire signal of every door", "as the rules ask, at least every 6 months",
		"T35 T36 T37 T41 T43", "", "")
	t.add("Ways out, request to exit, forced and held-open alarm", "every 6 months", "T02 T31 T52 T53", "", "")
	t.add("Battery run test, charging, mains lost", "every year", "T47 T48 T49 T50", "", "")
	t.add("Batteries replaced", fmt.Sprintf("after %d to 5 years; half that for every 8 K to 10 K above 25 C",
		batteryYears), "T16", "", "")
	t.add("Terminals, cables, covers, tamper contacts", "every year", "T09 T54", "", "")
	t.add("Leaf, closer, latch, heights and forces", "every year", "T01 T59", "", "")
	t.add("Whole test with the fire alarm", "every year", "T60", "", "")
	f.table(t)
}

// doorRecord is the record of one door, with its elevation and its wiring diagram where there is room between the tables.
func (w *Work) doorRecord(f *flow, d *job.Door) {
	f.room(f.area.Height() / 3)
	drawings := append([]*draw.Sheet{draw.Elevation(w.Plan, d)}, draw.WiringParts(w.Plan, d, true, f.fits)...)
	readings := w.readingsToHand(d)
	f.among(drawings, func(f *flow) {
		f.head("Door " + d.ID + ": " + d.Title)
		f.sub("Landed")
		w.landedSummary(f, d)
	}, func(f *flow) {
		w.runTable(f, d, true)
	}, func(f *flow) {
		w.deadTable(f, d, readings, true)
	}, func(f *flow) {
		w.liveTable(f, d, readings, true)
	}, func(f *flow) {
		f.sub("Function tests")
		w.testTable(f, d, true)
	}, func(f *flow) {
		w.sights(f, d)
	})
}

// readingsToHand are the readings of a door, and of what it shares those that were taken.
func (w *Work) readingsToHand(d *job.Door) []reading {
	var all []reading
	for _, x := range w.readingsOf(d) {
		if !x.shared || w.measured(x) != nil {
			all = append(all, x)
		}
	}
	return all
}

// landedEnd is an end of a conductor at a terminal, and what is said of it. Several terminals may have one label.
type landedEnd struct {
	pin  string
	says string
}

// landedSummary says device by device what was landed and what was not.
func (w *Work) landedSummary(f *flow, d *job.Door) {
	t := table{columns: []column{{title: "device"}, {title: "landed"}, {title: "not landed"}}}
	for _, x := range w.devicesOf(d.ID) {
		var done, open []landedEnd
		for _, l := range w.landings[x.ID] {
			if l.Door != d.ID {
				continue
			}
			if words := w.landedWords(x, l.Terminal); strings.HasPrefix(words, markDone) {
				done = append(done, landedEnd{l.Terminal.Pin, l.Terminal.Label + strings.TrimPrefix(words, markDone)})
			} else {
				open = append(open, landedEnd{l.Terminal.Pin, l.Terminal.Label})
			}
		}
		landed, left := "", ""
		if len(done) > 0 {
			landed = markDone + " " + together(done)
		}
		if len(open) > 0 {
			left = markTodo + " " + together(open)
		}
		t.add(x.ID, landed, left)
	}
	f.table(t)
}

// together names terminals; one that several conductors share stands there once, with how many they are.
func together(ends []landedEnd) string {
	var all []string
	for i, e := range ends {
		if slices.Index(ends, e) < i {
			continue
		}
		n := 0
		for _, other := range ends {
			if other == e {
				n++
			}
		}
		if n > 1 {
			all = append(all, fmt.Sprintf("%s (%d conductors)", e.says, n))
		} else {
			all = append(all, e.says)
		}
	}
	return strings.Join(all, ", ")
}

func (w *Work) sights(f *flow, d *job.Door) {
	if w.Record == nil {
		return
	}
	first := true
	for _, s := range w.Record.Seen {
		if s.Door == d.ID {
			if first {
				f.sub("Seen")
				first = false
			}
			f.item("•", sentence(s.Say())+" "+s.By+", "+s.On.String())
		}
	}
}
