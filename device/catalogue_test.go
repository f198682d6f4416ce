package device

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"doorwright/document"
	"doorwright/unit"
)

func band(low, high unit.Volt) unit.Band[unit.Volt] {
	return unit.Band[unit.Volt]{Low: low, High: high}
}

func eachModel(t *testing.T, do func(id string, m *Model)) {
	t.Helper()
	models := Builtin()
	if len(models.IDs()) == 0 {
		t.Fatal("no models")
	}
	for _, id := range models.IDs() {
		m, ok := models.Get(id)
		if !ok {
			t.Fatalf("no model %s", id)
		}
		do(id, m)
	}
}

func TestBuiltinModelsAreSound(t *testing.T) {
	eachModel(t, func(id string, m *Model) {
		for _, f := range Check(id, m) {
			t.Error(f)
		}
		if m.Title == "" {
			t.Errorf("%s has no title", id)
		}
	})
}

func TestEveryKindHasAModel(t *testing.T) {
	have := map[string]int{}
	eachModel(t, func(_ string, m *Model) { have[m.Kind]++ })
	for _, k := range Kinds() {
		if have[k.Name] == 0 {
			t.Errorf("kind %s has no built-in model", k.Name)
		}
	}
}

func TestConstructedModelsAreSound(t *testing.T) {
	for _, m := range []*Model{
		ResistorModel(4700, 0.01), DiodeModel(), ClampModel(22), FuseModel(2), JunctionModel(2), JunctionModel(40),
	} {
		for _, f := range Check(m.Title, m) {
			t.Error(f)
		}
		if len(m.Strip) != len(Pins(m.Ports[0].Value)) {
			t.Errorf("%s has %d terminals", m.Title, len(m.Strip))
		}
	}
}

func TestModelsReadBackAsPrinted(t *testing.T) {
	eachModel(t, func(id string, m *Model) {
		text, err := document.Print(document.Map[Model]{{Key: id, Value: *m}})
		if err != nil {
			t.Fatal(err)
		}
		var back document.Map[Model]
		if _, problems := document.Read(id, text, &back); len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, text)
		}
		if len(back) != 1 || !reflect.DeepEqual(back[0].Value, *m) {
			t.Errorf("%s reads back as\n%+v\nnot\n%+v", id, back, *m)
		}
	})
}

// Copper has 0.393 % more resistance for each kelvin at 20 C (IEC 60028). A lock on the low end of its window, its
// winding at 60 C and 10 % high, must still work; a nominal one must let go on a leak of 5 % of nominal current.
func TestLocksWorkOverTheirWindow(t *testing.T) {
	locks := 0
	eachModel(t, func(id string, m *Model) {
		for _, name := range m.PortsOf(LockCoil) {
			locks++
			p := m.Port(name)
			hot := float64(p.Ohms) * (1 + p.Tolerance) * (1 + 0.00393*40)
			if i := float64(p.Window.Low) / hot; i < float64(p.Holds) {
				t.Errorf("%s: %g A at the low end, works from %v", id, i, p.Holds)
			}
			if nominal := float64(p.Nominal / unit.Volt(p.Ohms)); math.Abs(float64(p.LetsGo)/nominal-0.05) > 0.001 {
				t.Errorf("%s: lets go at %v, %g A is nominal", id, p.LetsGo, nominal)
			}
			if p.Duty == "intermittent" && p.Action == FailSafe {
				t.Errorf("%s: fail-safe, but not for continuous duty", id)
			}
		}
	})
	if locks == 0 {
		t.Fatal("no locks")
	}
}

// Usual winding resistances: 12 V and 0.5 A are 24 ohm, 24 V and 0.25 A are 96 ohm (Ohm's law).
func TestMagnetWindings(t *testing.T) {
	for id, want := range map[string]unit.Ohm{"magnet-12": 24, "magnet-24": 96} {
		m, _ := Builtin().Get(id)
		if got := m.Port("coil").Ohms; got != want {
			t.Errorf("%s: %v", id, got)
		}
	}
}

// Valve-regulated cells float at 2.25 V to 2.30 V and are empty at 1.67 V to 1.75 V (UFGS 16265A names 1.67 V; the rest
// from memory). Relays pick up at 80 % and let go between 5 % and 30 % of nominal (common practice).
func TestSuppliesAndRelaysKeepToTheTrade(t *testing.T) {
	supplies, relays := 0, 0
	eachModel(t, func(id string, m *Model) {
		for _, name := range m.PortsOf(Source) {
			supplies++
			p := m.Port(name)
			cells := float64(p.Nominal) / 2
			if v := float64(p.Float) / cells; v < 2.25 || v > 2.30 {
				t.Errorf("%s floats at %g V per cell", id, v)
			}
			for _, b := range m.PortsOf(Battery) {
				if v := float64(m.Port(b).Dropped) / cells; v < 1.66 || v > 1.75 {
					t.Errorf("%s drops its battery at %g V per cell", id, v)
				}
			}
		}
		for _, name := range m.PortsOf(Coil) {
			relays++
			p := m.Port(name)
			if p.PickUp > 0.8*p.Nominal || p.DropOut < 0.05*p.Nominal || p.DropOut > 0.3*p.Nominal {
				t.Errorf("%s picks up at %v, lets go at %v", id, p.PickUp, p.DropOut)
			}
		}
	})
	if supplies == 0 || relays == 0 {
		t.Fatal("nothing checked")
	}
}

// A strip carries the text of the unit; units have their pins in plugs that come off together.
func TestStripsAreOrdered(t *testing.T) {
	eachModel(t, func(id string, m *Model) {
		var plugs []string
		for _, x := range m.Strip {
			if n := len(plugs); n == 0 || plugs[n-1] != x.Plug {
				plugs = append(plugs, x.Plug)
			}
		}
		if sorted := slices.Clone(plugs); len(plugs) > 1 {
			slices.Sort(sorted)
			if len(slices.Compact(sorted)) != len(plugs) {
				t.Errorf("%s: the terminals of a plug are apart: %v", id, plugs)
			}
		}
	})
}

func TestWithAddsModelsOfAUser(t *testing.T) {
	text := []byte(`
my-lock:
  kind: strike
  title: Strike of the old gate
  strip:
    - {label: red, pin: coil.plus}
    - {label: black, pin: coil.minus}
  ports:
    coil: {is: lock, nominal: 12 V, window: 10.8 V to 13.2 V, ohms: 30 ohm, action: fail-secure, holds: 0.25 A, lets-go: 20 mA, duty: intermittent, suppressor: none}
  lock: {inside: with-lever, latches: true}
magnet-12:
  kind: magnet
  title: Same id as a built-in one
  strip: []
  ports: {}
`)
	var user document.Map[Model]
	if _, problems := document.Read("user.yaml", text, &user); len(problems) > 0 {
		t.Fatal(problems)
	}
	before := Builtin()
	with, flaws := before.With(user)
	if len(flaws) != 1 || flaws[0].Path != "magnet-12" {
		t.Errorf("flaws %v", flaws)
	}
	if m, ok := with.Get("my-lock"); !ok || m.Title != "Strike of the old gate" {
		t.Error("the user's model is missing")
	}
	if m, _ := with.Get("magnet-12"); m == nil || strings.HasPrefix(m.Title, "Same") {
		t.Error("a built-in model was replaced")
	}
	if _, ok := before.Get("my-lock"); ok || len(with.IDs()) != len(before.IDs())+1 {
		t.Error("the catalogue before was changed")
	}
}

func BenchmarkBuiltin(b *testing.B) {
	for b.Loop() {
		Builtin()
	}
}

func BenchmarkParts(b *testing.B) {
	m, _ := Builtin().Get("controller-2-12")
	for b.Loop() {
		m.Parts(nil)
	}
}
