package web

import (
	"fmt"
	"net/http"
	"slices"

	"doorwright/document"
	"doorwright/draw"
	"doorwright/job"
	"doorwright/journal"
	"doorwright/proof"
	"doorwright/record"
	"doorwright/situation"
	"doorwright/standby"
)

// supplies shows what each supply has to give; its tree and its form stand on its own page.
func (h *handler) supplies(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok {
		return
	}
	t := tableView{ID: "loads", Title: "Loads", Head: []string{"supply", "idle", "highest", "limit", "volts, lowest", "volts, highest", "battery lasts", "asked", "drops out first", "charger gives", "needed", "battery fitted"}}
	for _, l := range at.desk.exam.Loads {
		row := []cell{
			{Text: titled(l.Supply), URL: at.supplyURL(l.Supply)},
			{Text: amps(l.Idle), Figure: true},
			{Text: amps(l.Highest), Figure: true},
			{Text: amps(l.Rated), Figure: true},
			{Text: volts(l.Volts.Low), Figure: true},
			{Text: volts(l.Volts.High), Figure: true},
		}
		if l.Restless {
			for _, i := range []int{1, 2, 4, 5} {
				row[i] = cell{Text: "restless"}
			}
		}
		row = append(row, lasting(at.desk.exam.Standby, l.Supply.ID)...)
		fitted := cell{}
		if f := at.fitting(l.Supply); f != nil {
			fitted.Text = f.On.String()
		}
		t.Rows = append(t.Rows, append(row, fitted))
	}
	if h.filed(w, r, at, &t) {
		return
	}
	lead := "Currents from the solved network, not sums of data sheets. " + standby.Label + " The current needed brings the battery back to 80 % in 24 h."
	h.show(w, r, suppliesPage(h.jobSheet(r, at, "Supplies", "Supplies"), lead, t, h.foundAtSupplies(at)))
}

// foundAtSupplies lists what was found at supplies and at what belongs to no one door.
func (h *handler) foundAtSupplies(at *atJob) foundView {
	v := foundView{At: at.home + "/found"}
	var all []proof.Finding
	all, v.Waiting = h.foundOf(at, "")
	for _, f := range all {
		x := at.told(f)
		x.Searching, x.Action, x.Base = v.Waiting, at.home+"/supplies", mark(at.shelf.Document)
		if f.Subject.Supply != "" {
			at.acceptance(&x, at.home+"/supplies/"+f.Subject.Supply+"/accept")
		}
		v.Findings = append(v.Findings, x)
	}
	return v
}

// suppliesFound gives the part of the page of supplies that waits for mends.
func (h *handler) suppliesFound(w http.ResponseWriter, r *http.Request) {
	if at, ok := h.job(w, r); ok {
		h.show(w, r, found(h.foundAtSupplies(at)))
	}
}

// suppliesMended shows what a mend of what was found at supplies does.
func (h *handler) suppliesMended(w http.ResponseWriter, r *http.Request) {
	at, ok := h.job(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.edited(r, func(*document.Tree) error { return nil })
	h.showChange(w, r, at, h.jobSheet(r, at, "Supplies", "Supplies"), text, err, at.home+"/supplies", nil)
}

// suppliesAccepted keeps that somebody accepts a finding of a supply, and why.
func (h *handler) suppliesAccepted(w http.ResponseWriter, r *http.Request) {
	at, s, ok := h.atSupply(w, r)
	if ok && h.form(w, r) {
		h.accepted(w, r, at, at.desk.exam.Findings, record.Acceptance{Supply: s.ID}, at.home+"/supplies")
	}
}

func titled(s *job.Supply) string { return s.ID + ", " + s.Title }

func (at *atJob) supplyURL(s *job.Supply) string { return at.home + "/supplies/" + s.ID }

// fitting is when the battery of a supply was fitted; nil when it has none, or nobody has said.
func (at *atJob) fitting(s *job.Supply) *record.Act {
	if s.Battery == nil {
		return nil
	}
	return at.shelf.Record.Battery(s.Battery.ID)
}

func lasting(all []standby.Estimate, supply string) []cell {
	for _, e := range all {
		if e.Supply.ID == supply && e.Supply.Battery != nil {
			class := ""
			if e.Margin() < 0 {
				class = "error"
			}
			charger := cell{Text: amps(e.Recharge.Charger), Figure: true}
			switch {
			case !e.Recharge.Stated():
				charger.Text = "not stated"
			case e.Recharge.Left < e.Recharge.Charger:
				charger.Text += ", " + amps(e.Recharge.Left) + " left"
			}
			if !e.Recharge.Enough() {
				charger.Text, charger.Class = charger.Text+", too little", "advice"
			}
			return []cell{
				{Text: hours(float64(e.Reached)), Class: class, Figure: true},
				{Text: hours(float64(e.Asked)), Figure: true},
				{Text: e.First},
				charger,
				{Text: amps(e.Recharge.Needs), Figure: true},
			}
		}
	}
	return []cell{{Text: "no battery"}, {}, {}, {}, {}}
}

func hours(seconds float64) string { return fmt.Sprintf("%.1f h", seconds/3600) }

// atSupply finds the supply of a request; false when an answer was given already.
func (h *handler) atSupply(w http.ResponseWriter, r *http.Request) (*atJob, *job.Supply, bool) {
	at, ok := h.job(w, r)
	if !ok {
		return nil, nil, false
	}
	i := slices.IndexFunc(at.desk.job.Supplies, func(s *job.Supply) bool { return s.ID == r.PathValue("supply") })
	if i < 0 {
		h.nowhere(w, r)
		return nil, nil, false
	}
	return at, at.desk.job.Supplies[i], true
}

// supplySheet is the frame of the page of a supply.
func (h *handler) supplySheet(r *http.Request, at *atJob, s *job.Supply) sheet {
	frame := h.jobSheet(r, at, titled(s), "Supplies")
	frame.Where = append(frame.Where, step{"Supplies", at.home + "/supplies"})
	return frame
}

// supply shows what one supply has to give, what hangs on it, and the form that changes it.
func (h *handler) supply(w http.ResponseWriter, r *http.Request) {
	at, s, ok := h.atSupply(w, r)
	if !ok {
		return
	}
	h.showSupply(w, r, at, s, "")
}

// showSupply shows a supply with its form; after a mistake it keeps what was typed.
func (h *handler) showSupply(w http.ResponseWriter, r *http.Request, at *atJob, s *job.Supply, wrong string) {
	v := supplyView{
		Lead:  "Currents from the solved network, not sums of data sheets. " + standby.Label,
		Wrong: wrong, Action: at.supplyURL(s), Base: baseOf(r, at), Groups: fill(supplyForm(at.desk.job, s.ID), r.PostForm),
	}
	v.Drawings = pictured(at.desk.job, v.Groups)
	if i := slices.IndexFunc(at.desk.exam.Loads, func(l proof.Load) bool { return l.Supply == s }); i >= 0 {
		l := at.desk.exam.Loads[i]
		v.Facts = []field{
			{"idle", amps(l.Idle)},
			{"highest", amps(l.Highest)},
			{"limit", amps(l.Rated)},
			{"at its terminals", volts(l.Volts.Low) + " to " + volts(l.Volts.High)},
		}
		if l.Restless {
			v.Facts = []field{{"loads", "not known: something on this supply keeps restarting; see the findings"}, {"limit", amps(l.Rated)}}
		}
	}
	if last := lasting(at.desk.exam.Standby, s.ID); s.Battery != nil {
		v.Facts = append(v.Facts, field{"battery lasts", last[0].Text + ", asked " + last[1].Text})
		if last[2].Text != "" {
			v.Facts = append(v.Facts, field{"drops out first", last[2].Text})
		}
		v.Facts = append(v.Facts, field{"charger gives", last[3].Text + "; needed " + last[4].Text})
		v.Battery, v.BatteryURL = s.Battery.ID+", "+s.Battery.Title+": nobody has said when it was fitted", at.supplyURL(s)+"/battery"
		if f := at.fitting(s); f != nil {
			v.Battery = fmt.Sprintf("%s, %s: fitted %s by %s", s.Battery.ID, s.Battery.Title, f.On, at.shelf.Record.Name(f.By))
		}
	}
	if s.Tells != nil {
		v.Facts = append(v.Facts, field{"an open fuse is told at", s.Tells.Title})
	}
	is := at.desk.site.Island(s.ID)
	instant := draw.Instant{Island: is, Bench: is.Bench(situation.Nominal()), Say: "nothing happens, everything nominal"}
	for _, sheet := range draw.SupplyTree(at.desk.plan, s, instant, 0) {
		v.Trees = append(v.Trees, string(draw.Inline(sheet, func(string) string { return "" })))
	}
	if wrong != "" {
		unfit(w)
	}
	h.show(w, r, supplyPage(h.supplySheet(r, at, s), v))
}

// supplyForm is the form of a supply, filled with what its document says.
func supplyForm(j *job.Job, id string) []planGroup {
	w, _ := j.Document.Supplies.Get(id)
	b := formBuilder{j}
	told := []option{{"", "nobody"}}
	for _, d := range j.Doors {
		told = append(told, option{d.ID, d.ID + ", " + d.Title})
	}
	return []planGroup{
		{"The supply", []planField{
			text("What people call it", "title", w.Title, ""),
			b.device("Supply", job.RoleSupply, "model", w.Model, ""),
			needed("Place it is mounted at", "place", w.Place, ""),
			chosen("Its 0 V and earth", "zero-volt", w.Zero, "", "not known: both are tried", "earthed", "joined", "floating", "not joined"),
		}},
		{"Battery", []planField{
			b.device("Battery", job.RoleBattery, "battery", w.Battery, "none"),
			text("Must last", "standby", quantity(w.Standby), "as the rules ask, else 4 h"),
			text("Everything must work down to", "works-to", quantity(w.WorksTo), "1.75 V for each cell"),
		}},
		{"Distribution board", []planField{
			b.device("Board", job.RoleBoard, "board", w.Board, "none"),
			b.single("Fire signal at the board", job.RoleFire, "fire", w.Fire),
			b.single("Key switch that resets it", job.RoleReset, "reset", w.Reset),
			text("Outputs that go off on the fire signal", "released", numbers(w.Released), "1, 2"),
			text("Of those, outputs that stay off until reset", "latching", numbers(w.Latching), "none"),
			{Title: "Door whose controller is told when a fuse of the board opens", Path: "tells", Value: w.Tells, Options: told},
		}},
	}
}

// supplyLooked shows what a change of a supply does.
func (h *handler) supplyLooked(w http.ResponseWriter, r *http.Request) {
	at, s, ok := h.atSupply(w, r)
	if !ok || !h.form(w, r) {
		return
	}
	text, err := at.edited(r, func(tree *document.Tree) error {
		return filledIn(tree, supplyForm(at.desk.job, s.ID), []string{"supplies", s.ID}, r.PostForm)
	})
	h.showChange(w, r, at, h.supplySheet(r, at, s), text, err, at.supplyURL(s), func(wrong string) { h.showSupply(w, r, at, s, wrong) })
}

// fitted keeps that a battery was fitted today.
func (h *handler) fitted(w http.ResponseWriter, r *http.Request) {
	at, s, ok := h.atSupply(w, r)
	if !ok {
		return
	}
	if s.Battery == nil {
		h.refuse(w, r, http.StatusUnprocessableEntity, "Nothing was kept", "The supply has no battery.")
		return
	}
	if h.write(w, r, journal.Fitted{Job: at.shelf.ID, Fitting: record.Fitting{Device: s.Battery.ID, Act: h.act(r)}}) {
		http.Redirect(w, r, at.supplyURL(s), http.StatusSeeOther)
	}
}
