package situation_test

import (
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

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

// fused puts a fuse of so many amperes into the feed of the bolt.
func fused(rating unit.Ampere) func(*testing.T, *wiring.Plan) {
	return fusedAt("F.lock1.coil.plus", rating)
}

// fusedAt puts a fuse into the core that ends at a pin. A job cannot fit one yet.
func fusedAt(pin string, rating unit.Ampere) func(*testing.T, *wiring.Plan) {
	return func(t *testing.T, p *wiring.Plan) {
		t.Helper()
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
