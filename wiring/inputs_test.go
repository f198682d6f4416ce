package wiring_test

import "testing"

// closedButton is an exit button whose only contact is closed at rest, and a lever with two of them on one unit.
const closedButton = `models:
  button-closed:
    kind: exit-button
    title: Exit button, closed at rest
    strip:
      - {label: "1", pin: button.a}
      - {label: "2", pin: button.b}
    ports:
      button: {is: contact, use: exit, driven: pressed, rest: closed, rating: 1 A, rated-volts: 30 V}
`

func TestInputLines(t *testing.T) {
	const lock = "locks: [strike-12-secure]\n"
	for _, c := range []struct {
		name string
		job  string
		want expect
	}{
		{
			"no supervision: the contact alone", oneDoor(lock + "exit: [exit-button]\ncontacts: [contact-surface]"),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit1.button.common", "C1.exit1.common D1.exit1.button.no",
					"C1.contact1.in D1.contact1.reed.a", "C1.contact1.common D1.contact1.reed.b",
				},
				absent: []string{"D1.exit.across", "D1.exit.series", "D1.contact.series"},
				why:    map[string]string{"C1.exit1.in": "exit request", "C1.contact1.in": "door contact"},
			},
		},
		{
			"single supervision of a contact that is open at rest: across it",
			oneDoor(lock + "exit: [exit-button]\nsupervision: single"),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit1.button.common D1.exit.across.resistor.a",
					"C1.exit1.common D1.exit1.button.no D1.exit.across.resistor.b",
				},
				added:  map[string]string{"D1.exit.across": "resistor 4.7 kohm"},
				absent: []string{"D1.exit.series"},
			},
		},
		{
			"single supervision of a contact that is closed at rest: in series",
			oneDoor(lock + "contacts: [contact-surface]\nsupervision: single\nresistor: 2.2 kohm"),
			expect{
				joined: []string{
					"C1.contact1.in D1.contact.series.resistor.b", "D1.contact.series.resistor.a D1.contact1.reed.a",
					"C1.contact1.common D1.contact1.reed.b",
				},
				apart:  []string{"C1.contact1.in D1.contact1.reed.a D1.contact1.reed.b"},
				added:  map[string]string{"D1.contact.series": "resistor 2.2 kohm"},
				absent: []string{"D1.contact.across"},
			},
		},
		{
			"double supervision of a contact that is open at rest", oneDoor(lock + "exit: [exit-button]\nsupervision: double"),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit.series.resistor.b",
					"D1.exit.series.resistor.a D1.exit.across.resistor.a D1.exit1.button.common",
					"C1.exit1.common D1.exit.across.resistor.b D1.exit1.button.no",
				},
				apart: []string{"C1.exit1.in D1.exit1.button.common D1.exit1.button.no"},
			},
		},
		{
			"double supervision of a contact that is closed at rest",
			oneDoor(lock + "contacts: [contact-surface]\nsupervision: double"),
			expect{
				joined: []string{
					"C1.contact1.in D1.contact.series.resistor.b",
					"D1.contact.series.resistor.a D1.contact.across.resistor.a D1.contact1.reed.a",
					"C1.contact1.common D1.contact.across.resistor.b D1.contact1.reed.b",
				},
				apart: []string{"D1.contact1.reed.a D1.contact1.reed.b"},
			},
		},
		{
			"contacts of two leaves stand in series, the resistor across both",
			oneDoor("leaves: 2\n" + lock + "contacts: [{model: contact-surface}, {model: contact-surface, leaf: 2}]\nsupervision: double"),
			expect{
				joined: []string{
					"C1.contact1.in D1.contact.series.resistor.b",
					"D1.contact.series.resistor.a D1.contact.across.resistor.a D1.contact1.reed.a",
					"D1.contact1.reed.b D1.contact2.reed.a", "C1.contact1.common D1.contact.across.resistor.b D1.contact2.reed.b",
				},
				apart: []string{"D1.contact1.reed.a D1.contact1.reed.b D1.contact2.reed.b"},
			},
		},
		{
			"two exit buttons stand side by side: in series at the first, across the last",
			oneDoor(lock+"exit: [exit-button, {model: exit-button, place: lobby}]\nsupervision: double",
				"places:{riser: {title: Riser}, lobby: {title: Lobby}}"),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit.series.resistor.b",
					"D1.exit.series.resistor.a D1.exit1.button.common D1.exit2.button.common D1.exit.across.resistor.a",
					"C1.exit1.common D1.exit1.button.no D1.exit2.button.no D1.exit.across.resistor.b",
				},
			},
		},
		{
			"exit button that is closed at rest", oneDoor(lock+"exit: [button-closed]", closedButton),
			expect{joined: []string{"C1.exit1.in D1.exit1.button.a", "C1.exit1.common D1.exit1.button.b"}},
		},
		{
			"two of them stand in series", oneDoor(lock+"exit: [button-closed, button-closed]", closedButton),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit1.button.a", "D1.exit1.button.b D1.exit2.button.a", "C1.exit1.common D1.exit2.button.b",
				},
				apart: []string{"D1.exit1.button.a D1.exit1.button.b D1.exit2.button.b"},
			},
		},
		{
			"exit sensor: its relay is held in, so NC is open at rest; fed from the controller",
			oneDoor(lock + "exit: [exit-sensor-12]"),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit1.relay.common", "C1.exit1.common D1.exit1.relay.nc",
					"C1.device-power.plus D1.exit1.feed.plus", "C1.device-power.minus D1.exit1.feed.minus",
				},
				apart: []string{"D1.exit1.relay.common D1.exit1.relay.no"},
				why:   map[string]string{"D1.exit1.feed.plus": "device supply +"},
			},
		},
		{
			"exit sensor on a supply of its own", oneDoor(lock + "exit: [{model: exit-sensor-24, feed: PS2}]"),
			expect{
				joined: []string{"PS2.out.plus D1.exit1.feed.plus", "PS2.out.minus D1.exit1.feed.minus"},
				apart:  []string{"PS2.out.minus PS1.out.minus"},
			},
		},
		{
			"a release that only tells the controller ends at the exit input",
			oneDoor(lock + "releases: [{model: release-1, into: input}]"),
			expect{joined: []string{"C1.exit1.in D1.release1.pole1.a", "C1.exit1.common D1.release1.pole1.b"}},
		},
		{
			"a button on the wall and the handle in the leaf end at one input, over two ways of the loop more",
			oneDoor("locks: [handle-lock-12]\nexit: [exit-button]\nloop: door-loop\nsupervision: double"),
			expect{
				joined: []string{
					"C1.exit1.in D1.exit.series.resistor.b",
					"D1.exit.series.resistor.a D1.exit1.button.common D1.loop.loop.3a D1.lock1.handle.a D1.exit.across.resistor.a",
					"C1.exit1.common D1.exit1.button.no D1.loop.loop.4a D1.lock1.handle.b D1.exit.across.resistor.b",
				},
				apart: []string{"D1.loop.loop.5a D1.loop.loop.4a D1.loop.loop.3a D1.loop.loop.1a D1.loop.loop.2a"},
			},
		},
		{
			"further input with a scheme of its own",
			oneDoor(lock + "aux: [{model: contact-surface, title: Hatch, supervision: single}]"),
			expect{
				joined: []string{"C1.aux1.in D1.aux1.series.resistor.b", "D1.aux1.series.resistor.a D1.aux1.reed.a", "C1.aux1.common D1.aux1.reed.b"},
				added:  map[string]string{"D1.aux1.series": "resistor 4.7 kohm"},
				why:    map[string]string{"C1.aux1.in": "auxiliary input"},
			},
		},
		{
			"sounder at its output", oneDoor(lock + "sounder: sounder-12"),
			expect{
				joined: []string{"C1.sounder1.plus D1.sounder.feed.plus", "C1.sounder1.minus D1.sounder.feed.minus"},
				why:    map[string]string{"D1.sounder.feed.plus": "sounder +"},
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) { c.want.check(t, planOf(t, c.job)) })
	}
}

// End-of-line resistors are at the device, in the leaf when it is: never at the controller.
func TestEndOfLineResistorsAreAtTheDevice(t *testing.T) {
	n := 0
	for _, d := range demoPlan(t).Devices {
		if d.Added == nil || d.Model.Kind != "resistor" {
			continue
		}
		n++
		if d.Place.Door != "" && d.Place.ID == d.Door+".box" {
			t.Errorf("%s is at the controller", d.ID)
		}
	}
	if n < 20 {
		t.Errorf("only %d resistors", n)
	}
}

// The board of a supply: fed, told of fire by a contact that is closed while all is well, reset by a key.
func TestBoard(t *testing.T) {
	expect{
		joined: []string{
			"PS2.out.plus PS2.board.feed.plus", "PS2.out.minus PS2.board.feed.minus PS2.earth.earth",
			"PS2.board.fire.in PS2.fire.fire.common", "PS2.board.fire.common PS2.fire.fire.no",
			"PS2.board.reset.in PS2.reset.key.a", "PS2.board.reset.common PS2.reset.key.b",
			"PS2.battery.plus PS2.battery.cells.plus", "PS2.battery.minus PS2.battery.cells.minus",
			"PS2.board.out1.plus C3.lock1.common", "PS2.board.out3.plus C3.feed.plus", "PS2.board.out3.minus C3.feed.minus",
		},
		apart: []string{"PS3.out.minus PS3.earth.earth", "PS2.fire.fire.nc PS2.board.fire.common"},
		why: map[string]string{
			"PS2.fire.fire.no": "fire signal to the board", "PS2.reset.key.a": "reset of the board",
			"PS2.battery.cells.plus": "standby battery +", "PS2.board.feed.plus": "board supply +", "PS2.earth.earth": "0 V to earth",
		},
	}.check(t, demoPlan(t))
}
