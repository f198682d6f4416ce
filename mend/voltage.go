package mend

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
)

// feedVolts is the nominal voltage of what feeds a door's locks.
func feedVolts(d *job.Door) unit.Volt {
	f := d.Locks[0].Feed
	if f.Controller {
		f = d.Controller.Feed
	}
	for _, e := range f.Supply.Model.Ports {
		if e.Value.Is == device.Source {
			return e.Value.Nominal
		}
	}
	return 0
}

// otherVoltage takes a lock of the same kind and action for the voltage of the feed.
func otherVoltage(c *context) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	now := lockPort(d.Locks[0])
	return c.swapLocks("fit %s, which suits the voltage of the feed", func(old, m *device.Model, p device.Port) bool {
		return m.Kind == old.Kind && p.Action == now.Action && p.Nominal == feedVolts(d) && p.Nominal != now.Nominal &&
			p.Suppressor == now.Suppressor
	}, nil)
}

// otherFeed feeds the locks of a door from another supply of the job, which gives their voltage.
func otherFeed(c *context) []*candidate {
	d := c.wrongLocks()
	if d == nil {
		return nil
	}
	var all []*candidate
	for _, s := range c.job.Supplies {
		from, ok := c.freeFeed(s)
		if !ok || sourceOf(s.Model).Nominal != lockPort(d.Locks[0]).Nominal {
			continue
		}
		var edits []edit
		for i := range d.Locks {
			edits = append(edits, c.onDoor(item("locks", i, "feed"), from, func(d *job.DoorDoc) { d.Locks[i].Feed = from }))
		}
		all = append(all, one(fmt.Sprintf("feed the lock from %s, which gives the %v that it is for", from, lockPort(d.Locks[0]).Nominal),
			costCable, edits...)...)
	}
	return all
}

// freeFeed is where more may hang on a supply: on itself, or on an output of its board that nothing else uses.
func (c *context) freeFeed(s *job.Supply) (string, bool) {
	if s.Board == nil || s.Board.Model == nil {
		return s.ID, true
	}
	n := c.unused(s)
	return fmt.Sprintf("%s/%d", s.ID, n), n > 0
}

// otherSupply takes a supply of the voltage that the locks of a door are for, that gives no less, and with it a battery of
// as much capacity and a board of as many outputs, where there are. The voltage that it works down to goes with it.
func otherSupply(c *context) []*candidate {
	d := c.wrongLocks()
	if d == nil {
		return nil
	}
	s, volts := situation.LockSupply(d), lockPort(d.Locks[0]).Nominal
	var with []edit
	say := ""
	swap := func(field, has string, pass func(*device.Model) bool, set func(*job.SupplyDoc, string)) bool {
		ids := c.models(pass)
		if len(ids) == 0 {
			return false
		}
		with = append(with, onSupply(s.ID, field, ids[0], set))
		say += ", " + ids[0] + " instead of " + has
		return true
	}
	if s.Battery != nil && !swap("battery", s.Battery.ModelID, func(m *device.Model) bool {
		return batteryOf(m).Nominal == volts && batteryOf(m).Capacity == batteryOf(s.Battery.Model).Capacity
	}, func(d *job.SupplyDoc, id string) { d.Battery = id }) {
		return nil
	}
	if s.Board != nil && s.Board.Model != nil && !swap("board", s.Board.ModelID, func(m *device.Model) bool {
		return isBoard(m, volts) && outputsOf(m) == outputsOf(s.Board.Model)
	}, func(d *job.SupplyDoc, id string) { d.Board = id }) {
		return nil
	}
	if w, ok := c.job.Document.Supplies.Get(s.ID); ok && w.WorksTo > 0 {
		to := w.WorksTo * volts / feedVolts(d)
		with = append(with, onSupply(s.ID, "works-to", to.String(), func(d *job.SupplyDoc, _ string) { d.WorksTo = to }))
	}
	var all []*candidate
	for _, id := range c.models(func(m *device.Model) bool {
		return sourceOf(m).Nominal == volts && sourceOf(m).Limit >= sourceOf(s.Model).Limit &&
			(s.Battery == nil || bears(s.Battery.Model, m)) // its successor is of the same capacity
	}) {
		edits := append([]edit{onSupply(s.ID, "model", id, func(d *job.SupplyDoc, id string) { d.Model = id })}, with...)
		all = append(all, one("fit "+id+" instead of "+s.ModelID+say, costSupply, edits...)...)
	}
	return all
}

// wrongLocks is the door of a finding when its locks are for another voltage than their supply gives, else nil.
func (c *context) wrongLocks() *job.Door {
	d := c.door()
	if d == nil || len(d.Locks) == 0 || lockPort(d.Locks[0]).Nominal == 0 || feedVolts(d) == 0 || lockPort(d.Locks[0]).Nominal == feedVolts(d) {
		return nil
	}
	return d
}
