package mend

import (
	"doorwright/device"
	"doorwright/job"
)

// letGoOnBattery lets the fail-safe locks of a door go when mains is lost, where nothing in the job says they must not.
func letGoOnBattery(c *context) []*candidate {
	d := c.door()
	if d == nil {
		return nil
	}
	var edits []edit
	for i, l := range d.Locks {
		if lockPort(l).Action != device.FailSafe || l.OnBattery == "let-go" {
			continue
		}
		edits = append(edits, c.onDoor(item("locks", i, "on-battery"), "let-go",
			func(d *job.DoorDoc) { d.Locks[i].OnBattery = "let-go" }))
	}
	if edits == nil {
		return nil
	}
	return one("let the lock go while mains is lost, if the door may stand unlocked then", costSetting, edits...)
}

// ownRelayContact takes the relay contact that lock and relay sense need.
func ownRelayContact(c *context) []*candidate {
	d := c.door()
	if d == nil || d.RelayContact == "" {
		return nil
	}
	other := map[string]string{"nc": "NO", "no": "NC"}[d.RelayContact]
	return one("land the lock feed on contact "+other+" of the lock relay", costSetting,
		c.onDoor("settings.lock-contact", "", func(d *job.DoorDoc) { d.Settings.Contact = "" }))
}

// exitUnlocks lets an exit request move the lock.
func exitUnlocks(c *context) []*candidate {
	if w := c.written(); w == nil || !w.Settings.ExitShunts {
		return nil
	}
	return one("set the controller to unlock on an exit request", costSetting,
		c.onDoor("settings.exit-only-shunts", "", func(d *job.DoorDoc) { d.Settings.ExitShunts = false }))
}

// expectsWhatIsFitted sets the inputs to the scheme and resistors that are fitted.
func expectsWhatIsFitted(c *context) []*candidate {
	w := c.written()
	if w == nil || w.Settings.Expects == "" && w.Settings.Resistor == 0 {
		return nil
	}
	return one("set the controller's inputs to the scheme and end-of-line values that are fitted", costSetting,
		c.onDoor("settings.expects", "", func(d *job.DoorDoc) { d.Settings.Expects = "" }),
		c.onDoor("settings.expects-resistor", "", func(d *job.DoorDoc) { d.Settings.Resistor = 0 }))
}

// fitsWhatIsExpected fits the scheme and resistors that the inputs are set to.
func fitsWhatIsExpected(c *context) []*candidate {
	w := c.written()
	if w == nil || w.Settings.Expects == "" && w.Settings.Resistor == 0 {
		return nil
	}
	set := w.Settings
	var edits []edit
	if set.Expects != "" {
		edits = append(edits, c.onDoor("supervision", set.Expects, func(d *job.DoorDoc) { d.Supervision = set.Expects }))
	}
	if set.Resistor != 0 {
		edits = append(edits, c.onDoor("resistor", set.Resistor.String(), func(d *job.DoorDoc) { d.Resistor = set.Resistor }))
	}
	return one("fit the end-of-line resistors that the controller's inputs are set to", costPart, edits...)
}

// ownSuppressor fits the suppressor that suits the lock.
func ownSuppressor(c *context) []*candidate {
	w := c.written()
	if w == nil {
		return nil
	}
	var all []*candidate
	for i, l := range w.Locks {
		if l.Suppressor == "" {
			continue
		}
		all = append(all, one("fit the suppressor that suits the lock, across its terminals", costPart,
			c.onDoor(item("locks", i, "suppressor"), "", func(d *job.DoorDoc) { d.Locks[i].Suppressor = "" }))...)
	}
	return all
}

// ownTerminators switches terminators on at the two ends of the line and off elsewhere.
func ownTerminators(c *context) []*candidate {
	var edits []edit
	for _, e := range c.job.Document.Doors {
		if r := e.Value.Entry; r != nil && r.Ends != "" {
			edits = append(edits, edit{"doors." + e.Key + ".entry.terminator", "", func(doc *job.Document) {
				d, _ := doc.Doors.Get(e.Key)
				d.Entry.Ends = ""
			}})
		}
		if r := e.Value.ExitReader; r != nil && r.Ends != "" {
			edits = append(edits, edit{"doors." + e.Key + ".exit-reader.terminator", "", func(doc *job.Document) {
				d, _ := doc.Doors.Get(e.Key)
				d.ExitReader.Ends = ""
			}})
		}
	}
	if edits == nil {
		return nil
	}
	return one("switch terminators on at the two ends of the line and off elsewhere", costSetting, edits...)
}

// written is the finding's door as written, nil when it is about none.
func (c *context) written() *job.DoorDoc {
	d, ok := c.job.Document.Doors.Get(c.finding.Door)
	if !ok {
		return nil
	}
	return d
}

func lockPort(l *job.Lock) device.Port {
	if name, ok := l.Model.FindPort(device.LockCoil, "", 0, ""); ok {
		return *l.Model.Port(name)
	}
	return device.Port{}
}
