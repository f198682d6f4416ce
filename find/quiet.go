package find

import (
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/meter"
)

// Use is the class of what no meter shows: mechanics, settings of the program, numbers. Readings can only exclude the
// rest; what is seen speaks for them.
const Use fault.Class = "use"

// quiet is a suspect without a circuit: it reads as a sound door, and some things look otherwise.
type quiet struct {
	id, name, where, repair string
	when                    func(*job.Door) bool
	looks                   []look
	comes                   often // what becomes of a card number; nil for right
}

// look is what is seen otherwise, and in which act; an empty act is any.
type look struct {
	what   meter.Sight
	act    meter.Act
	yes    float64
	number string
}

// quiets is the one list of them.
func quiets() []quiet {
	always := func(*job.Door) bool { return true }
	read := func(d *job.Door) bool { return d.Entry != nil }
	line := func(is device.PortType) func(*job.Door) bool {
		return func(d *job.Door) bool { return d.Entry != nil && len(d.Entry.Model.PortsOf(is)) > 0 }
	}
	pulses := line(device.PulseOut)
	serial := func(d *job.Door) bool { return line(device.Bus)(d) || line(device.SerialPort)(d) }
	failSafe := func(d *job.Door) bool { return actionOf(d) == device.FailSafe }
	failSecure := func(d *job.Door) bool { return actionOf(d) == device.FailSecure }
	contact := func(d *job.Door) bool { return len(d.Contacts) > 0 }
	card := meter.Card
	unread := []look{{meter.CardRead, card, 0.05, "none"}, {meter.RelayClicks, card, 0.05, ""}, {meter.LockHolds, card, 0.95, ""}}
	refused := func(number string) []look {
		return []look{{meter.CardRead, card, 0.9, number}, {meter.RelayClicks, card, 0.03, ""}, {meter.LockHolds, card, 0.97, ""}}
	}
	return []quiet{
		{
			"use:armature", "the armature of the magnet is out of line, dirty or bolted rigid", "lock and its armature",
			"Clean both faces, float the armature on its washers, set it square.", failSafe,
			[]look{{meter.OpensItself, "", 0.8, ""}, {meter.LockHolds, meter.Idle, 0.5, ""}},
			nil,
		},
		{
			"use:residual", "the magnet holds on by itself after its power has gone", "lock and its armature",
			"Clean the faces, fit the separating pin, replace the armature.", failSafe,
			[]look{{meter.LockHolds, meter.Release, 0.8, ""}, {meter.LockHolds, card, 0.8, ""}, {meter.LockHolds, meter.Fire, 0.8, ""}},
			nil,
		},
		{
			"use:keeper", "the keeper is loaded by the seal or out of line with the latch", "strike and leaf",
			"Set keeper, closer and seal; a strike that opens under load.", failSecure,
			[]look{{meter.LockHolds, card, 0.8, ""}, {meter.LockHolds, meter.Button, 0.8, ""}},
			nil,
		},
		{
			"use:latch", "the latch does not catch", "strike and leaf", "Set keeper and closer.", failSecure,
			[]look{{meter.LockHolds, meter.Idle, 0.2, ""}, {meter.OpensItself, "", 0.8, ""}},
			nil,
		},
		{
			"use:gap", "the gap between contact and magnet is too large", "door contact", "Bring them closer; a type for wide gaps in steel.", contact,
			[]look{{meter.ShowsOpen, meter.Idle, 0.5, ""}, {meter.OpensItself, "", 0.2, ""}},
			nil,
		},
		{
			"use:range", "the reader sits on metal or too near another", "reader", "Fit a spacer, move one of them.", read,
			[]look{{meter.CardRead, card, 0.5, ""}},
			comesTwice,
		},
		{
			"use:noise", "pulses of the data lines are lost, or noise is counted as pulses", "cable of the reader, its screen, suppressor of the lock",
			"Pair D0 and D1 each with the common, never with each other; land the screen at one end only; shorten the cable or take a " +
				"thicker one; fit the suppressor at the lock.",
			pulses,
			[]look{{meter.CardRead, card, 0.5, "wrong"}},
			comesNoisy,
		},
		{
			"setting:address", "two readers answer to one address, or none to the one asked for", "settings of reader and controller",
			"Give each reader an address of its own.", line(device.Bus), unread, nil,
		},
		{
			"setting:speed", "reader and controller talk at different speeds", "settings of reader and controller",
			"Set both alike.", serial, unread, nil,
		},
		{
			"setting:key", "reader and controller have different encryption keys", "settings of reader and controller",
			"Pair them anew.", line(device.Bus), unread, nil,
		},
		{
			"setting:format", "the number format or the site code is set otherwise than the cards", "settings of the controller",
			"Set the format of the cards.", read, refused("wrong"), comesCut,
		},
		{
			"setting:order", "reader, converter or controller turns the order of the bits or bytes", "settings of reader, converter and controller",
			"Set one order of bits and bytes for all of them.", read, refused("wrong"), comesTurned,
		},
		{
			"use:other-card", "another card was shown than was thought, or one of another batch", "card",
			"Compare print and order of the cards; show one whose number is known.", read, refused("wrong"), comesOther,
		},
		{
			"setting:rights", "rights, times, calendar, clock or an interlock refuse the card", "settings of the system",
			"Read the event with its reason; set rights, times and clock.", read, refused("right"), nil,
		},
		{
			"setting:times", "unlock time, held time or schedule are wrong", "settings of the system", "Set them as agreed.", always,
			[]look{{meter.LockHolds, meter.Idle, 0.4, ""}, {meter.OpensItself, "", 0.4, ""}},
			nil,
		},
	}
}

func actionOf(d *job.Door) string {
	for _, l := range d.Locks {
		for _, port := range l.Model.PortsOf(device.LockCoil) {
			return l.Model.Port(port).Action
		}
	}
	return ""
}

// row is the row of a sound door with what looks otherwise.
func (q *quiet) row(b *meter.Book) *meter.Row {
	r := *b.Sound
	r.Sights = make([]meter.Sighting, len(b.Sound.Sights))
	for i, s := range b.Sound.Sights {
		t := meter.Sighting{Yes: map[meter.Sight]float64{}, Number: s.Number}
		for k, v := range s.Yes {
			t.Yes[k] = v
		}
		for _, l := range q.looks {
			if _, seen := t.Yes[l.what]; l.act != "" && l.act != b.Stops[i].In.Act || !seen && l.what != meter.OpensItself {
				continue
			}
			t.Yes[l.what] = l.yes
			if l.number != "" {
				t.Number = l.number
			}
		}
		r.Sights[i] = t
	}
	return &r
}
