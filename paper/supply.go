package paper

import (
	"fmt"

	"doorwright/draw"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/standby"
)

// supplySheet is one supply: what it has to give, to whom, how long its battery lasts.
func (w *Work) supplySheet(f *flow, s *job.Supply) {
	trees := w.supplyTrees(f, s)
	if len(trees) > 0 {
		f.above(24, trees[0])
	}
	f.among(draw.SupplyWiringParts(w.Plan, s, f.fits), func(f *flow) {
		f.head("Supply " + s.ID + ": " + s.Title)
		f.say(s.Model.Title + " at " + s.Place.ID + "." + supplyParts(s))
		for _, tree := range trees {
			f.drawing(tree)
		}
	}, func(f *flow) {
		w.loadTables(f, s)
		for i := range w.Examination.Standby {
			if e := &w.Examination.Standby[i]; e.Supply.ID == s.ID && s.Battery != nil {
				standbyWords(f, e)
			}
		}
	})
}

// loadTables are what a supply has to give, and to whom.
func (w *Work) loadTables(f *flow, s *job.Supply) {
	l := w.loads[s.ID]
	if l == nil {
		return
	}
	if l.Restless {
		f.item("NOT KNOWN", "The loads come to no resting state on this supply; see the findings.")
		return
	}
	t := table{columns: []column{
		{title: "calculated"},
		{title: "with mains", right: true},
		{title: "on battery", right: true},
	}}
	t.add("idle, all doors locked", calculated(l.Idle.String()), "")
	t.add("highest, over all causes and limit cases", calculated(l.Highest.String()), calculated(l.Battery.String()))
	t.add("gives up to", l.Rated.String(), "")
	t.add("at its terminals", calculated(l.Volts.String()), "")
	f.table(t)
	c := table{columns: []column{
		{title: "consumer, nominal, all doors locked"},
		{title: "calculated", right: true},
		{title: "measured", least: 26, boxed: true},
	}}
	for _, i := range l.Items {
		c.add(i.Device, calculated(i.Amps.String()), "")
	}
	f.table(c)
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
	little := ""
	if !e.Recharge.Enough() {
		little = ": TOO LITTLE"
	}
	f.say(fmt.Sprintf("Battery lasts %s, %s asked. Capacity that would do: %s. %s; 80 %% in 24 h needs %s%s.",
		calculated(e.Reached.String()), e.Asked, calculated(e.Needed.String()), e.Recharge.Charging(), calculated(e.Recharge.Needs.String()), little))
	if e.First != "" {
		f.say("First to drop out: " + e.First + ".")
	}
	f.note(standby.Label)
}

// supplyTrees draw what hangs on a supply: nothing happens, everything nominal.
func (w *Work) supplyTrees(f *flow, s *job.Supply) []*draw.Sheet {
	island := w.Examination.Site.Island(s.ID)
	if island == nil {
		return nil
	}
	nominal := situation.Nominal()
	at := draw.Instant{Island: island, Bench: island.Bench(nominal), Say: "nothing happens; limit case: " + nominal.Name}
	trees := draw.SupplyTree(w.Plan, s, at, f.area.Height())
	for i := range trees {
		trees[i] = trimmed(trees[i])
	}
	return trees
}
