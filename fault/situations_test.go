package fault_test

import (
	"math"
	"slices"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/wiring"
)

// What must be in the catalogue of an arrangement, and what must not.
func TestCatalogueByArrangement(t *testing.T) {
	for _, c := range []struct {
		name, door string
		has, hasNo []string
	}{
		{
			"magnet on the resting contact",
			"locks: [magnet-12]",
			[]string{
				"open:D1.head.p/1", "high:D1.head.p/1", "bridge:D1.head.p/1+2", "swap:D1.head.p/1+2", "wet:D1.head.p",
				"bridge:C1.lock1.nc+lock1.common", "part:C1.lock1.nc-contact:welded", "part:C1.lock1.nc-contact:open",
				"part:D1.lock1.coil.winding:open", "part:D1.lock1.coil.winding:half", "part:D1.lock1.coil.clamp:short",
				"output:C1.lock1:on", "output:C1.lock1:off", "output:C1:hung", "setting:C1/lock-sense@D1", "source:C1.lock-power:off",
				"bridge:D1.lock1.coil.plus+coil.minus",
			},
			[]string{
				"part:C1.lock1.no-contact:welded", "bridge:C1.lock1.common+lock1.no", "setting:C1/exit-rest@D1",
				"setting:C1/exit-unlocks@D1", "earthed:D1.head.p/2",
			},
		},
		{
			"release of two poles",
			"locks: [magnet-12]\nreleases: [release-2]",
			[]string{
				"part:D1.release1.pole1.contact:welded", "part:D1.release1.pole2.contact:welded", "part:D1.release1.monitor.contact:open",
				"part:D1.release1.operated:off", "bridge:D1.release1.pole1.a+pole1.b", "bridge:D1.release1.pole1.b+pole2.a",
			},
			nil,
		},
		{
			"fire contact and watch relay in the feed",
			"locks: [magnet-12]\nfire: fire-interface\nwatch: relay-12",
			[]string{
				"part:D1.fire.healthy:on", "part:D1.fire.healthy:off", "part:D1.fire.fire.no-contact:welded", "bridge:D1.fire.fire.common+fire.no",
				"part:D1.watch.coil.armature:pulled-in", "part:D1.watch.coil.armature:dropped-out", "part:D1.watch.coil.winding:open",
				"part:D1.watch.coil.diode:short", "part:D1.watch.contact1.no-contact:welded",
			},
			[]string{"part:D1.watch.contact2.no-contact:welded", "part:D1.watch.coil:on"},
		},
		{
			"door contact with two resistors",
			"locks: [magnet-12]\ncontacts: [contact-surface]\nsupervision: double",
			[]string{
				"part:D1.contact1.door-closed:on", "part:D1.contact1.door-closed:off", "part:D1.contact.series.resistor.resistor:x2",
				"part:D1.contact.across.resistor.resistor:x0.5", "part:D1.contact.series.resistor.resistor:short",
				"part:D1.contact.across.resistor.resistor:open", "part:C1.contact1.in-pull-up:open", "setting:C1/contact-rest@D1",
				"setting:C1/contact-none@D1", "setting:C1/contact-single@D1", "setting:C1/contact-value@D1",
			},
			[]string{"setting:C1/contact-double@D1"},
		},
		{
			"diode across a strike",
			"locks: [strike-12-secure]",
			[]string{
				"part:D1.lock1.diode.diode.diode:open", "part:D1.lock1.diode.diode.diode:short", "part:D1.lock1.diode.diode.diode:reversed",
				"part:C1.lock1.no-contact:welded",
			},
			[]string{"part:C1.lock1.nc-contact:welded"},
		},
		{
			"exit sensor",
			"locks: [magnet-12]\nexit: [exit-sensor-12]",
			[]string{"part:D1.exit1:dead", "part:D1.exit1.clear:on", "part:D1.exit1.clear:off", "part:D1.exit1.feed.draw:short"},
			nil,
		},
		{
			"lock in the leaf, readers on a line",
			"locks: [handle-lock-12]\nloop: door-loop\nentry: reader-485\nexit-reader: reader-485",
			[]string{
				"part:D1.loop.loop.way-1:open", "part:D1.entry.data.driver:dead", "part:D1.entry.data.send-mark:on",
				"setting:D1.exit-reader/data-terminator", "part:D1.lock1.handle:on",
			},
			[]string{"part:D1.loop.loop.way-6:open"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			all := fault.Of(oneDoor(t, c.door), "D1")
			for _, id := range c.has {
				find(t, all, id)
			}
			for _, id := range c.hasNo {
				if slices.Contains(ids(all), id) {
					t.Errorf("%s is in the catalogue", id)
				}
			}
		})
	}
}

// Supply and battery are shared: nothing of them is a fault of one door.
func TestSourcesAreShared(t *testing.T) {
	plan := oneDoor(t, "locks: [magnet-12]")
	shared := fault.Of(plan, "")
	for _, id := range []string{
		"source:PS1.out.supply:off", "source:PS1.out.supply:low", "source:PS1.battery.cells.cells:off",
		"source:PS1.battery.cells.cells:low", "source:PS1.battery.cells.cells:reversed", "part:PS1.battery.transfer:open",
		"part:PS1.earth.bond:open",
	} {
		find(t, shared, id)
	}
	low := find(t, shared, "source:PS1.out.supply:low").Edits[0]
	if low.Op != fault.Scale || low.Factor != 0.8 {
		t.Errorf("a low supply is %+v", low)
	}
}

// Two cores swapped are both cut, and each is led with its own copper from where it starts to where the other one ends.
func TestSwapLeadsEachCoreToTheOtherTerminal(t *testing.T) {
	plan := oneDoor(t, "locks: [magnet-12]")
	f := find(t, fault.Of(plan, "D1"), "swap:D1.head.p/1+2")
	v, w := f.At[0], f.At[1]
	if len(f.Edits) != 4 || f.Edits[0].Conductor != v || f.Edits[1].Conductor != w || f.Edits[0].Ohms < 1e8 || f.Edits[1].Ohms < 1e8 {
		t.Fatalf("a swap is %+v", f.Edits)
	}
	for i, want := range []struct {
		from, to wiring.End
		of       *wiring.Conductor
	}{{v.A, w.B, v}, {w.A, v.B, w}} {
		e := f.Edits[2+i]
		if e.Op != fault.Join || e.A != want.from.String() || e.B != want.to.String() || math.Abs(float64(e.Ohms-want.of.Ohms(20).Nominal)) > 1e-12 {
			t.Errorf("edit %d is %+v, want %s led to %s", 2+i, e, want.from, want.to)
		}
	}
}

// Cores that land on the same 0 V at one end may be exchanged without harm.
func TestSwapOfTwoReturnsIsNoFault(t *testing.T) {
	plan := readPlan(t, "brackwater.yaml", demo.Brackwater)
	for _, f := range everything(plan) {
		if f.Class != fault.Swap {
			continue
		}
		joins := 0
		for _, e := range f.Edits {
			if e.Op == fault.Join {
				joins++
			}
		}
		if joins == 0 || len(f.At) < 2 {
			t.Errorf("%s: %+v", f.ID, f.Edits)
		}
	}
	// Cores 4 and 6 of W10 are the returns of the exit line and of the release monitor.
	if slices.Contains(ids(fault.Of(plan, "visitor")), "swap:W10/4+6") {
		t.Error("two returns on one 0 V count as swapped")
	}
	find(t, fault.Of(plan, "visitor"), "swap:W10/3+4")
}

// Names say what a technician looks for.
func TestNamesInPlainWords(t *testing.T) {
	plan := readPlan(t, "brackwater.yaml", demo.Brackwater)
	all := everything(plan)
	for id, want := range map[string]string{
		"open:W3/2": "core 2 black 2 of W3 (PS2.board 3- to C3 0V) is cut",
		"part:visitor.release1.pole1.contact:welded": "visitor.release1: contact 1 to 2 is welded",
		"output:C1:hung":                  "C1 (One-door controller, 12 V) hangs",
		"setting:PS2.board/out1-releases": "PS2.board: output out1 is set to stay on in a fire",
	} {
		if got := find(t, all, id).Name; got != want {
			t.Errorf("%s is called %q, want %q", id, got, want)
		}
	}
}
