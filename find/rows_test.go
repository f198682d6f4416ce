package find

import (
	"slices"
	"strings"
	"testing"

	"doorwright/meter"
)

// What a technician sees and reads at a door with one fault, as fault-finding tables of the trade tell it (common
// practice, no source; figures by Ohm's law for 12 V and 24 V gear), must lead to the fault among the first three groups.
func TestSymptomsLeadToTheFault(t *testing.T) {
	for _, tt := range []struct {
		name, door, fault string
		facts             []string // readings, or observations
	}{
		// What is not fed stands, by way of the lock, at the supply's 0 V: below the controller's by what its own core drops.
		{"relay common not fed", "plant", "open:W3/3", []string{
			"lock holds; idle; no", "relay clicks; card; yes", "C3 C1; C3 0V; idle; volts -0.2 V", "PS2.board 1+; PS2.board 1-; idle; volts 27.2 V",
		}},
		{"fail-safe lock on NO", "plant", "wiring:C3.lock1.nc@no", []string{
			"lock holds; idle; no", "lock holds; card; yes", "relay clicks; card; yes",
		}},
		{"fail-secure strike on NC", "staff", "wiring:C2.lock1.no@nc", []string{
			"lock holds; idle; no", "lock holds; card; yes", "staff.lock1 +; staff.lock1 -; idle; volts 12.9 V",
		}},
		{"polarity reversed at the controller", "plant", "swap:W3/1+2", []string{
			"controller runs; idle; no", "C3 +24V; C3 0V; idle; volts -0.9 V",
		}},
		{"cable too thin or joint bad in the lock feed", "plant", "high:plant.in.p/1", []string{
			"lock holds; idle; no", "plant.lock1 +; plant.lock1 -; idle; volts 21.4 V", "plant.watch 14; C3 0V; idle; volts 26.3 V",
			"plant.release1 1; plant.exit1 NO; idle; volts 21.7 V",
		}},
		{"diode across the lock reversed", "staff", "part:staff.lock1.diode.diode.diode:reversed", []string{
			"lock holds; card; yes", "fuse blown; card; yes", "staff.lock1 +; staff.lock1 -; card; volts 0.9 V",
		}},
		{"suppressor short", "plant", "part:plant.lock1.coil.clamp:short", []string{
			"lock holds; idle; no", "fuse blown; idle; yes", "plant.lock1 +; plant.lock1 -; idle; volts 0.05 V",
		}},
		{"relay contact welded", "plant", "part:C3.lock1.nc-contact:welded", []string{
			"lock holds; idle; yes", "lock holds; card; yes", "relay clicks; card; yes", "C3 C1; C3 NC1; card; volts 0.0 V",
		}},
		{"24 V lock on 12 V", "staff", "wiring:staff.lock1:double", []string{
			"lock holds; card; yes", "staff.lock1 +; staff.lock1 -; off, staff.lock1 alone; ohms 192 ohm",
		}},
		{"second feed past the release", "staff", "supplied:lead:staff.lock1.coil.plus:staff.lock1.coil-plus.joint.screw@PS1", []string{
			"lock holds; idle; no", "relay clicks; card; yes", "staff.lock1 +; staff.lock1 -; idle; volts 13.1 V",
		}},
		{"coil open", "plant", "part:plant.lock1.coil.winding:open", []string{
			"lock holds; idle; no", "plant.lock1 +; plant.lock1 -; idle; volts 27.1 V", "plant.lock1 +; plant.lock1 -; off, plant.lock1 alone; ohms open",
		}},
		{"shorted turns", "plant", "part:plant.lock1.coil.winding:half", []string{
			"plant.lock1 +; plant.lock1 -; off, plant.lock1 alone; ohms 48 ohm", "plant.lock1 +; plant.lock1 -; idle; volts 25.0 V",
		}},
		{"fuse of the lock output blown", "plant", "source:PS2.board.out1:off", []string{
			"lock holds; idle; no", "PS2.board 1+; PS2.board 1-; idle; volts 0.0 V", "PS2.board 3+; PS2.board 3-; idle; volts 27.2 V",
		}},
		{"loop at the hinge broken", "gauge", "part:gauge.loop.loop.way-1:open", []string{
			"lock holds; card; yes", "gauge.lock1 +; gauge.lock1 -; card; volts 0.0 V", "gauge.loop 1; gauge.loop 1'; card; volts 13.5 V",
		}},
		{"link left across the release", "plant", "bridge:plant.release1.pole1.a+pole1.b", []string{
			"plant.release1 1; plant.release1 2; off, release; ohms 0.3 ohm", "plant.release1 3; plant.release1 4; off, release; ohms open",
		}},
		{"release not reset", "plant", "part:plant.release1.operated:on", []string{
			"lock holds; idle; no", "plant.release1 1; plant.release1 2; off; ohms open", "C3 AUX1; C3 0V; idle; volts 4.05 V",
		}},
		{"wrong end-of-line value", "plant", "part:plant.contact.series.resistor.resistor:x2", []string{
			"C3 DC1; C3 0V; off, C3/P3 pulled; ohms 9.4 kohm", "C3 DC1; C3 0V; off, door-open, C3/P3 pulled; ohms 14.1 kohm",
		}},
		{"resistors in the wrong arrangement", "plant", "wiring:plant.contact.across:outside", []string{
			"C3 DC1; C3 0V; off, C3/P3 pulled; ohms 2.35 kohm", "C3 DC1; C3 0V; off, door-open, C3/P3 pulled; ohms 4.7 kohm",
		}},
		{"contact sense inverted by its setting", "plant", "setting:C3/contact-rest@plant", []string{
			"controller shows door open; idle; yes", "C3 DC1; C3 0V; idle; volts 3.41 V",
		}},
		{"reed stuck", "staff", "part:staff.contact1.door-closed:on", []string{
			"controller shows door open; door-open; no", "C2 DC1; C2 0V; door-open; volts 0.0 V", "staff.contact1 1; staff.contact1 2; door-open; volts 0.0 V",
		}},
		{"button stuck", "plant", "part:plant.exit1.pressed:on", []string{
			"lock holds; idle; no", "controller shows exit request; idle; yes", "C3 REX1; C3 0V; idle; volts 3.41 V",
		}},
		{"exit input set for the other rest", "plant", "setting:C3/exit-rest@plant", []string{
			"lock holds; idle; no", "controller shows exit request; idle; yes", "C3 REX1; C3 0V; idle; volts 4.05 V",
		}},
		{"data lines crossed", "plant", "swap:plant.out.s/5+6", []string{"number read was; card; complement", "lock holds; card; yes"}},
		{"one data line open", "plant", "open:plant.out.s/5", []string{"number read was; card; ones", "C3 D0I1; C3 0V; idle; volts 5.0 V"}},
		{"no common 0 V to the reader", "plant", "open:plant.out.s/2", []string{
			"reader dark; idle; yes", "C3 24V; C3 0V; idle; volts 26.8 V", "plant.entry +V; plant.entry 0V; idle; volts 20.5 V",
		}},
		{"serial lines not crossed", "gauge", "swap:gauge.out.s/3+4", []string{"card is read; card; no", "controller runs; idle; yes", "reader dark; idle; no", "C7 RX1; C7 0V; idle; volts 0.03 V"}},
		{"bus pair crossed at one reader", "records", "swap:W11/1+2", []string{
			"card is read; card; no", "C4 A; C4 B; idle; volts -0.26 V", "records.entry A; records.entry B; idle; volts 0.25 V",
		}},
		{"termination missing", "records", "setting:records.exit-reader/data-terminator", []string{
			"C4 A; C4 B; off; ohms 118 ohm", "records.exit-reader A; records.exit-reader B; idle; volts -0.47 V",
		}},
		{"no bias", "records", "wiring:C4.bus:no-bias", []string{"controller runs; idle; yes", "reader dark; idle; no", "C4 A; C4 B; idle; volts 0.0 V", "C4 B; C4 0V; idle; volts 0.03 V"}},
		{"bus driver burnt", "records", "wiring:C4.bus.a:shorted", []string{
			"card is read; card; no", "C4 A; C4 0V; idle; volts 0.03 V", "C4 A; C4 0V; off; ohms 9.6 ohm",
		}},
		{"duplicate address", "records", "setting:address", []string{
			"card is read; card; no", "C4 A; C4 B; idle; volts -0.26 V", "C4 A; C4 B; off; ohms 58 ohm", "records.entry A; records.entry B; idle; volts -0.25 V",
			"reader dark; idle; no",
		}},
		{"battery reversed", "plant", "source:PS2.battery.cells.cells:reversed", []string{"PS2 B+; PS2 B-; battery; volts -25.5 V"}},
		{"battery lead open", "plant", "open:lead:PS2.battery.cells.plus:PS2.battery.plus", []string{
			"controller runs; battery; no", "PS2.battery +; PS2.battery -; battery; volts 25.6 V", "PS2 B+; PS2 B-; battery; volts 0.0 V",
		}},
		{"mains off unnoticed", "plant", "source:PS2.out.supply:off", []string{"PS2 +; PS2 -; idle; volts 0.0 V", "controller runs; idle; no"}},
		{"charger set too high", "plant", "wiring:PS2:high", []string{"PS2 +; PS2 -; idle; volts 30.0 V"}},
		{"water in the cable", "plant", "wet:plant.head.s", []string{
			"C3 DC1; C3 0V; off, door-open, C3/P3 pulled; ohms 4.85 kohm", "C3 DC1; C3 0V; off, C3/P3 pulled; ohms 3.2 kohm",
		}},
		{"wrong format", "plant", "setting:format", []string{"number read was; card; wrong", "relay clicks; card; no", "reader dark; idle; no"}},
		{"rights refuse", "plant", "setting:rights", []string{"number read was; card; right", "relay clicks; card; no", "lock holds; card; yes"}},
		{"armature bolted rigid", "plant", "use:armature", []string{
			"opens by itself; idle; yes", "plant.lock1 +; plant.lock1 -; idle; volts 26.0 V", "plant.lock1 +; plant.lock1 -; off, plant.lock1 alone; ohms 96 ohm",
		}},
		{"residual hold", "plant", "use:residual", []string{
			"lock holds; release; yes", "plant.lock1 +; plant.lock1 -; release; volts 0.0 V", "plant.release1 1; plant.release1 2; release; volts 20 V",
		}},
		{"keeper loaded", "staff", "use:keeper", []string{"lock holds; card; yes", "staff.lock1 +; staff.lock1 -; card; volts 12.6 V", "relay clicks; card; yes"}},
	} {
		if testing.Short() && tt.door != "plant" {
			continue // making a finder takes most of the time
		}
		t.Run(tt.name, func(t *testing.T) {
			f := finderOf(t, tt.door)
			if f.suspectOf(tt.fault) == nil {
				t.Fatalf("no suspect %q", tt.fault)
			}
			for _, fact := range tt.facts {
				tell(t, f, fact)
			}
			groups := f.Suspects()
			at := slices.IndexFunc(groups, func(g Group) bool {
				return slices.ContainsFunc(g.Suspects, func(s Suspect) bool { return s.ID == tt.fault })
			})
			if at > 2 {
				t.Errorf("%s is in group %d (%.2g)", tt.fault, at+1, groups[at].Probability)
				s := f.suspectOf(tt.fault)
				for _, e := range f.entered {
					t.Logf("%s: %.4g with the fault, %.4g sound, read %.4g", f.Say(f.book.Pairs[e.pair]), s.beliefs[0].row.Shown[e.pair].Value,
						f.book.Sound.Shown[e.pair].Value, e.y)
				}
				for _, o := range f.seen {
					t.Logf("%s: %v", o.What, s.beliefs[0].row.Sights[f.book.Stop(o.In)])
				}
				for _, g := range groups[:4] {
					t.Logf("%.3f %s (%d)", g.Probability, g.Suspects[0].ID, len(g.Suspects))
				}
			}
		})
	}
}

// tell enters a fact: a reading of four parts, an observation of three, or the name of a condition that is skipped.
func tell(t *testing.T, f *Finder, fact string) {
	t.Helper()
	switch strings.Count(fact, ";") {
	case 3:
		r, err := meter.ParseReading(fact)
		if err == nil {
			err = f.Add(r)
		}
		if err != nil {
			t.Fatal(err)
		}
	case 2:
		o, err := meter.ParseSeen(fact)
		if err == nil {
			err = f.See(o)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}
