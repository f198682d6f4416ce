package mend

import (
	"fmt"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
)

// feedFromSupply feeds the locks of a door from a supply, not from the controller's lock-power output.
func feedFromSupply(c *context) []*candidate {
	d := c.door()
	if d == nil || !d.Locks[0].Feed.Controller {
		return nil
	}
	from := d.Controller.Feed.Supply.ID
	if n := d.Controller.Feed.Output; n > 0 {
		from = fmt.Sprintf("%s/%d", from, n)
	}
	var edits []edit
	for i := range d.Locks {
		edits = append(edits, c.onDoor(item("locks", i, "feed"), from, func(d *job.DoorDoc) { d.Locks[i].Feed = from }))
	}
	return one("feed the lock from the supply itself, over cores of its own", costPart, edits...)
}

// biggerSupply takes the next larger supplies of the same voltage, none that charges the battery harder than it bears.
func biggerSupply(c *context) []*candidate {
	s := c.supply()
	if s == nil {
		return nil
	}
	now := sourceOf(s.Model)
	ids := c.models(func(m *device.Model) bool {
		p := sourceOf(m)
		return p.Nominal == now.Nominal && p.Limit > now.Limit && (s.Battery == nil || bears(s.Battery.Model, m))
	})
	return c.onSupply(s.ID, "model", ids, "fit %s instead of "+s.ModelID, func(d *job.SupplyDoc, id string) { d.Model = id })
}

// biggerBattery takes larger batteries of the same voltage.
func biggerBattery(c *context) []*candidate {
	s := c.supply()
	if s == nil || s.Battery == nil {
		return nil
	}
	now := batteryOf(s.Battery.Model)
	ids := c.models(func(m *device.Model) bool {
		p := batteryOf(m)
		return p.Cells == now.Cells && p.Capacity > now.Capacity
	})
	return c.onSupply(s.ID, "battery", ids, "fit %s instead of "+s.Battery.ModelID, func(d *job.SupplyDoc, id string) { d.Battery = id })
}

func (c *context) onSupply(id, field string, models []string, text string, set func(*job.SupplyDoc, string)) []*candidate {
	var all []*candidate
	for _, m := range models {
		all = append(all, one(fmt.Sprintf(text, m), costSupply, onSupply(id, field, m, set))...)
	}
	return all
}

// onSupply edits the document of a supply.
func onSupply(id, field, value string, set func(*job.SupplyDoc, string)) edit {
	return edit{"supplies." + id + "." + field, value, func(doc *job.Document) {
		if s, ok := doc.Supplies.Get(id); ok {
			set(s, value)
		}
	}}
}

// supply is the supply the finding is about, or that its door's controller hangs on.
func (c *context) supply() *job.Supply {
	for _, s := range c.job.Supplies {
		if s.ID == c.finding.Subject.Supply {
			return s
		}
	}
	return nil
}

func sourceOf(m *device.Model) device.Port {
	if names := m.PortsOf(device.Source); len(names) > 0 {
		return *m.Port(names[0])
	}
	return device.Port{}
}

func batteryOf(m *device.Model) device.Port {
	if names := m.PortsOf(device.Battery); len(names) > 0 && len(m.PortsOf(device.Source)) == 0 {
		return *m.Port(names[0])
	}
	return device.Port{}
}

// otherUnit takes a unit of the same kind whose window holds the voltage that was found.
func otherUnit(c *context) []*candidate {
	return c.swapReader(func(old, m *device.Model) bool {
		w := m.Port(m.PortsOf(device.Load)[0]).Window
		return m.Kind == old.Kind && w.Holds(unit.Volt(c.finding.Figure))
	})
}

// otherReader takes a reader with another kind of data line.
func otherReader(c *context) []*candidate {
	return c.swapReader(func(old, m *device.Model) bool {
		return m.Kind != old.Kind && len(m.PortsOf(device.Bus)) > 0
	})
}

// swapReader proposes other models for the reader the finding is about.
func (c *context) swapReader(pass func(old, m *device.Model) bool) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	isReader := func(m *device.Model) bool {
		return len(m.PortsOf(device.Load)) > 0 && (len(m.PortsOf(device.PulseOut)) > 0 || len(m.PortsOf(device.Bus)) > 0 ||
			len(m.PortsOf(device.SerialPort)) > 0) && m.Channels() == 0
	}
	for _, r := range []struct {
		reader *job.Reader
		field  string
		of     func(*job.DoorDoc) *job.FittedDoc
	}{
		{d.Entry, "entry", func(d *job.DoorDoc) *job.FittedDoc { return d.Entry }},
		{d.ExitReader, "exit-reader", func(d *job.DoorDoc) *job.FittedDoc { return d.ExitReader }},
	} {
		if r.reader == nil || r.reader.ID != c.finding.Subject.Device {
			continue
		}
		ids := c.models(func(m *device.Model) bool { return isReader(m) && pass(r.reader.Model, m) })
		ids = slices.DeleteFunc(ids, func(id string) bool { return id == r.reader.ModelID })
		var all []*candidate
		for _, id := range ids {
			all = append(all, one("fit "+id+" instead of "+r.reader.ModelID, costDevice,
				c.onDoor(r.field+".model", id, func(d *job.DoorDoc) { r.of(d).Model = id }))...)
		}
		return all
	}
	return nil
}
