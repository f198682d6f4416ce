package situation_test

import (
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// Doors drawn by hand against the engine. Each case is a job (.yaml) and the circuit that an electrician draws from
// its description (.cir): current out through this core and back through that one, with figures from the data sheets
// of the models and copper from IEC 60228 and ASTM B258. ngspice, a general-purpose simulator (Debian package
// ngspice), solves the drawing; parts, network and solver of the engine have no hand in it. What a drawing leaves out
// stands at its head. Where a description leaves two sound ways open, such as a core for the data common of a reader
// whose 0 V is the same, the drawing goes the way of the wiring plan.

// drawing is one job and its circuit, in the states in which they are compared.
type drawing struct {
	name   string
	states []drawnState
	reads  []drawnLevel
}

// drawnState is the site after steps from rest and, when cut is not empty, with the core on that pin of the controller
// cut.
type drawnState struct {
	steps []situation.Step
	cut   string
	same  []same
}

// same is one result of a drawing and what the engine calls it.
type same struct {
	name   string
	engine quantity
	within float64 // V or A
}

// drawnLevel is a drawn voltage of an input line and what the controller makes of it.
type drawnLevel struct {
	name, port string
	level      device.Level
}

// Differences allowed where everything of weight is drawn, in V and A. Wider ones stand beside what lies behind a power
// output of a controller or a board: it is drawn as 0.1 ohm up to its limit, while the engine lets the limit set in
// gently, which costs up to twice the drop (10 mV more at half of 1 A, 17 mV more at half of 2 A).
const (
	drawnVolts = 2e-4
	drawnAmps  = 2e-5
)

// quantity is a voltage or a current at the bench, in V or A.
type quantity func(t *testing.T, is *situation.Island, b *situation.Bench) float64

func volts(id, pin, against string) quantity {
	return func(t *testing.T, is *situation.Island, b *situation.Bench) float64 {
		u := is.Unit(id)
		if u == nil {
			t.Fatalf("no unit %s", id)
		}
		return float64(b.Volts(u, pin, against))
	}
}

func fed(id string) quantity          { return volts(id, "feed.plus", "feed.minus") }
func out(id string) quantity          { return volts(id, "out.plus", "out.minus") }
func coil(id string) quantity         { return volts(id, "coil.plus", "coil.minus") }
func line(id, port string) quantity   { return volts(id, port+".in", port+".common") }
func data(id, pin string) quantity    { return volts(id, "reader1-entry."+pin, "reader1-entry.common") }
func pair(id, port string) quantity   { return volts(id, port+".b", port+".a") }
func serial(id, port string) quantity { return volts(id, port+".rx", port+".common") }

func amps(id, port string, is device.PortType) quantity {
	return func(t *testing.T, island *situation.Island, b *situation.Bench) float64 {
		for _, p := range island.Probes(is) {
			if p.Unit.Device.ID == id && p.PortName == port {
				return float64(b.Amps(&p))
			}
		}
		t.Fatalf("no %s at %s", port, id)
		return 0
	}
}

func winding(id string) quantity { return amps(id, "coil", device.LockCoil) }
func drawn(id string) quantity   { return amps(id, "out", device.Source) }

// core is the current in the one conductor that lands on a pin.
func core(id, pin string) quantity {
	return func(t *testing.T, is *situation.Island, b *situation.Bench) float64 {
		return float64(b.WireAmps(landing(t, is, id, pin)))
	}
}

func landing(t *testing.T, is *situation.Island, id, pin string) *situation.Wire {
	t.Helper()
	var found []*situation.Wire
	for i := range is.Wires() {
		w := &is.Wires()[i]
		for _, end := range []wiring.End{w.Conductor.A, w.Conductor.B} {
			if end.Device != nil && end.Device.ID == id && end.Pin == pin {
				found = append(found, w)
			}
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d conductors on %s.%s", len(found), id, pin)
	}
	return found[0]
}

// Steps of the states.
func card(reader string) []situation.Step { return []situation.Step{{Show: reader}} }

func does(id, signal string, on bool) []situation.Step {
	return []situation.Step{{Do: []situation.Action{{Device: id, Signal: signal, On: on}}, Wait: 1}}
}

var drawings = []drawing{
	{name: "wet-magnet", states: []drawnState{{same: []same{
		{"lock", coil("gate.lock1"), 1.5e-2},
		{"winding", winding("gate.lock1"), 5e-4},
		{"box", fed("C"), 3e-4},
		{"reader", fed("gate.entry"), 2e-4},
		{"supply", out("PS"), drawnVolts},
		{"draw", drawn("PS"), 5e-4},
	}}}},
	{name: "own-supply-magnet", states: []drawnState{{same: []same{
		{"lock", coil("cold.lock1"), drawnVolts},
		{"winding", winding("cold.lock1"), drawnAmps},
		{"box", fed("C"), drawnVolts},
		{"supplyb", out("PB"), drawnVolts},
		{"drawb", drawn("PB"), drawnAmps},
		{"monitor", line("C", "aux1"), drawnVolts},
	}}}},
	{name: "two-magnets", states: []drawnState{{same: []same{
		{"lock1", coil("bay.lock1"), 2e-2},
		{"lock2", coil("bay.lock2"), 2e-2},
		{"winding1", winding("bay.lock1"), 8e-4},
		{"winding2", winding("bay.lock2"), 8e-4},
		{"box", fed("C"), 8.5e-4},
		{"lockout", volts("C", "lock-power.plus", "lock-power.minus"), 2.5e-2},
		{"draw", drawn("PS"), 2e-3},
	}}}},
	{name: "thin-strike", states: []drawnState{{steps: card("shed.entry"), same: []same{
		{"lock", coil("shed.lock1"), 2e-3},
		{"winding", winding("shed.lock1"), 5e-5},
		{"box", fed("C"), 2e-4},
		{"reader", fed("shed.entry"), 5e-4},
		{"lamp", volts("shed.entry", "led.in", "feed.minus"), drawnVolts},
		{"draw", drawn("PS"), 5e-5},
	}}}},
	{name: "board-output", states: []drawnState{{same: []same{
		{"lock", coil("dry.lock1"), 3e-3},
		{"winding", winding("dry.lock1"), 3e-5},
		{"box", fed("C"), 4.5e-4},
		{"board", fed("PS.board"), drawnVolts},
		{"output1", volts("PS.board", "out1.plus", "out1.minus"), 3e-3},
		{"draw", drawn("PS"), 2.5e-5},
	}}}},
	{name: "watch-relay", states: []drawnState{{same: []same{
		{"lock", coil("herb.lock1"), drawnVolts},
		{"winding", winding("herb.lock1"), drawnAmps},
		{"box", fed("C"), drawnVolts},
		{"coil", coil("herb.watch"), drawnVolts},
		{"coilamps", amps("herb.watch", "coil", device.Coil), drawnAmps},
		{"drawa", drawn("PA"), drawnAmps},
	}}}},
	{name: "interposing", states: []drawnState{{same: []same{
		{"lock", coil("arch.lock1"), drawnVolts},
		{"winding", winding("arch.lock1"), drawnAmps},
		{"box", fed("C"), drawnVolts},
		{"coil", coil("arch.interposing"), drawnVolts},
		{"coilamps", amps("arch.interposing", "coil", device.Coil), drawnAmps},
		{"drawb", drawn("PB"), drawnAmps},
	}}}},
	{name: "double-line", states: []drawnState{
		{steps: does("east.contact1", "door-closed", true), same: []same{
			{"closed", line("C", "contact1"), drawnVolts}, {"rest", line("C", "exit1"), drawnVolts},
		}},
		{steps: does("east.contact1", "door-closed", false), same: []same{{"open", line("C", "contact1"), drawnVolts}}},
		{steps: does("east.exit1", "pressed", true), same: []same{{"pressed", line("C", "exit1"), drawnVolts}}},
		{cut: "contact1.in", same: []same{{"cut", line("C", "contact1"), drawnVolts}}},
	}, reads: []drawnLevel{
		{"short", "contact1", device.ShortCircuit},
		{"closed", "contact1", device.Closed},
		{"open", "contact1", device.Open},
		{"cut", "contact1", device.Cut},
		{"short", "exit1", device.ShortCircuit},
		{"pressed", "exit1", device.Closed},
		{"rest", "exit1", device.Open},
		{"cut", "exit1", device.Cut},
	}},
	{name: "single-line", states: []drawnState{
		{same: []same{{"closed", line("C", "contact1"), drawnVolts}, {"rest", line("C", "exit1"), drawnVolts}}},
		{steps: does("west.contact1", "door-closed", false), same: []same{{"open", line("C", "contact1"), drawnVolts}}},
		{steps: does("west.exit1", "pressed", true), same: []same{{"pressed", line("C", "exit1"), drawnVolts}}},
		{cut: "exit1.in", same: []same{{"cut", line("C", "exit1"), drawnVolts}}},
	}, reads: []drawnLevel{
		{"short", "contact1", device.ShortCircuit},
		{"closed", "contact1", device.Closed},
		{"open", "contact1", device.Open},
		{"pressed", "exit1", device.Closed},
		{"rest", "exit1", device.Open},
		{"cut", "exit1", device.Cut},
	}},
	{name: "exit-sensor", states: []drawnState{
		{same: []same{
			{"sensor", fed("semi.exit1"), 2e-4},
			{"clear", line("C", "exit1"), drawnVolts},
			{"lock", coil("semi.lock1"), 1.5e-2},
			{"box", fed("C"), 2.5e-4},
		}},
		{steps: does("semi.exit1", "sees", true), same: []same{
			{"sensorseen", fed("semi.exit1"), 2e-4},
			{"seen", line("C", "exit1"), drawnVolts},
			{"lockseen", coil("semi.lock1"), drawnVolts},
			{"boxseen", fed("C"), drawnVolts},
		}},
	}},
	{name: "far-reader", states: []drawnState{
		{same: []same{
			{"reader", fed("north.entry"), 5.5e-4},
			{"box", fed("C"), 2e-4},
			{"readerout", volts("C", "reader1-power.plus", "reader1-power.minus"), 5e-4},
			{"idle", data("C", "d0"), drawnVolts},
		}},
		{steps: does("north.entry", "data.send0", true), same: []same{
			{"sent0", data("C", "d0"), drawnVolts}, {"other", data("C", "d1"), drawnVolts},
		}},
		{steps: does("north.entry", "data.send1", true), same: []same{{"sent1", data("C", "d1"), drawnVolts}}},
	}},
	{name: "bus-pair", states: []drawnState{
		{same: []same{
			{"idlenear", pair("C", "bus"), drawnVolts},
			{"idlefar", pair("lab.entry", "data"), drawnVolts},
			{"reader", fed("lab.entry"), 2e-3},
			{"above", volts("C", "bus.b", "bus.common"), drawnVolts},
		}},
		{steps: does("C", "bus.send-mark", true), same: []same{
			{"marknear", pair("C", "bus"), drawnVolts}, {"markfar", pair("lab.entry", "data"), drawnVolts},
		}},
		{steps: does("C", "bus.send-space", true), same: []same{
			{"spacenear", pair("C", "bus"), drawnVolts}, {"spacefar", pair("lab.entry", "data"), drawnVolts},
		}},
		{steps: does("lab.entry", "data.send-mark", true), same: []same{
			{"replynear", pair("C", "bus"), drawnVolts}, {"replyfar", pair("lab.entry", "data"), drawnVolts},
		}},
	}},
	{name: "serial-line", states: []drawnState{
		{same: []same{
			{"mark", serial("C", "serial1"), drawnVolts},
			{"markback", serial("nurs.entry", "data"), drawnVolts},
			{"reader", fed("nurs.entry"), 6e-4},
		}},
		{steps: does("nurs.entry", "data.send-space", true), same: []same{{"space", serial("C", "serial1"), drawnVolts}}},
		{steps: does("C", "serial1.send-space", true), same: []same{{"spaceback", serial("nurs.entry", "data"), drawnVolts}}},
	}},
	{name: "battery", states: []drawnState{
		{steps: does("PS", "mains", false), same: []same{
			{"lock", coil("boil.lock1"), 8.5e-3},
			{"winding", winding("boil.lock1"), 3.5e-4},
			{"box", fed("C"), 5.5e-4},
			{"supply", out("PS"), drawnVolts},
			{"terminals", volts("PS.battery", "cells.plus", "cells.minus"), drawnVolts},
			{"draw", amps("PS.battery", "cells", device.Battery), 4e-4},
		}},
		{steps: append(does("PS", "mains", false), situation.Step{Flat: true, Wait: 1}), same: []same{
			{"lockend", coil("boil.lock1"), 5.5e-3},
			{"boxend", fed("C"), 3.5e-4},
			{"drawend", amps("PS.battery", "cells", device.Battery), 2.5e-4},
		}},
	}},
	{name: "near-limit", states: []drawnState{{same: []same{
		{"lockfern", coil("fern.lock1"), 1.5e-2},
		{"lockpalm", coil("palm.lock1"), 1e-2},
		{"lockmoss", coil("moss.lock1"), 5e-3},
		{"boxfern", fed("CA"), 4.5e-4},
		{"boxpalm", fed("CB"), 7.5e-4},
		{"boxmoss", fed("CC"), 2.5e-4},
		{"supply", out("PS"), drawnVolts},
		{"draw", drawn("PS"), 1.5e-3},
	}}}},
	{name: "overload", states: []drawnState{{same: []same{
		{"supply", out("PB"), drawnVolts},
		{"winding1", winding("left.lock1"), drawnAmps},
		{"lock1", coil("left.lock1"), drawnVolts},
		{"lock5", coil("left.lock5"), drawnVolts},
		{"draw", drawn("PB"), drawnAmps},
	}}}},
	{name: "gauge-cable", states: []drawnState{{same: []same{
		{"lock", coil("barn.lock1"), 8.5e-3},
		{"winding", winding("barn.lock1"), 3.5e-4},
		{"box", fed("C"), 3.5e-4},
		{"reader", fed("barn.entry"), 2e-4},
		{"draw", drawn("PS"), 3.5e-4},
	}}}},
	{name: "composite", states: []drawnState{
		{same: []same{
			{"lock", coil("oran.lock1"), 9e-3},
			{"winding", winding("oran.lock1"), 4e-4},
			{"box", fed("C"), 2.5e-4},
			{"reader", fed("oran.entry"), 3e-4},
			{"draw", drawn("PS"), 4e-4},
			{"closed", line("C", "contact1"), drawnVolts},
		}},
		{steps: does("oran.contact1", "door-closed", false), same: []same{{"open", line("C", "contact1"), drawnVolts}}},
	}},
	{name: "floating", states: secondSupply("weir.entry")},
	{name: "earthed", states: secondSupply("slui.entry")},
}

// secondSupply compares a reader that has a supply of its own.
func secondSupply(reader string) []drawnState {
	return []drawnState{
		{same: []same{
			{"reader", fed(reader), drawnVolts},
			{"box", fed("C"), drawnVolts},
			{"idle", data("C", "d0"), drawnVolts},
			{"back", core(reader, "feed.minus"), drawnAmps},
			{"common", core(reader, "data.common"), drawnAmps},
		}},
		{steps: does(reader, "data.send0", true), same: []same{{"sent0", data("C", "d0"), drawnVolts}}},
	}
}

func TestDoorsDrawnByHand(t *testing.T) {
	compared, worst := 0, 0.0
	for _, d := range drawings {
		t.Run(d.name, func(t *testing.T) {
			answers, left := solveDrawing(t, d.name), map[string]bool{}
			for name := range answers {
				left[name] = true
			}
			drawn := func(name string) float64 {
				v, ok := answers[name]
				if !ok {
					t.Fatalf("the drawing prints no %s", name)
				}
				delete(left, name)
				return v
			}
			is := drawnIsland(t, d.name)
			for _, s := range d.states {
				b := benchAt(t, is, s)
				for _, c := range s.same {
					want, got := drawn(c.name), c.engine(t, is, b)
					off := math.Abs(got - want)
					if !(off <= c.within) {
						t.Errorf("%s is %.6g and %.6g as drawn, %.2g apart", c.name, got, want, off)
					}
					compared++
					worst = max(worst, off)
				}
			}
			for _, r := range d.reads {
				controller := is.Unit("C").Device
				port := *controller.Model.Port(r.port)
				got := device.Read(port, controller.Settings.Input(&port), unit.Volt(drawn(r.name)))
				if got.Level != r.level {
					t.Errorf("%s reads %v at %s, want %v", r.name, got.Level, r.port, r.level)
				}
			}
			if len(left) > 0 {
				t.Errorf("drawn and never compared: %v", left)
			}
		})
	}
	if compared < 100 {
		t.Errorf("only %d comparisons", compared)
	}
	t.Logf("%d comparisons, at most %.2g V or A apart", compared, worst)
}

// benchAt is the bench in a state, which must be one that came to rest.
func benchAt(t *testing.T, is *situation.Island, s drawnState) *situation.Bench {
	t.Helper()
	b := is.Bench(situation.Nominal())
	if s.cut != "" {
		b.Cut(landing(t, is, "C", s.cut))
	}
	for _, step := range s.steps {
		if shows := b.Take(step); step.Show != "" && !shows.Heard {
			t.Fatalf("the card is not heard: %s", shows.Failed)
		}
	}
	if !b.Outcome().Settled() {
		t.Fatalf("not settled: %+v", b.Outcome())
	}
	return b
}

// drawnIsland is the island of the first door of a job.
func drawnIsland(t *testing.T, name string) *situation.Island {
	t.Helper()
	file := filepath.Join("testdata", "handmade", name+".yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Read(file, text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	plan := wiring.Make(j)
	if len(plan.Problems) > 0 {
		t.Fatalf("%s: %+v", name, plan.Problems)
	}
	return situation.New(plan).Island(j.Doors[0].Controller.ID)
}

var (
	printed = regexp.MustCompile(`(?m)^(\w+) = (\S+)$`)
	refused = regexp.MustCompile(`(?im)^.*(error|singular|aborted|failed|no such).*$`)
)

// solveDrawing gives what a drawing prints, in V and A, by name.
func solveDrawing(t *testing.T, name string) map[string]float64 {
	t.Helper()
	text, err := exec.Command("ngspice", "-b", filepath.Join("testdata", "handmade", name+".cir")).CombinedOutput()
	if errors.Is(err, exec.ErrNotFound) {
		t.Fatalf("ngspice is needed for this test (Debian package ngspice): %v", err)
	}
	if complaint := refused.Find(text); complaint != nil {
		t.Fatalf("ngspice: %s", complaint)
	}
	answers := map[string]float64{}
	for _, m := range printed.FindAllStringSubmatch(string(text), -1) {
		v, err := strconv.ParseFloat(m[2], 64)
		if _, twice := answers[m[1]]; err != nil || twice {
			t.Fatalf("ngspice printed %q, or %s twice", m[0], m[1])
		}
		answers[m[1]] = v
	}
	if len(answers) == 0 {
		t.Fatalf("ngspice has no answer:\n%s", text)
	}
	return answers
}
