package device

import (
	"slices"
	"testing"
)

// kindCase is what a kind must show: the signals that the world sets on it, and a test of its behaviour if it has one.
type kindCase struct {
	kind  string
	world []string
	model string // a built-in model of the kind
	acts  func(t *testing.T)
}

func kindCases() []kindCase {
	return []kindCase{
		{"controller", []string{"hung"}, "controller-1-12", TestControllerOpensAndWatches},
		{"pulse-reader", nil, "reader-pulse", nil},
		{"serial-reader", nil, "reader-serial", nil},
		{"bus-reader", nil, "reader-485", nil},
		{"magnet", nil, "magnet-12", nil},
		{"strike", nil, "strike-12-secure", nil},
		{"bolt", nil, "bolt-12", nil},
		{"handle-lock", []string{"handle"}, "handle-lock-12", nil},
		{"exit-button", []string{"pressed"}, "exit-button", nil},
		{"exit-sensor", []string{"sees"}, "exit-sensor-12", TestExitSensorLetsGoWhenItFails},
		{"release", []string{"operated"}, "release-2", nil},
		{"key-switch", []string{"turned"}, "key-switch", nil},
		{"door-contact", []string{"door-closed"}, "contact-surface", nil},
		{"sounder", nil, "sounder-12", nil},
		{"relay", nil, "relay-12", nil},
		{"fire-interface", []string{"fire", "line-lost"}, "fire-interface", TestFireInterfaceOpensOnFireAndOnLostLine},
		{"supply", []string{"mains"}, "supply-12-5", TestSupplyGuardsItsBattery},
		{"battery", []string{"connected"}, "battery-12-7", nil},
		{"board", []string{"hung"}, "board-12-8", TestBoardReleasesOnFire},
		{"fuse", nil, "fuse-1", nil},
		{"resistor", nil, "resistor-1k", nil},
		{"diode", nil, "diode", nil},
		{"clamp", nil, "clamp-12", nil},
		{"junction", nil, "junction-4", nil},
		{"door-loop", nil, "door-loop", nil},
	}
}

func TestEveryKindIsComplete(t *testing.T) {
	cases, models := kindCases(), Builtin()
	if len(Kinds()) == 0 {
		t.Fatal("no kinds")
	}
	for i, k := range Kinds() {
		if i >= len(cases) || cases[i].kind != k.Name {
			t.Fatalf("kind %s has no case in its place %d", k.Name, i)
		}
		c := cases[i]
		if !slices.Equal(c.world, k.World) {
			t.Errorf("%s: the world sets %v, its case says %v", k.Name, k.World, c.world)
		}
		if m, ok := models.Get(c.model); !ok || m.Kind != k.Name {
			t.Errorf("%s: no built-in model %s of that kind", k.Name, c.model)
		}
		if (k.Act != nil) != (c.acts != nil) {
			t.Errorf("%s: behaviour %v, test of it %v", k.Name, k.Act != nil, c.acts != nil)
		}
		if k.Title == "" || len(k.Needs) == 0 {
			t.Errorf("%s: title %q, needs %v", k.Name, k.Title, k.Needs)
		}
		for _, w := range k.Wakes {
			if !slices.Contains(k.World, w) {
				t.Errorf("%s: wakes with %s, which the world does not set", k.Name, w)
			}
		}
		for _, q := range k.Quiet {
			if !slices.Contains(k.Signals, q) {
				t.Errorf("%s: %s is on at rest, but its behaviour does not set it", k.Name, q)
			}
		}
	}
	if len(cases) != len(Kinds()) {
		t.Errorf("%d cases for %d kinds", len(cases), len(Kinds()))
	}
}

// The signals that a behaviour leaves on in the undisturbed state are those listed as Quiet.
func TestQuietIsWhatTheBehaviourSetsAtRest(t *testing.T) {
	checked := 0
	for _, c := range kindCases() {
		k := KindOf(c.kind)
		if len(k.Signals) == 0 {
			continue
		}
		s := newSeat(t, c.model)
		for _, w := range k.Wakes {
			s.signals[w] = true
		}
		for _, sense := range s.model.Senses() {
			s.signals[sense.Signal] = true
		}
		s.act(t, 0)
		for _, signal := range k.Signals {
			checked++
			if s.set[signal] != slices.Contains(k.Quiet, signal) {
				t.Errorf("%s at rest: %s is %v", c.kind, signal, s.set[signal])
			}
		}
	}
	if checked == 0 {
		t.Fatal("no signals checked")
	}
}

// A sensor without power asks to open as a person does: rule of the building codes for sensor release, as in IBC 1010
// (loss of power to the sensor unlocks), from memory.
func TestExitSensorLetsGoWhenItFails(t *testing.T) {
	cases := []struct {
		name          string
		powered, sees bool
		wantHeldIn    bool
	}{
		{"nobody near", true, false, true},
		{"somebody near", true, true, false},
		{"without power", false, false, false},
		{"without power, somebody near", false, true, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := newSeat(t, "exit-sensor-12")
			s.signals["feed"], s.signals["sees"] = c.powered, c.sees
			s.act(t, 0)
			if s.set["clear"] != c.wantHeldIn {
				t.Errorf("relay held in %v, want %v", s.set["clear"], c.wantHeldIn)
			}
		})
	}
}

func TestFireInterfaceOpensOnFireAndOnLostLine(t *testing.T) {
	for _, c := range []struct{ fire, lost, want bool }{
		{false, false, true}, {true, false, false}, {false, true, false}, {true, true, false},
	} {
		s := newSeat(t, "fire-interface")
		s.signals["fire"], s.signals["line-lost"] = c.fire, c.lost
		s.act(t, 0)
		if s.set["healthy"] != c.want {
			t.Errorf("fire %v, line lost %v: contact closed %v", c.fire, c.lost, s.set["healthy"])
		}
	}
}

// A flat battery recovers without load; a supply that took it back would click for ever. So it stays off until mains
// returns (common practice, no source).
func TestSupplyGuardsItsBattery(t *testing.T) {
	s := newSeat(t, "supply-12-5")
	steps := []struct {
		name                  string
		mains, battery        bool
		wantPath, wantHealthy bool
	}{
		{"mains and battery", true, true, true, true},
		{"mains lost", false, true, true, false},
		{"battery flat", false, false, false, false},
		{"battery recovers without load", false, true, false, false},
		{"mains back, battery unplugged", true, false, true, false},
		{"battery back", true, true, true, true},
		{"mains lost again", false, true, true, false},
	}
	for _, c := range steps {
		s.signals["mains"], s.signals["battery"] = c.mains, c.battery
		s.act(t, 1)
		if s.set[signalBatteryPath] != c.wantPath || s.set["healthy"] != c.wantHealthy {
			t.Errorf("%s: battery on %v, healthy %v", c.name, s.set[signalBatteryPath], s.set["healthy"])
		}
	}
}
