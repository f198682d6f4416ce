package situation_test

import (
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/situation"
	"doorwright/wiring"
)

// kindPair is what shows that a unit of a kind does its work in the job allKinds, and a change by which it does not: a
// text of the job replaced (several are separated by bars), or an edit of the plan. What else the change shows in by the
// nature of things is listed by subject; anything more is a failure of the test, and so is anything listed in vain.
type kindPair struct {
	kind         string
	unit         string // the unit that does the work
	when         string // what happens
	subject      string // where it shows
	holds, fails string
	old, new     string
	sound, spoil func(*testing.T, *wiring.Plan) // edits of the plan as it is, and of the changed one
	also         []string
}

// kindPairs has a row for each kind, in their order.
func kindPairs() []kindPair {
	return []kindPair{
		{
			kind: "controller", unit: "C1", when: "A.exit1 pressed", subject: "A.lock1", holds: "unpowered", fails: "powered",
			also: []string{"A.entry.led"},
			old:  "    exit: [exit-button]\n", new: "    exit: [exit-button]\n    settings: {exit-only-shunts: true}\n",
		},
		{
			kind: "pulse-reader", unit: "A.entry", when: "A.entry card", subject: "A.entry", holds: "heard", fails: "not heard",
			old: "\nruns:\n", new: "\nruns:\n  W3: {from: A.box, to: A.out, cable: 4x2x0.22s, length: 140 m}\n",
			also: []string{"A.lock1", "A.entry.led"},
		},
		{
			kind: "serial-reader", unit: "B.entry", when: "B.entry card", subject: "B.entry", holds: "heard", fails: "not heard",
			old: "\nplaces:|model: reader-serial", new: readersFor24 + "\nplaces:|model: reader-serial-24",
			also: []string{"B.entry power", "B.lock1"},
		},
		{
			kind: "bus-reader", unit: "C.entry", when: "C.entry card", subject: "C.entry", holds: "heard", fails: "not heard",
			old: "\nplaces:|model: reader-485", new: readersFor24 + "\nplaces:|model: reader-485-24",
			also: []string{"C.entry power", "C.lock1"},
		},
		{
			kind: "magnet", unit: "A.lock1", when: "rest", subject: "A.lock1", holds: "powered", fails: "undecided",
			old: "magnet-12-bare", new: "magnet-24-bare",
		},
		{
			kind: "strike", unit: "C.lock1", when: "C.entry card", subject: "C.lock1", holds: "powered", fails: "undecided",
			old: "strike-12-secure", new: "strike-24-secure",
		},
		{
			kind: "bolt", unit: "F.lock1", when: "rest", subject: "F.lock1", holds: "powered", fails: "undecided",
			old: "bolt-12", new: "bolt-24",
		},
		{
			kind: "handle-lock", unit: "B.lock1", when: "B.entry card", subject: "B.lock1", holds: "powered", fails: "undecided",
			old: "handle-lock-12", new: "handle-lock-24",
		},
		{
			kind: "exit-button", unit: "D.exit1", when: "D.exit1 pressed", subject: "C4.exit1", holds: "closed",
			fails: "between states",
			old:   "exit: [{model: exit-button}]", new: "exit: [{model: exit-button, place: far}]",
			also: []string{"D.lock1", "D.lock2"},
		},
		{
			kind: "exit-sensor", unit: "C.exit1", when: "rest", subject: "C3.exit1", holds: "open", fails: "closed",
			old: "exit-sensor-12", new: "exit-sensor-24", also: []string{"C.exit1 power", "C.lock1"},
		},
		{
			kind: "release", unit: "E.release1", when: "E.release1 operated", subject: "E.lock1", holds: "unpowered",
			fails: "powered",
			old:   "releases: [release-1]", new: "releases: [{model: release-1, into: input}]", also: []string{"C5.exit1"},
		},
		{
			kind: "key-switch", unit: "PS2.reset", when: "PS2.reset turned", subject: "PS2.board.reset", holds: "closed",
			fails: "between states",
			old:   "    reset: key-switch\n", new: "    reset: {model: key-switch, place: far}\n",
		},
		{
			kind: "door-contact", unit: "D.contact1", when: "rest", subject: "C4.contact1", holds: "closed",
			fails: "between states",
			old:   "contacts: [{model: contact-surface}]", new: "contacts: [{model: contact-surface, place: far}]",
		},
		{
			kind: "sounder", unit: "D.sounder", when: "D.contact1 door-closed", subject: "D.sounder power", holds: "runs",
			fails: "dark",
			old:   "sounder-12", new: "sounder-24",
		},
		{
			kind: "relay", unit: "A.watch", when: "rest", subject: "A.watch", holds: "pulled", fails: "fallen",
			old: "relay-12", new: "relay-24", also: []string{"A.lock1"},
		},
		{
			kind: "fire-interface", unit: "PS2.fire", when: "rest", subject: "PS2.board.fire", holds: "closed",
			fails: "between states",
			old:   "    fire: fire-interface\n", new: "    fire: {model: fire-interface, place: far}\n", also: []string{"E.lock1"},
		},
		{
			kind: "supply", unit: "PS4", when: "rest", subject: "A.lock1", holds: "powered", fails: "undecided",
			old: "\nplaces:|PS4: {model: supply-12-2", new: weakSupply + "\nplaces:|PS4: {model: supply-weak",
		},
		{
			kind: "battery", unit: "PS3.battery", when: "PS3 mains", subject: "F.lock1", holds: "powered", fails: "unpowered",
			old: "battery: battery-12-7, ", new: "",
		},
		{
			kind: "board", unit: "PS2.board", when: "PS2.fire fire", subject: "E.lock1", holds: "unpowered", fails: "powered",
			old: "    released: [1]\n", new: "",
		},
		{
			kind: "fuse", unit: "fuse", when: "rest", subject: "F.lock1", holds: "powered", fails: "unpowered",
			sound: fused(2), spoil: fused(0.004),
		},
		{
			kind: "resistor", unit: "D.aux1.series", when: "rest", subject: "C4.aux1", holds: "closed", fails: "open",
			old: "resistor: 4.7 kohm, supervision", new: "resistor: 10 kohm, supervision",
		},
		{
			kind: "diode", unit: "C.lock1.diode", when: "rest", subject: "C.lock1 winding", holds: "suppressed", fails: "bare",
			old: "locks: [strike-12-secure]", new: "locks: [{model: strike-12-secure, suppressor: none}]",
		},
		{
			kind: "clamp", unit: "A.lock1.clamp", when: "rest", subject: "A.lock1 winding", holds: "suppressed", fails: "bare",
			old: "model: magnet-12-bare", new: "model: magnet-12-bare, suppressor: none",
		},
		{
			kind: "junction", unit: "D.plus", when: "rest", subject: "D.lock2", holds: "powered", fails: "unpowered",
			spoil: loosened("D.plus.joint.3"),
		},
		{
			kind: "door-loop", unit: "B.loop", when: "B.entry card", subject: "B.lock1", holds: "powered", fails: "unpowered",
			spoil: loosened("B.loop.loop.1b"),
		},
	}
}

// A unit of every kind does its work, and with one change it does not, while everything else at every unit of the job is
// seen as before, whatever happens, but for what is listed.
func TestEachKindWorksAndFails(t *testing.T) {
	rows := kindPairs()
	if len(rows) == 0 || len(rows) != len(device.Kinds()) {
		t.Fatalf("%d rows for %d kinds", len(rows), len(device.Kinds()))
	}
	for i, kind := range device.Kinds() {
		r := rows[i]
		if r.kind != kind.Name {
			t.Fatalf("row %d is of a %s, want one of a %s", i, r.kind, kind.Name)
		}
		t.Run(r.kind, r.check)
	}
}

// check holds the job and the changed one against the row.
func (r kindPair) check(t *testing.T) {
	plan := planOf(t, allKinds)
	if r.sound != nil {
		r.sound(t, plan)
	}
	if !slices.ContainsFunc(plan.Devices, func(d *wiring.Device) bool { return d.ID == r.unit && d.Model.Kind == r.kind }) {
		t.Fatalf("%s is no %s of the job", r.unit, r.kind)
	}
	spoilt := planOf(t, changed(t, allKinds, r.old, r.new))
	if r.spoil != nil {
		r.spoil(t, spoilt)
	}
	before, after := showsOf(t, situation.New(plan)), showsOf(t, situation.New(spoilt))
	at := sight{r.when, r.subject}
	if before[at] != r.holds {
		t.Errorf("%v: %q, want %q", at, before[at], r.holds)
	}
	if after[at] != r.fails || r.fails == r.holds {
		t.Errorf("%v, changed: %q, want %q and not %q", at, after[at], r.fails, r.holds)
	}
	listed := map[string]bool{}
	for _, subject := range r.also {
		listed[subject] = true
	}
	for _, s := range differing(before, after) {
		if _, ok := listed[s.subject]; !ok && s.subject != r.subject {
			t.Errorf("%v: %q before, %q after the change", s, before[s], after[s])
		}
		listed[s.subject] = false
	}
	for _, subject := range r.also {
		if listed[subject] {
			t.Errorf("%s is listed in vain", subject)
		}
	}
}
