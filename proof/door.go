package proof

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/unit"
)

// demand is what a door must do at one instant, and by which requirement. Nil req: nothing is demanded.
type demand struct {
	effect situation.Effect
	req    *Requirement
	rule   string
}

// needsWayOut says that people must be let out by the electrics: an escape door whose handle does not free it.
func needsWayOut(d *job.Door) bool { return d.Escape != job.EscapeNone && !handleFrees(d) }

// handleFrees says that the inside handle frees every lock of a door in one action.
func handleFrees(d *job.Door) bool {
	for _, l := range d.Locks {
		if !l.HandleFrees {
			return false
		}
	}
	return len(d.Locks) > 0
}

// demandOn says what a door must do, from what the world does to it. Ways out go before everything else.
func demandOn(d *job.Door, f rules.Family, s *scene, facts situation.Facts) demand {
	if needsWayOut(d) {
		if dm := wayOut(d, f, s, facts); dm.req != nil {
			return dm
		}
	}
	switch {
	case facts.Fire || facts.Release || facts.Unfed || facts.DarkSource || !facts.Runs:
		return demand{}
	case facts.Unlocked:
		return demand{situation.Released, reqLetsIn, ""}
	case facts.MainsLost && letsGoOnBattery(d):
		return demand{}
	case s.shown && s.seq.door == d && !s.shows.Heard:
		return demand{} // the card was not understood: judged as data
	}
	return demand{situation.Held, reqKeepsOut, ""}
}

// wayOut is what the rules of a door's family demand for leaving.
func wayOut(d *job.Door, f rules.Family, s *scene, facts situation.Facts) demand {
	switch {
	case facts.Release:
		return demand{situation.Released, reqOutRelease, releaseRule(d)}
	case facts.Fire && f.FireSignal.Value:
		req := reqOutFire
		if s.seq.with == withFire && (facts.Unlocked || s.shown || s.seq.cause.ID == "exit") {
			req = reqStaysOut
		}
		return demand{situation.Released, req, ""}
	case facts.DarkSource && f.LockPowerLoss.Value:
		return demand{situation.Released, reqOutPower, ""}
	case facts.Unfed && f.ControllerPowerLoss.Value:
		return demand{situation.Released, reqOutController, ""}
	case s.seq.cause.ID == "fire-reset" && s.seq.with == "" && f.Relock.Value == rules.RelockByHand:
		return demand{situation.Released, reqStaysOut, ""}
	case facts.Exit && facts.Runs && !facts.Hung:
		return demand{situation.Released, reqOutExit, ""}
	}
	return demand{}
}

// releaseRule tells which rule a manual release breaks that does not let people out: with no contact in the feed a
// program decides; with one, something leads current past it.
func releaseRule(d *job.Door) string {
	for _, r := range d.Releases {
		if r.InFeed {
			return "R-05"
		}
	}
	return "R-06"
}

func letsGoOnBattery(d *job.Door) bool {
	for _, l := range d.Locks {
		if l.OnBattery == "let-go" {
			return true
		}
	}
	return false
}

// judgeDoor judges one door at one instant.
func (w *watch) judgeDoor(s *scene, d *job.Door, state *situation.DoorState) {
	dm := demandOn(d, w.families[d], s, state.Facts)
	if dm.req != nil {
		for i := range state.Locks {
			w.judgeLock(s, d, &state.Locks[i], dm)
		}
	}
	if s.shown && s.seq.door == d && s.step.Show != "" {
		w.judgeData(s, d, state)
	}
	if state.Facts.Runs && !state.Facts.Hung && s.seq.with == "" {
		w.judgeInputs(s, d, state)
		w.judgeAlarms(s, d, state)
	}
}

// judgeLock holds a lock's winding current against the figures of its data sheet, and its voltage against its window
// while it is powered as it must be.
func (w *watch) judgeLock(s *scene, d *job.Door, l *situation.LockState, dm demand) {
	name, ok := l.Lock.Model.FindPort(device.LockCoil, "", 0, "")
	if !ok {
		return
	}
	p := l.Lock.Model.Port(name)
	amps := abs(l.Amps)
	powered := (p.Action == device.FailSafe) == (dm.effect == situation.Held)
	e := entry{
		door: d.ID, req: dm.req, rule: dm.rule, where: l.Lock.ID, figure: float64(amps), unit: "A",
		subject: Subject{Lock: l.Lock.ID, Device: l.Lock.ID},
	}
	var need string
	if powered {
		e.limit, e.margin, need = float64(p.Holds), float64(amps-p.Holds), "needs %v or more"
	} else {
		e.limit, e.margin, need = float64(p.LetsGo), float64(p.LetsGo-amps), "may carry %v at most"
	}
	switch {
	case !holds(e.margin):
		e.what = fmt.Sprintf("%s must be %v, for which its winding "+need, l.Lock.ID, dm.effect, unit.Ampere(e.limit))
		if powered {
			e.what += w.becauseWrong(l.Lock.ID, p)
		}
		w.ledger.note(w.at(s, e))
	case powered:
		w.judgeWindow(s, d, l, p)
	}
}

func (w *watch) judgeWindow(s *scene, d *job.Door, l *situation.LockState, p *device.Port) {
	e := windowEntry(p.Window, l.Volts)
	if holds(e.margin) {
		return
	}
	e.door, e.req, e.where = d.ID, reqVoltage, l.Lock.ID
	e.what = fmt.Sprintf("%s gets a voltage outside its window of %v", l.Lock.ID, p.Window) + w.becauseWrong(l.Lock.ID, p)
	e.subject = Subject{Lock: l.Lock.ID, Device: l.Lock.ID}
	w.ledger.note(w.at(s, e))
}

// windowEntry holds a voltage against the nearer end of a window.
func windowEntry(window unit.Band[unit.Volt], v unit.Volt) entry {
	e := entry{figure: float64(v), unit: "V", limit: float64(window.Low), margin: float64(v - window.Low)}
	if over := window.High - v; over < v-window.Low {
		e.limit, e.margin = float64(window.High), float64(over)
	}
	return e
}

// judgeData says whether a card that was shown was understood.
func (w *watch) judgeData(s *scene, d *job.Door, state *situation.DoorState) {
	if !state.Facts.Runs || state.Facts.Hung || s.shows.Heard {
		return
	}
	w.ledger.note(w.at(s, entry{
		door: d.ID, req: reqData, where: s.step.Show, figure: 0, limit: 1, margin: -1,
		what:    fmt.Sprintf("a card shown at %s is not understood: %s", s.step.Show, device.Misheard(s.shows.Failed)),
		subject: Subject{Device: s.step.Show},
	}))
}

// judgeAlarms says whether alarms are raised when they must, and only then.
func (w *watch) judgeAlarms(s *scene, d *job.Door, state *situation.DoorState) {
	if len(d.Contacts) == 0 || s.seq.door != nil && s.seq.door != d {
		return
	}
	if s.shown && !s.shows.Heard {
		return // judged as data
	}
	got, want, req := alarmOf(state.Memory), alarmOn(s.seq.cause), reqAlarm
	if want == "" {
		req = reqNoAlarm
	}
	if got == want {
		return
	}
	w.ledger.note(w.at(s, entry{
		door: d.ID, req: req, where: d.ID, figure: 0, limit: 1, margin: -1,
		what: fmt.Sprintf("the controller reports %q where %q would be right", orNothing(got), orNothing(want)),
	}))
}

// alarmOn is the alarm that a cause must raise.
func alarmOn(c situation.Cause) string {
	switch c.ID {
	case "forced":
		return "forced open"
	case "held":
		return "held open"
	}
	return ""
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}

func abs[T ~float64](v T) T { return max(v, -v) }
