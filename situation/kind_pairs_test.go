package situation_test

import (
	"cmp"
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/situation"
	"doorwright/unit"
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
			kind: "exit-button", unit: "D.exit1", when: "D.exit1 pressed", subject: "C4.exit1", holds: "closed", fails: "between states",
			old: "exit: [{model: exit-button}]", new: "exit: [{model: exit-button, place: far}]",
			also: []string{"D.lock1", "D.lock2"},
		},
		{
			kind: "exit-sensor", unit: "C.exit1", when: "rest", subject: "C3.exit1", holds: "open", fails: "closed",
			old: "exit-sensor-12", new: "exit-sensor-24", also: []string{"C.exit1 power", "C.lock1"},
		},
		{
			kind: "release", unit: "E.release1", when: "E.release1 operated", subject: "E.lock1", holds: "unpowered", fails: "powered",
			old: "releases: [release-1]", new: "releases: [{model: release-1, into: input}]", also: []string{"C5.exit1"},
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
			kind: "sounder", unit: "D.sounder", when: "D.contact1 door-closed", subject: "D.sounder power", holds: "runs", fails: "dark",
			old: "sounder-12", new: "sounder-24",
		},
		{
			kind: "relay", unit: "A.watch", when: "rest", subject: "A.watch", holds: "pulled", fails: "fallen",
			old: "relay-12", new: "relay-24", also: []string{"A.lock1"},
		},
		{
			kind: "fire-interface", unit: "PS2.fire", when: "rest", subject: "PS2.board.fire", holds: "closed", fails: "between states",
			old: "    fire: fire-interface\n", new: "    fire: {model: fire-interface, place: far}\n", also: []string{"E.lock1"},
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
			kind: "fuse", unit: "fuse", when: "rest", subject: "F.lock1", holds: "powered", fails: "undecided",
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

// allKinds has a unit of each kind but the fuse, which no job can fit yet.
const allKinds = `job: K
title: All kinds
rules: [uk-b]
places: {riser: {title: Riser}, far: {title: Far away}}
supplies:
  PS1: {model: supply-12-5, place: riser, zero-volt: earthed}
  PS2:
    model: supply-24-5
    place: riser
    zero-volt: earthed
    board: board-24-8
    fire: fire-interface
    reset: key-switch
    released: [1]
  PS3: {model: supply-12-2, place: riser, battery: battery-12-7, zero-volt: earthed}
  PS4: {model: supply-12-2, place: riser, zero-volt: earthed}
controllers:
  C1: {model: controller-1-12, place: A.box, feed: PS1}
  C2: {model: controller-1-12, place: B.box, feed: PS1}
  C3: {model: controller-1-12, place: C.box, feed: PS1}
  C4: {model: controller-1-12, place: D.box, feed: PS1}
  C5: {model: controller-1-24, place: E.box, feed: PS2/2}
  C6: {model: controller-1-12, place: F.box, feed: PS1}
doors:
  A:
    title: Magnet
    escape: none
    fire-rated: no
    controller: C1
    entry: reader-pulse
    locks: [{model: magnet-12-bare, feed: PS4}]
    exit: [exit-button]
    watch: relay-12
  B:
    title: Handle
    escape: none
    fire-rated: no
    controller: C2
    entry: {model: reader-serial, speed: 9600 baud}
    locks: [handle-lock-12]
    loop: door-loop
  C:
    title: Strike
    escape: none
    fire-rated: no
    controller: C3
    entry: {model: reader-485, speed: 9600 baud}
    locks: [strike-12-secure]
    exit: [{model: exit-sensor-12}]
  D:
    title: Two leaves
    escape: none
    fire-rated: no
    leaves: 2
    controller: C4
    locks: [strike-12-safe, {model: strike-12-safe, leaf: 2}]
    exit: [{model: exit-button}]
    contacts: [{model: contact-surface}]
    sounder: sounder-12
    aux: [{model: contact-surface, resistor: 4.7 kohm, supervision: double}]
    settings: {expects-resistor: 4.7 kohm}
  E:
    title: On the board
    escape: none
    fire-rated: no
    controller: C5
    locks: [{model: strike-24-safe, feed: PS2/1}]
    releases: [release-1]
    settings: {exit-only-shunts: true}
  F:
    title: On a feed of its own
    escape: none
    fire-rated: no
    controller: C6
    locks: [{model: bolt-12, feed: PS3}]
runs:
  W0: {from: riser, to: D.box, cable: 4x1.5, length: 9 m}
  W1: {from: riser, to: far, cable: 8x0.22, length: 4000 m}
  W2: {from: D.box, to: far, cable: 8x0.22, length: 4000 m}
`

// readersFor24 are readers as those of the job, but for 24 V.
const readersFor24 = `
models:
  reader-serial-24:
    kind: serial-reader
    title: Reader with serial line, 24 V
    strip:
      - {label: "+", pin: feed.plus}
      - {label: "-", pin: feed.minus, cores: 2}
      - {label: TX, pin: data.tx}
      - {label: RX, pin: data.rx}
    ports:
      feed: {is: load, use: feed, nominal: 24 V, window: 18 V to 30 V, watts: 1.2 W}
      data: {is: serial, speeds: [9600 baud]}
  reader-485-24:
    kind: bus-reader
    title: Reader on a two-wire bus, 24 V
    strip:
      - {label: "+", pin: feed.plus}
      - {label: "-", pin: feed.minus, cores: 2}
      - {label: A, pin: data.a}
      - {label: B, pin: data.b}
    ports:
      feed: {is: load, use: feed, nominal: 24 V, window: 18 V to 30 V, watts: 1.4 W}
      data: {is: bus, speeds: [9600 baud], terminator: true}`

// weakSupply gives less than half of what the magnet draws.
const weakSupply = `
models:
  supply-weak:
    kind: supply
    title: Weak supply
    strip:
      - {label: "+", pin: out.plus}
      - {label: "-", pin: out.minus, cores: 2}
      - {label: "E", pin: earth.earth}
    ports:
      out: {is: source, nominal: 12 V, float: 13.65 V, spread: 0.01, limit: 0.2 A, short: 0.2 A}
      earth: {is: earth}`

// fused puts a fuse of so many amperes into the feed of the bolt. A job cannot fit one yet.
func fused(rating unit.Ampere) func(*testing.T, *wiring.Plan) {
	return func(t *testing.T, p *wiring.Plan) {
		t.Helper()
		const pin = "F.lock1.coil.plus"
		fuse := &wiring.Device{ID: "fuse", ModelID: "fuse", Model: device.FuseModel(rating)}
		p.Devices = append(p.Devices, fuse)
		for _, c := range p.Conductors {
			if c.Kind != wiring.Core || c.B.Device == nil || c.A.String() != pin && c.B.String() != pin {
				continue
			}
			lead := &wiring.Conductor{ID: "fuse lead", Kind: wiring.Lead, A: wiring.End{Device: fuse, Pin: "fuse.b"}, B: c.B}
			c.B = wiring.End{Device: fuse, Pin: "fuse.a"}
			p.Conductors = append(p.Conductors, lead)
			return
		}
		t.Fatalf("no core ends at %s", pin)
	}
}

// loosened takes off the conductor that lands on a pin.
func loosened(pin string) func(*testing.T, *wiring.Plan) {
	return func(t *testing.T, p *wiring.Plan) {
		t.Helper()
		before := len(p.Conductors)
		p.Conductors = slices.DeleteFunc(p.Conductors, func(c *wiring.Conductor) bool {
			return c.A.String() == pin || c.B.String() == pin
		})
		if before-len(p.Conductors) != 1 {
			t.Fatalf("%d conductors end at %s", before-len(p.Conductors), pin)
		}
	}
}

// sight is where something is seen, and when.
type sight struct{ when, subject string }

// shown is what is seen of every unit.
type shown map[sight]string

// showsOf takes every island through what the world can do to each of its units, one at a time.
func showsOf(t *testing.T, site *situation.Site) shown {
	t.Helper()
	all := shown{}
	for _, is := range site.Islands {
		b := is.Bench(situation.Nominal())
		rest := b.Save()
		all.look(t, is, b, "rest")
		all.windings(is)
		for _, u := range is.Units {
			for _, signal := range device.KindOf(u.Device.Model.Kind).World {
				b.Back(rest)
				act := situation.Action{Device: u.Device.ID, Signal: signal, On: !b.Signal(u, signal)}
				b.Take(situation.Step{Do: []situation.Action{act}, Wait: 1})
				all.look(t, is, b, u.Device.ID+" "+signal)
			}
		}
		for _, d := range is.Doors {
			if d.Entry != nil {
				b.Back(rest)
				when := d.Entry.ID + " card"
				all[sight{when, d.Entry.ID}] = word(b.Take(situation.Step{Show: d.Entry.ID}).Heard, "heard", "not heard")
				all.look(t, is, b, when)
			}
		}
	}
	return all
}

func word(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

// look enters the locks, relays, inputs and powers of an island.
func (s shown) look(t *testing.T, is *situation.Island, b *situation.Bench, when string) {
	t.Helper()
	if !b.Outcome().Settled() {
		t.Errorf("%s: %v %v", when, b.Outcome().Circuit.Outcome, b.Outcome().Unsteady)
	}
	for _, d := range is.Doors {
		for _, l := range b.Door(d).Locks {
			s[sight{when, l.Lock.ID}] = [...]string{"unpowered", "undecided", "powered"}[l.Power]
		}
	}
	for _, u := range is.Units {
		id, m := u.Device.ID, u.Device.Model
		if m.Running() != "" {
			s[sight{when, id + " power"}] = word(b.Runs(u), "runs", "dark")
		}
		for _, port := range m.PortsOf(device.Coil) {
			s[sight{when, id}] = word(b.Signal(u, port), "pulled", "fallen")
		}
		for _, port := range m.PortsOf(device.Input) {
			s[sight{when, id + "." + port}] = b.Reading(u, port).Level.String()
		}
	}
}

// windings enters which windings of locks have a suppressor, down to the first that has none.
func (s shown) windings(is *situation.Island) {
	bare := firstFree(is, nil)
	for _, d := range is.Doors {
		for _, l := range d.Locks {
			s[sight{"rest", l.ID + " winding"}] = word(l.ID == bare, "bare", "suppressed")
		}
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
	r.edit(t, plan, r.sound)
	if !slices.ContainsFunc(plan.Devices, func(d *wiring.Device) bool { return d.ID == r.unit && d.Model.Kind == r.kind }) {
		t.Fatalf("%s is no %s of the job", r.unit, r.kind)
	}
	spoilt := planOf(t, changed(t, allKinds, r.old, r.new))
	r.edit(t, spoilt, r.spoil)
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

// edit edits a plan, if there is an edit.
func (r kindPair) edit(t *testing.T, p *wiring.Plan, by func(*testing.T, *wiring.Plan)) {
	t.Helper()
	if by != nil {
		by(t, p)
	}
}

// differing are the sights that both have, and that are not the same, in order.
func differing(before, after shown) []sight {
	var all []sight
	for s, was := range before {
		if is, ok := after[s]; ok && is != was {
			all = append(all, s)
		}
	}
	slices.SortFunc(all, func(a, b sight) int {
		return cmp.Or(cmp.Compare(a.subject, b.subject), cmp.Compare(a.when, b.when))
	})
	return all
}
