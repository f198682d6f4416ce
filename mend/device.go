package mend

import (
	"fmt"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// models lists the models of a job that pass, in the order of their ids.
func (c *context) models(pass func(*device.Model) bool) []string {
	var ids []string
	all := device.Builtin()
	for _, id := range all.IDs() {
		if m, _ := all.Get(id); pass(m) {
			ids = append(ids, id)
		}
	}
	for _, e := range c.job.Document.Models {
		if pass(&e.Value) {
			ids = append(ids, e.Key)
		}
	}
	return ids
}

// model is a model by its id, an empty one where the job has none of that id.
func (c *context) model(id string) *device.Model {
	if m, ok := device.Builtin().Get(id); ok {
		return m
	}
	if m, ok := c.job.Document.Models.Get(id); ok {
		return m
	}
	return &device.Model{}
}

// addRelease fits a manual release of two poles on each side people come from that has none.
func addRelease(c *context) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	var edits []edit
	for _, side := range []struct {
		name      string
		unsecured bool
		needed    bool
	}{{"secured", false, d.Escape != job.EscapeIn}, {"unsecured", true, d.Escape == job.EscapeIn || d.Escape == job.EscapeBoth}} {
		has := false
		for _, r := range d.Releases {
			has = has || r.Unsecured == side.unsecured
		}
		if has || !side.needed {
			continue
		}
		r := job.ReleaseDoc{Model: "release-2"}
		if side.unsecured {
			r.Side = side.name
		}
		edits = append(edits, c.onDoor("releases", "{model: release-2, side: "+side.name+"}",
			func(d *job.DoorDoc) { d.Releases = append(d.Releases, r) }))
	}
	if edits == nil {
		return nil
	}
	return one("fit a manual release with two poles in the lock feed on each side people leave from", costDevice, edits...)
}

// releaseIntoFeed moves releases that only tell the controller into the lock feed.
func releaseIntoFeed(c *context) []*candidate {
	w := c.written()
	if w == nil {
		return nil
	}
	var edits []edit
	for i, r := range w.Releases {
		if r.Into == "input" {
			edits = append(edits, c.onDoor(item("releases", i, "into"), "feed",
				func(d *job.DoorDoc) { d.Releases[i].Into = "feed" }))
		}
	}
	if edits == nil {
		return nil
	}
	return one("lead the lock feed through the contacts of the manual release, not only its signal to the controller", costPart, edits...)
}

// twoPoles takes releases that break both conductors.
func twoPoles(c *context) []*candidate {
	w := c.written()
	if w == nil {
		return nil
	}
	var edits []edit
	for i, r := range w.Releases {
		if r.Model != "release-2" {
			edits = append(edits, c.onDoor(item("releases", i, "model"), "release-2",
				func(d *job.DoorDoc) { d.Releases[i].Model = "release-2" }))
		}
	}
	if edits == nil {
		return nil
	}
	return one("fit a manual release with two poles", costDevice, edits...)
}

// addFire puts a contact of the fire alarm into the lock feed.
func addFire(c *context) []*candidate {
	d := c.door()
	if d == nil || d.Fire != nil {
		return nil
	}
	return one("put a contact of the fire alarm, closed while all is well, into the lock feed", costDevice,
		c.onDoor("fire", "fire-interface", func(d *job.DoorDoc) { d.Fire = &job.FittedDoc{Model: "fire-interface"} }))
}

// addWatch puts a relay into the lock feed that the controller's supply holds in.
func addWatch(c *context) []*candidate {
	d := c.door()
	if d == nil || d.Watch != nil {
		return nil
	}
	model := relayFor(nominalOf(d.Controller.Model))
	return one("put a relay held in by the controller's supply into the lock feed", costDevice,
		c.onDoor("watch", model, func(d *job.DoorDoc) { d.Watch = &job.FittedDoc{Model: model} }))
}

// addInterposing lets a relay carry the lock's current for the controller's contact.
func addInterposing(c *context) []*candidate {
	d := c.door()
	if d == nil || d.Interpose != nil {
		return nil
	}
	model := relayFor(nominalOf(d.Controller.Model))
	return one("let an interposing relay carry the lock's current", costDevice,
		c.onDoor("interposing", model, func(d *job.DoorDoc) { d.Interpose = &job.FittedDoc{Model: model} }))
}

// nominalOf is the rated voltage of a unit's supply input.
func nominalOf(m *device.Model) unit.Volt {
	if loads := m.PortsOf(device.Load); len(loads) > 0 {
		return m.Port(loads[0]).Nominal
	}
	return 0
}

func relayFor(v unit.Volt) string {
	if v > 18 {
		return "relay-24"
	}
	return "relay-12"
}

// addExit fits an exit button.
func addExit(c *context) []*candidate {
	d := c.door()
	if d == nil || len(d.Exits) > 0 {
		return nil
	}
	return one("fit an exit button, so that the controller learns when somebody leaves", costDevice,
		c.onDoor("exit", "[exit-button]", func(d *job.DoorDoc) { d.Exit = []job.FittedDoc{{Model: "exit-button"}} }))
}

// swapLocks proposes another model for all locks of a door, from those that pass.
func (c *context) swapLocks(text string, pass func(old, m *device.Model, p device.Port) bool, more func(*job.DoorDoc, int)) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	old := d.Locks[0].Model
	ids := c.models(func(m *device.Model) bool {
		name, ok := m.FindPort(device.LockCoil, "", 0, "")
		return ok && pass(old, m, *m.Port(name))
	})
	var all []*candidate
	for _, id := range ids {
		if id == d.Locks[0].ModelID {
			continue
		}
		var edits []edit
		for i := range d.Locks {
			edits = append(edits, c.onDoor(item("locks", i, "model"), id, func(d *job.DoorDoc) {
				d.Locks[i].Model = id
				if more != nil {
					more(d, i)
				}
			}))
		}
		all = append(all, one(fmt.Sprintf(text, id), costDevice, edits...)...)
	}
	return all
}

// failSafeLock takes a lock of the same kind that opens without power.
func failSafeLock(c *context) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	return c.swapLocks("fit %s, which opens without power", func(old, m *device.Model, p device.Port) bool {
		return m.Kind == old.Kind && p.Action == device.FailSafe && p.Nominal == lockPort(d.Locks[0]).Nominal
	}, nil)
}

// continuousLock takes a lock of the same kind that may be powered all day.
func continuousLock(c *context) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	return c.swapLocks("fit %s, which may be powered all day", func(_, m *device.Model, p device.Port) bool {
		return p.Action == device.FailSafe && p.Duty == "continuous" && p.Nominal == lockPort(d.Locks[0]).Nominal
	}, nil)
}

// handleLock takes an electrified lock whose inside handle always opens, with a door loop.
func handleLock(c *context) []*candidate {
	return c.swapLocks("fit %s, whose inside handle always opens and which stays latched, over a door loop",
		func(_, m *device.Model, p device.Port) bool {
			d := c.door()
			return m.Lock.Inside == device.InsideAlways && m.Lock.Fire && p.Action == device.FailSecure && p.Nominal == feedVolts(d)
		}, func(d *job.DoorDoc, i int) {
			d.Locks[i].Handle, d.Locks[i].OnBattery, d.Locks[i].Suppressor = "frees", "", ""
			d.Loop = &job.FittedDoc{Model: "door-loop"}
		})
}
