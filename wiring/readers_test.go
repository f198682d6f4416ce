package wiring_test

import (
	"slices"
	"testing"

	"doorwright/wiring"
)

// busReader is a reader on a bus without a terminator of its own.
const busReader = `models:
  reader-plain:
    kind: bus-reader
    title: Reader on a two-wire bus, no terminator
    strip:
      - {label: "+", pin: feed.plus}
      - {label: "-", pin: feed.minus}
      - {label: A, pin: data.a, cores: 2}
      - {label: B, pin: data.b, cores: 2}
    ports:
      feed: {is: load, use: feed, nominal: 12 V, window: 8 V to 30 V, watts: 1.4 W}
      data: {is: bus, speeds: [9600 baud]}
`

func TestReaders(t *testing.T) {
	const lock = "locks: [strike-12-secure]\n"
	for _, c := range []struct {
		name string
		job  string
		want expect
	}{
		{
			"pulse reader: two data lines, supply and lamp; its 0 V comes with the supply",
			oneDoor(lock + "entry: reader-pulse"),
			expect{
				joined: []string{
					"C1.reader1-entry.d0 D1.entry.data.d0", "C1.reader1-entry.d1 D1.entry.data.d1", "C1.led1.a D1.entry.led.in",
					"C1.reader1-power.plus D1.entry.feed.plus", "C1.reader1-power.minus D1.entry.feed.minus",
				},
				apart: []string{"D1.entry.data.d0 D1.entry.data.d1 D1.entry.data.common D1.entry.feed.minus"},
				why:   map[string]string{"D1.entry.data.d0": "data line d0", "D1.entry.led.in": "reader lamp", "D1.entry.feed.plus": "reader supply +"},
			},
		},
		{
			"two pulse readers go to the two ports of the channel", oneDoor(lock + "entry: reader-pulse\nexit-reader: reader-pulse"),
			expect{
				joined: []string{"C1.reader1-entry.d0 D1.entry.data.d0", "C1.reader1-exit.d0 D1.exit-reader.data.d0"},
				apart:  []string{"C1.reader1-entry.d0 C1.reader1-exit.d0"},
			},
		},
		{
			"serial reader: transmitter to receiver, both ways", oneDoor(lock + "entry: reader-serial"),
			expect{
				joined: []string{"C1.serial1.tx D1.entry.data.rx", "C1.serial1.rx D1.entry.data.tx"},
				apart:  []string{"C1.serial1.tx D1.entry.data.tx"},
				why:    map[string]string{"C1.serial1.tx": "serial line, crossed"},
			},
		},
		{
			"reader on another supply: 0 V joined once, beside the data", oneDoor(lock + "entry: {model: reader-pulse-wide, feed: PS2}"),
			expect{
				joined: []string{
					"PS2.out.plus D1.entry.feed.plus", "PS2.out.minus D1.entry.feed.minus",
					"C1.reader1-entry.common D1.entry.data.common",
				},
				why: map[string]string{"D1.entry.data.common": "common 0 V", "D1.entry.feed.plus": "device supply +"},
			},
		},
		{
			"two readers on the other supply: still once",
			oneDoor(lock+"entry: {model: reader-pulse-wide, feed: PS2}\nexit-reader: {model: reader-pulse-wide, feed: PS2}",
				"runs: {R: {from: riser, to: D1.box, cable: 12x0.22, length: 9 m}}"),
			expect{
				joined: []string{"C1.reader1-entry.common D1.entry.data.common"},
				apart:  []string{"C1.reader1-exit.common D1.exit-reader.data.common"},
			},
		},
		{
			"reader on the controller's own supply: no common", oneDoor(lock + "entry: {model: reader-pulse, feed: PS1}"),
			expect{
				joined: []string{"PS1.out.plus D1.entry.feed.plus", "PS1.out.minus D1.entry.feed.minus"},
				apart:  []string{"C1.reader1-entry.common D1.entry.data.common"},
			},
		},
		{
			"bus readers in one line, terminators added at both ends where the units have none",
			oneDoor(lock+"entry: {model: reader-plain}\nexit-reader: {model: reader-plain}", busReader),
			expect{
				joined: []string{
					"C1.bus.a D1.entry.data.a D1.exit-reader.data.a D1.exit-reader.terminator.resistor.a",
					"C1.bus.b D1.entry.data.b D1.exit-reader.data.b D1.exit-reader.terminator.resistor.b",
				},
				added:  map[string]string{"D1.exit-reader.terminator": "resistor 120 ohm"},
				absent: []string{"D1.entry.terminator", "C1.terminator"},
				why:    map[string]string{"D1.entry.data.a": "RS-485 line a"},
			},
		},
		{
			"a terminator as written beats what would be right",
			oneDoor(lock+"entry: {model: reader-plain, terminator: on}\nexit-reader: {model: reader-plain, terminator: off}", busReader),
			expect{
				joined: []string{"C1.bus.a D1.entry.terminator.resistor.a"},
				added:  map[string]string{"D1.entry.terminator": "resistor 120 ohm"},
				absent: []string{"D1.exit-reader.terminator"},
			},
		},
		{
			"North American cable: the same joins",
			oneDoor(lock+"entry: reader-pulse\nexit: [exit-button]\ncontacts: [contact-surface]", "make-up: north-american"),
			expect{joined: []string{
				"C1.reader1-entry.d0 D1.entry.data.d0", "C1.reader1-power.minus D1.entry.feed.minus", "C1.lock1.no D1.lock1.coil.plus",
			}},
		},
	} {
		t.Run(c.name, func(t *testing.T) { c.want.check(t, planOf(t, c.job)) })
	}
}

// A bus of four doors: from unit to unit, A to A and B to B, terminated at the controller and the last reader only.
func TestBusOverSeveralDoors(t *testing.T) {
	p := planOf(t, `job: J
title: One line
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, zero-volt: earthed}
controllers:
  C1: {model: controller-2-12, place: riser, feed: PS1}
doors:
  D1: {title: One, escape: none, fire-rated: no, controller: C1/1, locks: [strike-12-secure], entry: reader-485, exit-reader: reader-485}
  D2: {title: Two, escape: none, fire-rated: no, controller: C1/2, locks: [strike-12-secure], entry: reader-485}
runs:
  B1: {from: riser, to: D1.out, cable: 2x2x0.22s, length: 20 m, carries: [data]}
  B2: {from: D1.out, to: D1.in, cable: 2x2x0.22s, length: 3 m, carries: [data]}
  B3: {from: D1.in, to: D2.out, cable: 2x2x0.22s, length: 12 m, carries: [data]}
  P1: {from: riser, to: D1.out, cable: 4x0.75, length: 20 m, carries: [power, signal]}
  P2: {from: riser, to: D1.in, cable: 4x0.75, length: 20 m, carries: [power, signal]}
  P3: {from: riser, to: D2.out, cable: 4x0.75, length: 20 m, carries: [power, signal]}
`)
	expect{joined: []string{
		"C1.bus.a D1.entry.data.a D1.exit-reader.data.a D2.entry.data.a", "C1.bus.b D1.entry.data.b D1.exit-reader.data.b D2.entry.data.b",
	}}.check(t, p)
	for id, on := range map[string]bool{"C1": true, "D1.entry": false, "D1.exit-reader": false, "D2.entry": true} {
		if got := p.Device(id).Settings.Terminator; got != on {
			t.Errorf("terminator of %s is on: %v, want %v", id, got, on)
		}
	}
	pairs := map[string][]int{}
	for _, c := range p.Conductors {
		if c.Use == wiring.Data && c.Kind == wiring.Core {
			pairs[c.Run.ID] = append(pairs[c.Run.ID], c.Core.Pair)
		}
	}
	for _, run := range []string{"B1", "B2", "B3"} {
		if got := pairs[run]; len(got) != 2 || got[0] != got[1] || got[0] == 0 {
			t.Errorf("A and B lie in pairs %v of %s, want one pair", got, run)
		}
	}
	// The screens of B2 and B3 end at no earth: they go on from that of B1, which is earthed at the controller alone.
	earthed := 0
	for _, c := range p.Conductors {
		if c.Kind == wiring.Screen && c.A.Pin == "earth.earth" {
			earthed++
		}
	}
	if earthed != 1 {
		t.Errorf("%d screens are tied to earth directly, want that of B1", earthed)
	}
	n := netsOf(p)
	for _, c := range p.Conductors {
		if c.Kind == wiring.Screen && n.root(c.A.String()) != n.root("C1.earth.earth") {
			t.Errorf("%s is not earthed at the controller", c.ID)
		}
	}
}

// What belongs to a reader lies in one sheath: data is measured against the 0 V beside it.
func TestReaderInOneSheath(t *testing.T) {
	p := demoPlan(t)
	n := 0
	for _, d := range p.Devices {
		if d.Role != "entry" && d.Role != "exit-reader" {
			continue
		}
		n++
		runs := map[string]bool{}
		for _, c := range p.Conductors {
			if c.Kind == wiring.Core && (c.A.Device == d || c.B.Device == d) {
				runs[c.Run.ID] = true
			}
		}
		if len(runs) != 1 {
			t.Errorf("%s is wired with %d runs", d.ID, len(runs))
		}
	}
	if n < 10 {
		t.Errorf("only %d readers", n)
	}
}

// When the sheath has no cores left for the supply, it goes with the power.
func TestReaderSupplyElsewhereWhenTheSheathIsFull(t *testing.T) {
	p := planOf(t, oneDoor("locks: [strike-12-secure]\nentry: reader-485",
		"runs:\n  B: {from: D1.box, to: D1.out, cable: 1x2x0.34s, length: 9 m}\n  P: {from: D1.box, to: D1.out, cable: 2x0.75, length: 9 m}"))
	var runs []string
	for _, c := range p.Conductors {
		if c.Run != nil && c.Kind == wiring.Core && c.B.Device.ID == "D1.entry" {
			runs = append(runs, c.Run.ID+" "+string(c.Use))
		}
	}
	slices.Sort(runs)
	if want := []string{"B data", "B data", "P power", "P power"}; !slices.Equal(runs, want) {
		t.Errorf("laid in %v, want %v", runs, want)
	}
}
