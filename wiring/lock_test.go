package wiring_test

import (
	"strings"
	"testing"

	"doorwright/wiring"
)

func TestLockFeed(t *testing.T) {
	const strike = "locks: [strike-12-secure]"
	for _, c := range []struct {
		name string
		job  string
		want expect
	}{
		{
			"fail-secure lock takes the contact that is open at rest, wet from the controller", oneDoor(strike),
			expect{
				joined: []string{
					"PS1.out.plus C1.feed.plus", "PS1.out.minus C1.feed.minus",
					"C1.lock-power.plus C1.lock1.common", "C1.lock1.no D1.lock1.coil.plus", "C1.lock-power.minus D1.lock1.coil.minus",
				},
				apart: []string{"C1.lock1.nc C1.lock1.no C1.lock1.common"},
				added: map[string]string{"D1.lock1.diode": "diode"},
				why: map[string]string{
					"C1.lock1.common": "lock feed +", "C1.lock-power.minus": "lock feed -", "D1.lock1.diode.diode.cathode": "suppressor",
				},
			},
		},
		{
			"fail-safe lock takes the contact that is closed at rest", oneDoor("locks: [magnet-12]"),
			expect{
				joined: []string{"C1.lock-power.plus C1.lock1.common", "C1.lock1.nc D1.lock1.coil.plus"},
				apart:  []string{"C1.lock1.nc C1.lock1.no"},
				absent: []string{"D1.lock1.diode", "D1.lock1.clamp"},
			},
		},
		{
			"energised to lock, a fail-safe lock takes the contact that is open at rest",
			oneDoor("locks: [magnet-12]\nsettings: {lock-output: energise-to-lock}"),
			expect{joined: []string{"C1.lock1.no D1.lock1.coil.plus"}, apart: []string{"C1.lock1.nc C1.lock1.no"}},
		},
		{
			"energised to lock, a fail-secure lock takes the contact that is closed at rest",
			oneDoor(strike + "\nsettings: {lock-output: energise-to-lock}"),
			expect{joined: []string{"C1.lock1.nc D1.lock1.coil.plus"}, apart: []string{"C1.lock1.nc C1.lock1.no"}},
		},
		{
			"a contact named in the job beats what would fit", oneDoor("locks: [magnet-12]\nsettings: {lock-contact: no}"),
			expect{joined: []string{"C1.lock1.no D1.lock1.coil.plus"}},
		},
		{
			"separate supply for the lock: the contact is dry and the two 0 V stay apart",
			oneDoor("locks: [{model: magnet-24, feed: PS2}]"),
			expect{
				joined: []string{
					"PS2.out.plus C1.lock1.common", "C1.lock1.nc D1.lock1.coil.plus", "PS2.out.minus D1.lock1.coil.minus",
				},
				apart: []string{"PS1.out.minus PS2.out.minus", "PS1.out.plus PS2.out.plus", "C1.lock-power.plus C1.lock1.common"},
			},
		},
		{
			"bare magnet gets a clamp for its voltage", oneDoor("locks: [{model: magnet-24-bare, feed: PS2}]"),
			expect{
				joined: []string{"D1.lock1.clamp.clamp.a D1.lock1.coil.plus", "D1.lock1.clamp.clamp.b D1.lock1.coil.minus"},
				added:  map[string]string{"D1.lock1.clamp": "clamp"},
			},
		},
		{
			"a suppressor refused in the job is not fitted", oneDoor("locks: [{model: magnet-12-bare, suppressor: none}]"),
			expect{joined: []string{"C1.lock1.nc D1.lock1.coil.plus"}, absent: []string{"D1.lock1.clamp", "D1.lock1.diode"}},
		},
		{
			"diode ring to plus", oneDoor("locks: [{model: magnet-12-bare, suppressor: diode}]"),
			expect{
				joined: []string{"D1.lock1.diode.diode.cathode D1.lock1.coil.plus", "D1.lock1.diode.diode.anode D1.lock1.coil.minus"},
			},
		},
		{
			"release of one pole breaks plus", oneDoor("locks: [magnet-12]\nreleases: [release-1]"),
			expect{
				joined: []string{
					"C1.lock1.nc D1.release1.pole1.a", "D1.release1.pole1.b D1.lock1.coil.plus", "C1.lock-power.minus D1.lock1.coil.minus",
				},
				apart: []string{"D1.release1.pole1.a D1.release1.pole1.b"},
			},
		},
		{
			"release of two poles breaks plus and minus, and tells the controller",
			oneDoor("locks: [magnet-12]\nreleases: [release-2]"),
			expect{
				joined: []string{
					"C1.lock1.nc D1.release1.pole1.a", "D1.release1.pole1.b D1.lock1.coil.plus",
					"C1.lock-power.minus D1.release1.pole2.a", "D1.release1.pole2.b D1.lock1.coil.minus",
					"C1.aux1.in D1.release1.monitor.a", "C1.aux1.common D1.release1.monitor.b",
				},
				apart: []string{"D1.release1.pole2.a D1.release1.pole2.b"},
				why: map[string]string{
					"D1.release1.pole1.a": "lock feed + through manual release",
					"D1.release1.pole2.a": "lock feed - through manual release", "C1.aux1.in": "release monitor",
				},
			},
		},
		{
			"two releases stand one behind the other in both poles",
			oneDoor("locks: [magnet-12]\nreleases: [release-2, {model: release-2, side: unsecured}]"),
			expect{joined: []string{
				"C1.lock1.nc D1.release1.pole1.a", "D1.release1.pole1.b D1.release2.pole1.a", "D1.release2.pole1.b D1.lock1.coil.plus",
				"C1.lock-power.minus D1.release1.pole2.a", "D1.release1.pole2.b D1.release2.pole2.a",
				"D1.release2.pole2.b D1.lock1.coil.minus",
			}},
		},
		{
			"fire contact, watch relay and exit device stand in the feed in that order",
			oneDoor("locks: [magnet-12]\nfire: fire-interface\nwatch: relay-12\nexit: [{model: exit-button-2, breaks-feed: true}]"),
			expect{
				joined: []string{
					"C1.lock1.nc D1.fire.fire.common", "D1.fire.fire.no D1.watch.contact1.common", "D1.watch.contact1.no D1.exit1.break.a",
					"D1.exit1.break.b D1.lock1.coil.plus", "C1.feed.plus D1.watch.coil.plus", "C1.feed.minus D1.watch.coil.minus",
					"C1.exit1.in D1.exit1.button.common", "C1.exit1.common D1.exit1.button.no",
				},
				apart: []string{"D1.fire.fire.nc D1.fire.fire.no", "D1.watch.contact1.nc D1.watch.contact1.no"},
				why: map[string]string{
					"D1.fire.fire.common": "lock feed + through fire contact", "D1.watch.contact1.common": "lock feed + through watch relay",
					"D1.exit1.break.a": "lock feed + through exit device", "D1.watch.coil.plus": "watch relay coil +",
				},
			},
		},
		{
			"interposing relay: the controller feeds its coil, its contact the lock",
			oneDoor("locks: [{model: magnet-24, feed: PS2}]\ninterposing: relay-12"),
			expect{
				joined: []string{
					"C1.lock-power.plus C1.lock1.common", "C1.lock1.nc D1.interposing.coil.plus",
					"C1.lock-power.minus D1.interposing.coil.minus", "PS2.out.plus D1.interposing.contact1.common",
					"D1.interposing.contact1.no D1.lock1.coil.plus", "PS2.out.minus D1.lock1.coil.minus",
				},
				apart: []string{"PS2.out.plus C1.lock1.common"},
				why:   map[string]string{"D1.interposing.coil.minus": "interposing relay coil"},
			},
		},
		{
			"several locks on one feed fan out at the head",
			oneDoor("leaves: 2\nlocks: [magnet-12, {model: magnet-12, leaf: 2}]"),
			expect{
				joined: []string{
					"C1.lock1.nc D1.plus.joint.1 D1.lock1.coil.plus D1.lock2.coil.plus",
					"C1.lock-power.minus D1.minus.joint.1 D1.lock1.coil.minus D1.lock2.coil.minus",
				},
				added: map[string]string{"D1.plus": "junction 3", "D1.minus": "junction 3"},
			},
		},
		{
			"a lock in the leaf is reached over the door loop, its handle contact too",
			oneDoor("locks: [handle-lock-12]\nloop: door-loop"),
			expect{
				joined: []string{
					"C1.lock1.no D1.loop.loop.1a D1.lock1.coil.plus", "C1.lock-power.minus D1.loop.loop.2a D1.lock1.coil.minus",
					"C1.exit1.in D1.loop.loop.3a D1.lock1.handle.a", "C1.exit1.common D1.loop.loop.4a D1.lock1.handle.b",
				},
				why: map[string]string{"D1.loop.loop.3b": "exit request", "D1.loop.loop.1a": "lock feed +"},
			},
		},
	} {
		t.Run(c.name, func(t *testing.T) { c.want.check(t, planOf(t, c.job)) })
	}
}

// Out and back lie in one sheath wherever they go the same way, so that the current of a sheath sums to nothing.
func TestFeedGoesOutAndBackInOneSheath(t *testing.T) {
	p := planOf(t, oneDoor("locks: [magnet-12]\nreleases: [release-2]\nfire: fire-interface"))
	net := map[string]int{}
	for _, c := range p.Conductors {
		if c.Kind != wiring.Core || c.Use != wiring.Power {
			continue
		}
		forth := 1
		if strings.Contains(c.Reason.Purpose, "-") {
			forth = -1
		}
		// A core that leads back from the release to the box carries the current the other way.
		if c.A.Device.ID == "D1.release1" {
			forth = -forth
		}
		net[c.Run.ID] += forth
	}
	if len(net) < 3 {
		t.Fatalf("only %d runs carry power", len(net))
	}
	for run, sum := range net {
		if sum != 0 {
			t.Errorf("%s: %d more cores out than back", run, sum)
		}
	}
}

// One supply feeds many doors: each has its own pair, and the crowded screws of the supply get junctions.
func TestOneSupplyManyDoors(t *testing.T) {
	p := planOf(t, `job: J
title: Many doors
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, zero-volt: earthed}
controllers:
  C1: {model: controller-1-12, place: D1.box, feed: PS1}
  C2: {model: controller-1-12, place: D2.box, feed: PS1}
  C3: {model: controller-1-12, place: D3.box, feed: PS1}
doors:
  D1: {title: One, escape: none, fire-rated: no, controller: C1, locks: [strike-12-secure]}
  D2: {title: Two, escape: none, fire-rated: no, controller: C2, locks: [strike-12-secure]}
  D3: {title: Three, escape: none, fire-rated: no, controller: C3, locks: [strike-12-secure]}
`)
	expect{
		joined: []string{
			"PS1.out.plus PS1.out-plus.joint.screw C1.feed.plus C2.feed.plus C3.feed.plus",
			"PS1.out.minus PS1.earth.earth PS1.out-minus.joint.screw C1.feed.minus C2.feed.minus C3.feed.minus",
		},
		apart: []string{"D1.lock1.coil.plus D2.lock1.coil.plus D3.lock1.coil.plus"},
		added: map[string]string{"PS1.out-plus": "junction 4", "PS1.out-minus": "junction 4"},
	}.check(t, p)
	if got := purposes(p, "PS1.earth.earth"); len(got) != 1 || got[0] != "0 V to earth" {
		t.Errorf("at the earth terminal: %q", got)
	}
}

// A 0 V that nobody stated as earthed is planned as one that is not stated, and names no document as its basis.
func TestZeroVoltThatNobodyStated(t *testing.T) {
	p := planOf(t, `job: J
title: One door
rules: [uk-b]
places: {riser: {title: Riser}, D1.box: {title: One}}
supplies:
  PS1: {model: supply-12-5, place: riser}
controllers:
  C1: {model: controller-1-12, place: D1.box, feed: PS1}
doors:
  D1: {title: One, escape: none, fire-rated: no, controller: C1, locks: [strike-12-secure]}
`)
	if got := purposes(p, "PS1.earth.earth"); len(got) != 1 || got[0] != "0 V to earth, not stated" {
		t.Errorf("at the earth terminal: %q", got)
	}
	for _, w := range p.Conductors {
		if w.Unsure && (!strings.Contains(w.Reason.Why, "take for granted") || !strings.Contains(w.Reason.Basis, "not stated")) {
			t.Errorf("%+v", w.Reason)
		}
	}
}
