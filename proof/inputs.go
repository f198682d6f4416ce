package proof

import (
	"fmt"
	"math"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
)

// doorInput is one input of a door's controller that something is wired to.
type doorInput struct {
	unit    *situation.Unit
	port    string
	use     string
	expects device.InputSettings
}

// doorInputs lists the exit and contact inputs of a door that its controller is set to use.
func doorInputs(is *situation.Island, d *job.Door) []doorInput {
	u := is.Unit(d.Controller.ID)
	if u == nil {
		return nil
	}
	var all []doorInput
	for _, name := range u.Device.Model.PortsOf(device.Input) {
		p := u.Device.Model.Port(name)
		expects := u.Device.Settings.Input(p)
		if p.Channel == d.Channel && expects.Used && (p.Use == "exit" || p.Use == "contact") {
			all = append(all, doorInput{u, name, p.Use, expects})
		}
	}
	return all
}

// judgeInputs says whether each input reads what its contact does, and how far it is from reading something else.
func (w *watch) judgeInputs(s *scene, d *job.Door, state *situation.DoorState) {
	for _, in := range w.inputs[d] {
		active := in.use == "exit" && asksOut(d, state.Facts) || in.use == "contact" && state.Facts.DoorOpen
		r := w.bench.Reading(in.unit, in.port)
		want := wantedLevel(in.expects, active)
		if r.Level == want {
			continue
		}
		e := entry{
			door: d.ID, req: reqReads, where: in.unit.Device.ID + "." + in.port, figure: float64(r.Volts), unit: "V",
			margin: -math.Abs(float64(r.Margin)), subject: Subject{Device: in.unit.Device.ID},
		}
		if e.margin == 0 || math.IsInf(e.margin, -1) {
			e.margin = -float64(in.unit.Device.Model.Port(in.port).Reference)
		}
		e.limit = e.figure + e.margin
		e.what = fmt.Sprintf("the %s input reads %v where %v is right", in.use, r.Level, want)
		w.ledger.note(w.at(s, e))
	}
}

// asksOut says that something at the exit input asks to leave: an exit device, or a release that only tells the
// controller.
func asksOut(d *job.Door, facts situation.Facts) bool {
	if facts.Exit || !facts.Release {
		return facts.Exit
	}
	for _, r := range d.Releases {
		if !r.InFeed {
			return true
		}
	}
	return false
}

// wantedLevel is what an input must read while its contact is active, or at rest.
func wantedLevel(s device.InputSettings, active bool) device.Level {
	if (s.Rest == device.RestClosed) != active {
		return device.Closed
	}
	return device.Open
}
