package device

import (
	"reflect"
	"testing"

	"doorwright/document"
)

// portCase is one port of each type with the parts and the sense it must have.
type portCase struct {
	name   string
	model  *Model
	set    Settings
	parts  []Part
	senses []Sense
}

func on(signal string) Condition  { return Condition{signal, true} }
func off(signal string) Condition { return Condition{signal, false} }
func all(c ...Condition) []Condition {
	return c
}

// fed is a unit with a feed and one more port.
func fed(name string, p Port) *Model {
	return &Model{Kind: "controller", Ports: document.Map[Port]{
		{Key: "feed", Value: Port{Is: Load, Window: band(10, 15), Watts: 3}}, {Key: name, Value: p},
	}}
}

var (
	feedPart  = Part{Name: "feed.draw", Is: PartPower, A: "feed.plus", B: "feed.minus", Watts: 3, Knee: 9, When: all(on("feed"))}
	feedSense = Sense{Signal: "feed", A: "feed.plus", B: "feed.minus", On: 10, Off: 9}
)

func joined(pin string) Part {
	return Part{Name: pin, Is: PartResistor, A: pin, B: "feed.minus", Ohms: 0.01}
}

func portCases() []portCase {
	fedParts := func(p ...Part) []Part { return append([]Part{feedPart}, p...) }
	onlyFeed := []Sense{feedSense}
	return []portCase{
		{"load of watts", one("feed", Port{Is: Load, Window: band(10, 15), Watts: 3}), Settings{}, []Part{feedPart}, onlyFeed},
		{
			"load of amps with its own thresholds",
			one("horn", Port{Is: Load, Window: band(9, 15), Amps: 0.1, Tolerance: 0.2, CutOff: 6, Restart: 7}),
			Settings{},
			[]Part{{
				Name: "horn.draw", Is: PartCurrent, A: "horn.plus", B: "horn.minus", Amps: 0.1, Tolerance: 0.2, Knee: 6,
				When: all(on("horn")),
			}},
			[]Sense{{Signal: "horn", A: "horn.plus", B: "horn.minus", On: 7, Off: 6}},
		},
		{
			"load of ohms", one("lamp", Port{Is: Load, Window: band(10, 15), Ohms: 100}),
			Settings{},
			[]Part{{Name: "lamp.draw", Is: PartResistor, A: "lamp.plus", B: "lamp.minus", Ohms: 100, When: all(on("lamp"))}},
			[]Sense{{Signal: "lamp", A: "lamp.plus", B: "lamp.minus", On: 10, Off: 9}},
		},
		{
			"coil without suppressor works either way round",
			one("coil", Port{Is: Coil, Nominal: 12, Ohms: 270, Tolerance: 0.1, PickUp: 9, DropOut: 1.2, Heats: 30}),
			Settings{},
			[]Part{{
				Name: "coil.winding", Is: PartResistor, A: "coil.plus", B: "coil.minus", Ohms: 270, Tolerance: 0.1,
				Winding: true, Heats: 30,
			}},
			[]Sense{{Signal: "coil", A: "coil.plus", B: "coil.minus", On: 9, Off: 1.2, EitherWay: true, Winding: true, Heats: 30}},
		},
		{
			"coil with diode has a polarity",
			one("coil", Port{Is: Coil, Nominal: 12, Ohms: 270, PickUp: 9, DropOut: 1.2, Suppressor: "diode"}),
			Settings{},
			[]Part{
				{Name: "coil.winding", Is: PartResistor, A: "coil.plus", B: "coil.minus", Ohms: 270, Winding: true},
				{Name: "coil.diode", Is: PartDiode, A: "coil.minus", B: "coil.plus"},
			},
			[]Sense{{Signal: "coil", A: "coil.plus", B: "coil.minus", On: 9, Off: 1.2, Winding: true}},
		},
		{
			"lock with clamp", one("coil", Port{Is: LockCoil, Ohms: 24, Suppressor: "clamp", ClampVolts: 22}),
			Settings{},
			[]Part{
				{Name: "coil.winding", Is: PartResistor, A: "coil.plus", B: "coil.minus", Ohms: 24, Winding: true},
				{Name: "coil.clamp", Is: PartClamp, A: "coil.plus", B: "coil.minus", Volts: 22},
			},
			nil,
		},
		{
			"contact open at rest, driven by its name", one("k", Port{Is: Contact, Rest: "open"}),
			Settings{},
			[]Part{{Name: "k.contact", Is: PartContact, A: "k.a", B: "k.b", Ohms: 0.05, When: all(on("k"))}},
			nil,
		},
		{
			"contact closed at rest, driven by the world", one("k", Port{Is: Contact, Rest: "closed", Driven: "operated", Ohms: 0.1}),
			Settings{},
			[]Part{{Name: "k.contact", Is: PartContact, A: "k.a", B: "k.b", Ohms: 0.1, When: all(off("operated"))}},
			nil,
		},
		{
			"contact to 0 V", fed("led", Port{Is: Contact, Rest: "open", From: "feed"}),
			Settings{},
			fedParts(
				Part{Name: "led.contact", Is: PartContact, A: "led.a", B: "led.b", Ohms: 0.05, When: all(on("led"))},
				joined("led.b"),
			), onlyFeed,
		},
		{
			"changeover", one("lock1", Port{Is: Changeover}),
			Settings{},
			[]Part{
				{Name: "lock1.nc-contact", Is: PartContact, A: "lock1.common", B: "lock1.nc", Ohms: 0.05, When: all(off("lock1"))},
				{Name: "lock1.no-contact", Is: PartContact, A: "lock1.common", B: "lock1.no", Ohms: 0.05, When: all(on("lock1"))},
			},
			nil,
		},
		{
			"input", fed("exit1", Port{Is: Input, Reference: 5, PullUp: 2200, Tolerance: 0.01}),
			Settings{},
			fedParts(
				Part{
					Name: "exit1.in-pull-up", Is: PartSource, A: "exit1.in", B: "exit1.common", Volts: 5, Ohms: 2200,
					Tolerance: 0.01, When: all(on("feed")),
				},
				joined("exit1.common"),
			), onlyFeed,
		},
		{
			"output always on", fed("out", Port{Is: Output, From: "feed", Limit: 1}),
			Settings{},
			fedParts(
				Part{Name: "out.pass", Is: PartLimiter, A: "feed.plus", B: "out.plus", Ohms: 0.1, Limit: 1, Short: 1},
				joined("out.minus"),
			), onlyFeed,
		},
		{
			"output switched", fed("out", Port{Is: Output, From: "feed", Limit: 1, Driven: "out", Rest: "open"}),
			Settings{},
			fedParts(
				Part{
					Name: "out.pass", Is: PartLimiter, A: "feed.plus", B: "out.plus", Ohms: 0.1, Limit: 1, Short: 1,
					When: all(on("out")),
				},
				joined("out.minus"),
			), onlyFeed,
		},
		{
			"source", one("out", Port{Is: Source, Nominal: 12, Float: 13.65, Spread: 0.01, Limit: 5, Short: 2}),
			Settings{},
			[]Part{{
				Name: "out.supply", Is: PartLimited, A: "out.plus", B: "out.minus", Volts: 13.65, Spread: 0.01, Ohms: 0.02,
				Limit: 5, Short: 2, When: all(on("mains")),
			}},
			nil,
		},
		{
			"battery terminals", &Model{Ports: document.Map[Port]{
				{Key: "out", Value: Port{Is: Source, Float: 13.65, Limit: 5}},
				{Key: "battery", Value: Port{Is: Battery, From: "out", Dropped: 10}},
			}},
			Settings{},
			[]Part{
				{
					Name: "out.supply", Is: PartLimited, A: "out.plus", B: "out.minus", Volts: 13.65, Ohms: 0.02, Limit: 5, Short: 5,
					When: all(on("mains")),
				},
				{
					Name: "battery.transfer", Is: PartContact, A: "battery.plus", B: "out.plus", Ohms: 0.03,
					When: all(off("mains"), on("battery-path")),
				},
				{Name: "battery.minus", Is: PartResistor, A: "battery.minus", B: "out.minus", Ohms: 0.01},
			},
			[]Sense{{Signal: "battery", A: "battery.plus", B: "battery.minus", On: 10.2, Off: 10}},
		},
		{
			"battery itself", one("cells", Port{Is: Battery, Cells: 6, Ohms: 0.025, Capacity: 7}),
			Settings{},
			[]Part{{
				Name: "cells.cells", Is: PartBattery, A: "cells.plus", B: "cells.minus", Cells: 6, Ohms: 0.025,
				When: all(on("connected")),
			}},
			nil,
		},
		{
			"pulse-out", fed("data", Port{Is: PulseOut}),
			Settings{},
			fedParts(
				Part{
					Name: "data.d0-switch", Is: PartContact, A: "data.d0", B: "data.common", Ohms: 20,
					When: all(on("feed"), on("data.send0")),
				},
				Part{Name: "data.d0-leak", Is: PartResistor, A: "data.d0", B: "data.common", Ohms: 1e6},
				Part{
					Name: "data.d1-switch", Is: PartContact, A: "data.d1", B: "data.common", Ohms: 20,
					When: all(on("feed"), on("data.send1")),
				},
				Part{Name: "data.d1-leak", Is: PartResistor, A: "data.d1", B: "data.common", Ohms: 1e6},
				joined("data.common"),
			), onlyFeed,
		},
		{
			"pulse-in", fed("entry", Port{Is: PulseIn, Reference: 5, PullUp: 1000}),
			Settings{},
			fedParts(
				Part{
					Name: "entry.d0-pull-up", Is: PartSource, A: "entry.d0", B: "entry.common", Volts: 5, Ohms: 1000,
					When: all(on("feed")),
				},
				Part{
					Name: "entry.d1-pull-up", Is: PartSource, A: "entry.d1", B: "entry.common", Volts: 5, Ohms: 1000,
					When: all(on("feed")),
				},
				joined("entry.common"),
			), onlyFeed,
		},
		{
			"serial", fed("line", Port{Is: SerialPort}),
			Settings{},
			fedParts(
				Part{
					Name: "line.mark", Is: PartSource, A: "line.common", B: "line.tx", Volts: 6, Ohms: 300,
					When: all(on("feed"), off("line.send-space")),
				},
				Part{
					Name: "line.space", Is: PartSource, A: "line.tx", B: "line.common", Volts: 6, Ohms: 300,
					When: all(on("feed"), on("line.send-space")),
				},
				Part{Name: "line.receiver", Is: PartResistor, A: "line.rx", B: "line.common", Ohms: 5000},
				joined("line.common"),
			), onlyFeed,
		},
		{
			"bus with bias and terminator", fed("bus", Port{Is: Bus, Bias: true, Terminator: true}),
			Settings{Terminator: true},
			fedParts(append(busParties(),
				Part{Name: "bus.terminator", Is: PartResistor, A: "bus.a", B: "bus.b", Ohms: 120},
				Part{Name: "bus.b-bias", Is: PartSource, A: "bus.b", B: "bus.common", Volts: 5, Ohms: 560, When: all(on("feed"))},
				Part{Name: "bus.a-bias", Is: PartResistor, A: "bus.a", B: "bus.common", Ohms: 560},
				joined("bus.common"),
			)...), onlyFeed,
		},
		{
			"bus with its terminator off", fed("bus", Port{Is: Bus, Terminator: true}),
			Settings{},
			fedParts(append(busParties(), joined("bus.common"))...), onlyFeed,
		},
		{
			"resistor", one("resistor", Port{Is: Resistor, Ohms: 4700, Tolerance: 0.01}),
			Settings{},
			[]Part{{Name: "resistor.resistor", Is: PartResistor, A: "resistor.a", B: "resistor.b", Ohms: 4700, Tolerance: 0.01}},
			nil,
		},
		{
			"diode", one("diode", Port{Is: Diode}),
			Settings{},
			[]Part{{Name: "diode.diode", Is: PartDiode, A: "diode.anode", B: "diode.cathode"}},
			nil,
		},
		{
			"clamp", one("clamp", Port{Is: Clamp, ClampVolts: 22}),
			Settings{},
			[]Part{{Name: "clamp.clamp", Is: PartClamp, A: "clamp.a", B: "clamp.b", Volts: 22}},
			nil,
		},
		{
			"fuse of 2 A", one("fuse", Port{Is: Fuse, Rating: 2}),
			Settings{},
			[]Part{{Name: "fuse.link", Is: PartResistor, A: "fuse.a", B: "fuse.b", Ohms: 0.075, When: []Condition{{"fuse.blown", false}}}},
			[]Sense{{Signal: "fuse.over", A: "fuse.a", B: "fuse.b", On: 0.3, Off: 0.297, EitherWay: true}}, // 2 times 2 A
		},
		{
			"bar of three", one("joint", Port{Is: Bar, Ways: 3}),
			Settings{},
			[]Part{
				{Name: "joint.bar-1", Is: PartResistor, A: "joint.1", B: "joint.2", Ohms: 0.001},
				{Name: "joint.bar-2", Is: PartResistor, A: "joint.2", B: "joint.3", Ohms: 0.001},
			},
			nil,
		},
		{
			"door loop of two ways", one("loop", Port{Is: Through, Ways: 2}),
			Settings{},
			[]Part{
				{Name: "loop.way-1", Is: PartResistor, A: "loop.1a", B: "loop.1b", Ohms: 0.05},
				{Name: "loop.way-2", Is: PartResistor, A: "loop.2a", B: "loop.2b", Ohms: 0.05},
			},
			nil,
		},
		{
			"earth", one("earth", Port{Is: Earth}),
			Settings{},
			[]Part{{Name: "earth.bond", Is: PartResistor, A: "earth.earth", B: Ground, Ohms: 0.1}},
			nil,
		},
	}
}

func busParties() []Part {
	return []Part{
		{Name: "bus.send-mark", Is: PartSource, A: "bus.b", B: "bus.a", Volts: 3, Ohms: 54, When: all(on("feed"), on("bus.send-mark"))},
		{Name: "bus.send-space", Is: PartSource, A: "bus.a", B: "bus.b", Volts: 3, Ohms: 54, When: all(on("feed"), on("bus.send-space"))},
		{Name: "bus.a-receiver", Is: PartResistor, A: "bus.a", B: "bus.common", Ohms: 12000},
		{Name: "bus.b-receiver", Is: PartResistor, A: "bus.b", B: "bus.common", Ohms: 12000},
	}
}

func TestPartsAndSensesOfEveryPortType(t *testing.T) {
	seen := map[PortType]bool{}
	for _, c := range portCases() {
		t.Run(c.name, func(t *testing.T) {
			got := c.model.Parts(&c.set)
			if len(got) != len(c.parts) {
				t.Errorf("%d parts, want %d: %+v", len(got), len(c.parts), got)
			}
			for i := range min(len(got), len(c.parts)) {
				if !reflect.DeepEqual(got[i], c.parts[i]) {
					t.Errorf("part %d\n got %+v\nwant %+v", i, got[i], c.parts[i])
				}
			}
			if s := c.model.Senses(); !reflect.DeepEqual(s, c.senses) {
				t.Errorf("senses\n got %+v\nwant %+v", s, c.senses)
			}
		})
		for _, e := range c.model.Ports {
			seen[e.Value.Is] = true
		}
	}
	for _, is := range PortTypes() {
		if !seen[is] {
			t.Errorf("port type %s has no case", is)
		}
	}
}

// The drivers keep to their standards at the limits of the load: TIA-485-A asks for 1.5 V into 54 ohm, TIA-232-F for
// 5 V to 15 V into 3 to 7 kohm; an idle pair with two terminators of 120 ohm needs 200 mV.
func TestDataLinesKeepToTheirStandards(t *testing.T) {
	if v := busDriver * 54 / (54 + 54); v < 1.5 || busDriver > 6 {
		t.Errorf("bus driver gives %v into 54 ohm, %v open", v, busDriver)
	}
	for _, load := range []float64{3000, 7000} {
		if v := float64(serialDriver) * load / (load + float64(serialDriverOhms)); v < 5 || v > 15 {
			t.Errorf("serial driver gives %g V into %g ohm", v, load)
		}
	}
	if serialReceiverOhms < 3000 || serialReceiverOhms > 7000 {
		t.Errorf("serial receiver %v", serialReceiverOhms)
	}
	if v := float64(busBias) * 60 / (2*float64(busBiasOhms) + 60); v < 0.2 {
		t.Errorf("idle pair has %g V", v)
	}
	if low := 5 * float64(openCollectorOhms) / (1000 + float64(openCollectorOhms)); low > float64(pulseLow) {
		t.Errorf("a pulse of 5 V behind 1 kohm is low at %g V", low)
	}
}

// Names of parts are unique and lead back to a pin or to earth, in every built-in model and with every setting.
func TestPartsOfBuiltinModels(t *testing.T) {
	models := Builtin()
	parts := 0
	for _, id := range models.IDs() {
		m, _ := models.Get(id)
		pins, names := map[string]bool{Ground: true}, map[string]bool{}
		for _, e := range m.Ports {
			for _, pin := range Pins(e.Value) {
				pins[PinOf(e.Key, pin)] = true
			}
		}
		for _, p := range m.Parts(&Settings{Terminator: true}) {
			parts++
			if names[p.Name] {
				t.Errorf("%s: two parts %s", id, p.Name)
			}
			names[p.Name] = true
			if !pins[p.A] || !pins[p.B] {
				t.Errorf("%s: part %s between %s and %s", id, p.Name, p.A, p.B)
			}
		}
	}
	if parts == 0 {
		t.Fatal("no parts")
	}
}
