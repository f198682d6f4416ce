package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"doorwright/fault"
	"doorwright/job"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/standby"
	"doorwright/unit"
)

// JobSet is the papers of the whole job: schedules, settings, what to order, the cause-and-effect matrix to sign, what
// became of the faults, a sheet for each supply, findings.
func (w *Work) JobSet(f Frame) *Paper {
	f.Kind, f.Number, f.Title, f.Revision = "Job set", w.Job.ID, w.Job.Title, w.Job.Revision
	page := newFlow(f)
	page.name(w.Job.Title, 0)
	page.cautions([]string{rules.Caution, "Calculated from what the job says is fitted, not measured. " + w.examinedWords()})
	w.contents(page)
	w.findings(page)
	for _, s := range w.Schedules() {
		switch s.Name {
		case "readings", "tests", "loads", "components": // on the door sheets, and on the supply sheets
			continue
		}
		page.head(s.Title)
		page.table(s.table())
	}
	w.matrix(page)
	w.faultSummary(page)
	for _, s := range w.Job.Supplies {
		w.supplySheet(page, s)
	}
	page.head("Taken for granted")
	assumptions(page, w.Job.Assumed)
	return page.paper()
}

// examinedWords say how much was examined.
func (w *Work) examinedWords() string {
	c := w.Examination.Counts
	return fmt.Sprintf("Examined: %s, %s settled; rules held %d, broken %d, not judged %d.", counted(c.Situations, "situation"),
		counted(c.Solved, "instant"), c.Held, c.Broken, c.NotJudged)
}

// contents says what the set holds.
func (w *Work) contents(f *flow) {
	f.say(fmt.Sprintf("%s, %s, %s, %s. In this order: findings; schedules of doors, cables, terminations, settings and network; "+
		"bill of material; cause-and-effect matrix; faults; a sheet for each supply; what was taken for granted. Each door has a sheet "+
		"of its own.", counted(len(w.Job.Doors), "door"), supplyCount(len(w.Job.Supplies)), counted(len(w.Job.Controllers), "controller"),
		counted(len(w.Job.Runs), "run")))
}

func supplyCount(n int) string {
	if n == 1 {
		return "1 supply"
	}
	return whole(n) + " supplies"
}

// findings lists what fails or has too little margin, and what of it was accepted.
func (w *Work) findings(f *flow) {
	f.head("Findings by calculation")
	if len(w.Examination.Findings) == 0 {
		f.say("None by calculation.")
	}
	t := table{columns: []column{{title: "severity"}, {title: "door"}, {title: "what"}, {title: "figure against limit"}, {title: "why it matters"}}}
	for _, x := range w.Examination.Findings {
		word := "ERROR"
		if x.Severity == rules.Advice {
			word = "ADVICE"
		}
		what := sentence(x.What)
		if x.Cause != "" {
			what += " When: " + x.Cause + "."
		}
		t.add(word, x.Door, what+w.acceptedWords(x.Door, x.Requirement), figures(x), x.Why)
	}
	f.table(t)
	w.accepted(f)
}

// figures holds figure against limit, for what has figures.
func figures(x proof.Finding) string {
	if x.Unit == "" && (x.Limit == 1 || x.Limit == 0) {
		return ""
	}
	return calculated(quantity(x.Figure, x.Unit)) + " against " + quantity(x.Limit, x.Unit)
}

// nothing is below what any meter at a door shows, in any unit.
const nothing = 1e-6

func quantity(v float64, symbol string) string {
	if math.Abs(v) < nothing {
		v = 0
	}
	if symbol == "s" {
		return unit.Second(v).String()
	}
	return proof.Quantity(v, symbol)
}

// acceptedWords say by whom and why a finding was accepted; nothing when it was not.
func (w *Work) acceptedWords(door, requirement string) string {
	if w.Record == nil {
		return ""
	}
	a := w.Record.AcceptedAt(door, requirement)
	if a == nil {
		return ""
	}
	return " ACCEPTED by " + w.Record.Name(a.By) + " on " + a.On.String() + ": " + sentence(a.Reason)
}

// accepted lists everything that was accepted: findings in the record, and faults in the job.
func (w *Work) accepted(f *flow) {
	t := table{columns: []column{{title: "door"}, {title: "accepted"}, {title: "reason"}, {title: "by"}, {title: "on"}}}
	for _, d := range w.Job.Doors {
		for _, a := range d.Accepts {
			t.add(d.ID, "fault "+a.Fault, a.Reason, "see the reason", "")
		}
	}
	if w.Record != nil {
		for _, a := range w.Record.Accepts {
			t.add(a.Door, "finding "+a.Finding, a.Reason, w.Record.Name(a.By), a.On.String())
		}
	}
	f.sub("Accepted")
	if len(t.rows) == 0 {
		f.say("Nothing was accepted.")
		return
	}
	f.table(t)
}

// doorsAcross is how many doors stand side by side in the matrix.
const doorsAcross = 5

// matrix is the cause-and-effect matrix with places to sign.
func (w *Work) matrix(f *flow) {
	f.fresh()
	f.head("Cause-and-effect matrix")
	f.say(`What each door does in the course of each cause, calculated. "released, then held" is one after the other; "!" says that ` +
		`the controller raises an alarm; "differs" that limit cases come to different ends; "-" that the cause cannot happen there.`)
	for _, c := range []struct{ with, title string }{
		{"", "Alone"}, {"fire", "While a fire signal is there"}, {"release", "While the manual release of the door stands operated"},
	} {
		doors := slices.DeleteFunc(slices.Clone(w.Examination.Doors), func(d proof.DoorResult) bool {
			return !slices.ContainsFunc(d.Matrix, func(r proof.Row) bool { return r.With == c.with })
		})
		for from := 0; from < len(doors); from += doorsAcross {
			to := min(from+doorsAcross, len(doors))
			name := c.title
			if len(doors) > doorsAcross {
				name += fmt.Sprintf(": doors %d to %d of %d", from+1, to, len(doors))
			}
			w.matrixBlock(f, c.with, name, doors[from:to])
		}
	}
	f.sub("Agreed")
	f.signatures([]string{"Fire", "Security", "Client"})
}

func (w *Work) matrixBlock(f *flow, with, name string, doors []proof.DoorResult) {
	t := table{columns: []column{{title: "cause", least: 30}}}
	cells := map[string][]string{}
	var order []string
	for i, d := range doors {
		t.columns = append(t.columns, column{title: d.Door.ID, least: 20})
		for _, r := range d.Matrix {
			if r.With != with {
				continue
			}
			if cells[r.Title] == nil {
				order = append(order, r.Title)
				cells[r.Title] = make([]string, len(doors))
			}
			cells[r.Title][i] = says(r)
		}
	}
	for _, cause := range order {
		row := []string{cause}
		for _, c := range cells[cause] {
			if c == "" {
				c = "-"
			}
			row = append(row, c)
		}
		t.add(row...)
	}
	if len(t.rows) > 0 {
		f.sub(name)
		f.table(t)
	}
}

func says(r proof.Row) string {
	if r.Alarm != "" {
		return r.Says + " !"
	}
	return r.Says
}

// faultSummary says what became of the single faults of each door.
func (w *Work) faultSummary(f *flow) {
	f.head("Single faults, each tried in every cause")
	if w.Examination.Faults == nil {
		f.say("Faults were not tried for this paper.")
		return
	}
	t := table{columns: []column{
		{title: "door"},
		{title: "faults", right: true},
		{title: "noticed at once", right: true},
		{title: "in use", right: true},
		{title: "on test only", right: true},
		{title: "no difference", right: true},
		{title: "take a way out", right: true},
		{title: "not allowed", right: true},
		{title: "tried from outside", right: true},
		{title: "open the door", right: true},
	}}
	for i := range w.Examination.Faults.Doors {
		t.add(faultCounts(&w.Examination.Faults.Doors[i])...)
	}
	f.table(t)
	w.badFaults(f)
	f.note("Not tried: " + strings.Join(w.Examination.Faults.Left, " "))
}

func faultCounts(d *proof.DoorFaults) []string {
	by := map[proof.Notice]int{}
	lost, broken := 0, 0
	for i := range d.Seen {
		s := &d.Seen[i]
		by[s.Notice]++
		if len(s.Lost) > 0 {
			lost++
		}
		if s.Broken != "" && s.Accepted == "" {
			broken++
		}
	}
	return []string{
		d.Door.ID, whole(len(d.Seen)), whole(by[proof.AtOnce]), whole(by[proof.InUse]), whole(by[proof.OnTest]),
		whole(by[proof.NoEffect]), whole(lost), whole(broken), whole(d.Tried), whole(len(d.Attacks)),
	}
}

// badFaults lists the faults that break a requirement, accepted or not, and what opens a door from outside.
func (w *Work) badFaults(f *flow) {
	t := table{columns: []column{{title: "door"}, {title: "fault"}, {title: "takes away"}, {title: "standing"}}}
	for i := range w.Examination.Faults.Doors {
		d := &w.Examination.Faults.Doors[i]
		for k := range d.Seen {
			if s := &d.Seen[k]; s.Broken != "" {
				t.add(d.Door.ID, sentence(s.Fault.Name), strings.Join(s.Lost, ", "), standingOf(s.Accepted))
			}
		}
		for k := range d.Attacks {
			a := &d.Attacks[k]
			t.add(d.Door.ID, sentence(namesOf(a.Faults)), "opens from the unsecured side ("+a.Cause+")", standingOf(a.Accepted))
		}
	}
	f.table(t)
}

func standingOf(accepted string) string {
	if accepted == "" {
		return "NOT ALLOWED"
	}
	return "accepted: " + accepted
}

func namesOf(all []*fault.Fault) string {
	var names []string
	for _, x := range all {
		names = append(names, x.Name)
	}
	return strings.Join(names, ", and ")
}

// supplySheet is one supply: what it has to give, to whom, how long its battery lasts.
func (w *Work) supplySheet(f *flow, s *job.Supply) {
	f.head("Supply " + s.ID + ": " + s.Title)
	f.say(s.Model.Title + " at " + s.Place.ID + "." + supplyParts(s))
	w.supplyDrawings(f, s)
	if l := w.loads[s.ID]; l != nil {
		t := table{columns: []column{{title: "calculated"}, {title: "with mains", right: true}, {title: "on battery", right: true}}}
		t.add("idle, all doors locked", calculated(l.Idle.String()), "")
		t.add("highest, over all causes and limit cases", calculated(l.Highest.String()), calculated(l.Battery.String()))
		t.add("limit by data sheet", l.Rated.String(), "")
		t.add("at its terminals", calculated(l.Volts.String()), "")
		f.table(t)
		c := table{columns: []column{{title: "consumer, nominal, all doors locked"}, {title: "calculated", right: true}, {title: "measured", least: 26, boxed: true}}}
		for _, i := range l.Items {
			c.add(i.Device, calculated(i.Amps.String()), "")
		}
		f.table(c)
	}
	for i := range w.Examination.Standby {
		if e := &w.Examination.Standby[i]; e.Supply.ID == s.ID && s.Battery != nil {
			standbyWords(f, e)
		}
	}
}

func supplyParts(s *job.Supply) string {
	text := ""
	if s.Battery != nil {
		text += " Battery: " + s.Battery.Model.Title + "."
	}
	if s.Board != nil {
		text += " Board: " + s.Board.Model.Title + "."
	}
	if s.Fire != nil {
		text += " A fire signal acts on the board."
	}
	zero := "floating"
	if s.Earthed {
		zero = "earthed"
	}
	if !s.ZeroStated {
		zero = "not stated, so both earthed and floating are tried"
	}
	return text + " Its 0 V: " + zero + "."
}

func standbyWords(f *flow, e *standby.Estimate) {
	f.say(fmt.Sprintf("Battery: %s of the %s asked. Capacity that would do: %s. Charger: %s, needed %s.",
		calculated(e.Reached.String()), e.Asked, calculated(e.Needed.String()), e.Recharge.Gives, calculated(e.Recharge.Needs.String())))
	if e.First != "" {
		f.say("First to drop out: " + e.First + ".")
	}
	f.note(standby.Label)
}

// supplyDrawings puts the drawings of a supply on its sheet.
func (w *Work) supplyDrawings(*flow, *job.Supply) {}
