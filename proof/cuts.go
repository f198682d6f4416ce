package proof

import (
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// cuts opens each conductor of the lock feeds in turn: on an escape door without free handle the lock must be without
// power each time. It then takes the power from exit sensors.
func (w *watch) cuts(idle situation.State) {
	seq := &sequence{cause: situation.Cause{ID: "cut", Title: "a conductor is cut"}}
	for i := range w.is.Wires() {
		wire := &w.is.Wires()[i]
		c := wire.Conductor
		d := w.doorByID(c.Door)
		if d == nil || w.near != nil && d != w.near || !needsWayOut(d) {
			continue
		}
		var req *Requirement
		switch {
		case c.Reason.Effect == wiring.LockDead && c.Use == wiring.Power:
			req = reqOutCut
		case w.families[d].SensorPowerLoss.Value && w.feedsSensor(c, d):
			req = reqOutSensor
		default:
			continue
		}
		w.cut(&scene{seq: seq, step: &situation.Step{Say: fault.NameOf(c)}}, wire, idle, d, req)
	}
}

func (w *watch) doorByID(id string) *job.Door {
	for _, d := range w.is.Doors {
		if d.ID == id {
			return d
		}
	}
	return nil
}

// feedsSensor says that a conductor brings the supply of an exit device.
func (w *watch) feedsSensor(c *wiring.Conductor, d *job.Door) bool {
	if c.Reason.Effect != wiring.UnitDead {
		return false
	}
	for _, e := range d.Exits {
		for _, end := range []wiring.End{c.A, c.B} {
			if end.Device != nil && end.Device.ID == e.ID && len(e.Model.PortsOf(device.Load)) > 0 {
				return true
			}
		}
	}
	return false
}

// cut opens one conductor and demands that the door is released. A conductor that feeds one of several locks releases
// that one; only locks that the cut reaches are judged then, and all of them when it reaches none.
func (w *watch) cut(s *scene, wire *situation.Wire, idle situation.State, d *job.Door, req *Requirement) {
	w.bench.Back(idle)
	before := w.bench.Door(d)
	w.bench.Cut(wire)
	after := w.bench.Door(d)
	w.solved++
	any := false
	for i := range after.Locks {
		any = any || reaches(before.Locks[i], after.Locks[i])
	}
	for i := range after.Locks {
		if !any || reaches(before.Locks[i], after.Locks[i]) {
			w.judgeLock(s, d, &after.Locks[i], demand{situation.Released, req, ""})
		}
	}
	w.bench.Uncut(wire)
	w.bench.Back(idle)
}

// reachedShare is how much a lock's current must fall for a cut to count as one in its own feed.
const reachedShare = 0.5

func reaches(before, after situation.LockState) bool {
	return abs(after.Amps) < reachedShare*abs(before.Amps)
}
