package situation

import (
	"doorwright/cable"
	"doorwright/circuit"
	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

// bind builds the island's network once, in a neutral case, to learn where everything is, and analyses it. It waits until
// somebody asks, since of a large site few islands are looked at after a change.
func (is *Island) bind() {
	is.bound.Do(func() {
		is.base = is.network(Case{Copper: referenceTemperature, Hot: referenceTemperature, Earthed: true}, true)
		is.analysis = circuit.Analyse(is.base)
		is.sources = is.probes(device.Source)
		is.fuses = is.findFuses()
	})
}

// network builds the island's network for a limit case. Its pattern is the same for every case. With learn set, the
// units remember where their slots, inputs and parts are.
func (is *Island) network(c Case, learn bool) *circuit.Network {
	n := circuit.New()
	if learn {
		is.slots = nil
	}
	for _, u := range is.Units {
		b := binder{net: n, unit: u, island: is, c: c, learn: learn, gates: map[string]func(bool) circuit.Gate{}}
		b.signals()
		b.parts()
		b.inputs()
	}
	pulled := is.pulled(n, learn)
	if learn {
		is.wires, is.wireAt = nil, map[string]int{}
	}
	for _, w := range is.Conductors {
		var g circuit.Gate
		if w.Feeds != nil && (w.Kind == wiring.Core || !is.fedByCore(w.Feeds)) {
			g = circuit.Unless(pulled[w.Feeds.ID])
		}
		e := n.Contact(w.ID, n.Node(w.A.String()), n.Node(w.B.String()), conductorOhms(w, c), g)
		if learn {
			is.wireAt[w.ID] = len(is.wires)
			is.wires = append(is.wires, Wire{w, e})
		}
	}
	return n
}

// Unfed is the signal by which the world takes a controller's supply away: a blown fuse, a pulled plug, a cut core.
const Unfed = "unfed"

// pulled enters, for every controller whose supply comes over a conductor of the island, the switch that opens it.
func (is *Island) pulled(n *circuit.Network, learn bool) map[string]circuit.Switch {
	switches := map[string]circuit.Switch{}
	for _, w := range is.Conductors {
		if w.Feeds == nil {
			continue
		}
		if _, ok := switches[w.Feeds.ID]; ok {
			continue
		}
		sw := n.Switch(w.Feeds.ID + "." + Unfed)
		switches[w.Feeds.ID] = sw
		if u := is.byID[w.Feeds.ID]; learn && u != nil {
			u.slots = append(u.slots, len(is.slots))
			is.slots = append(is.slots, slot{unit: u, name: Unfed, sw: sw})
		}
	}
	return switches
}

// fedByCore says that a core of a run brings a controller's supply, and not only leads at one place.
func (is *Island) fedByCore(d *wiring.Device) bool {
	for _, w := range is.Conductors {
		if w.Feeds == d && w.Kind == wiring.Core {
			return true
		}
	}
	return false
}

func conductorOhms(w *wiring.Conductor, c Case) unit.Ohm {
	if w.Unsure && !c.Earthed {
		return circuit.OpenOhms
	}
	r := w.Ohms(c.Copper)
	if c.Worst {
		return r.Max
	}
	return r.Nominal
}

// binder enters one unit into a network.
type binder struct {
	net    *circuit.Network
	unit   *Unit
	island *Island
	c      Case
	learn  bool
	gates  map[string]func(bool) circuit.Gate
}

func (b *binder) node(pin string) circuit.Node {
	if pin == device.Ground {
		return circuit.Earth
	}
	return b.net.Node(b.unit.Device.ID + "." + pin)
}

// signals enters the senses, and a switch for every other signal that moves a part.
func (b *binder) signals() {
	u, m := b.unit, b.unit.Device.Model
	for _, s := range m.Senses() {
		on, off := s.On, s.Off
		if s.Winding {
			f := windingFactor(b.c, s.Heats)
			on, off = unit.Volt(float64(on)*f), unit.Volt(float64(off)*f)
		}
		id := b.net.Sense(circuit.SenseSpec{
			Name: u.Device.ID + "." + s.Signal, A: b.node(s.A), B: b.node(s.B),
			On: on, Off: off, EitherWay: s.EitherWay,
		})
		b.gates[s.Signal] = func(want bool) circuit.Gate {
			if want {
				return circuit.When(id)
			}
			return circuit.Unless(id)
		}
		b.slot(slot{unit: u, name: s.Signal, sense: id, senses: true})
	}
	for _, name := range m.World() {
		b.world(name, u.kind != nil && contains(u.kind.Wakes, name))
	}
	for _, p := range m.Parts(&u.Device.Settings) {
		for _, w := range p.When {
			b.world(w.Signal, u.kind != nil && contains(u.kind.Quiet, w.Signal))
		}
	}
}

// world enters a signal that the world or the unit's behaviour sets.
func (b *binder) world(name string, rest bool) {
	if _, ok := b.gates[name]; ok {
		return
	}
	id := b.net.Switch(b.unit.Device.ID + "." + name)
	b.gates[name] = func(want bool) circuit.Gate {
		if want {
			return circuit.When(id)
		}
		return circuit.Unless(id)
	}
	b.slot(slot{unit: b.unit, name: name, sw: id, rest: rest})
}

func (b *binder) slot(s slot) {
	if b.learn {
		b.unit.slots = append(b.unit.slots, len(b.island.slots))
		b.island.slots = append(b.island.slots, s)
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func (b *binder) parts() {
	u := b.unit
	for _, p := range u.Device.Model.Parts(&u.Device.Settings) {
		e := b.part(p)
		if !b.learn {
			continue
		}
		at := partAt{p, e}
		u.parts = append(u.parts, at)
		port, what := device.SplitPin(p.Name)
		if q := u.Device.Model.Port(port); q != nil && q.Is == device.LockCoil && what == "winding" {
			u.locks = append(u.locks, at)
		}
	}
}

// The silicon rectifier that suppressors and polarity guards are made of: the small 1 A type of every textbook,
// saturation 7 nA and emission coefficient 1.8 at 27 C (from memory).
var rectifier = circuit.DiodeModel{Saturation: 7e-9, Slope: 0.0466}

// clampExponent is the steepness of a metal-oxide voltage clamp, I ~ V^25 (textbook range 20 to 60, from memory).
const clampExponent = 25

// part enters one part with the values it has in the limit case.
func (b *binder) part(p device.Part) circuit.Element {
	name := b.unit.Device.ID + "." + p.Name
	plus, minus := b.node(p.A), b.node(p.B)
	gate := b.gate(p.When)
	switch p.Is {
	case device.PartContact:
		return b.net.Contact(name, plus, minus, agedContact(p.Ohms, b.c), gate)
	case device.PartDiode:
		return b.net.Diode(name, plus, minus, rectifier)
	case device.PartClamp:
		return b.net.Clamp(name, plus, minus, circuit.ClampModel{Volts: p.Volts, Exponent: clampExponent})
	case device.PartSource:
		return b.net.Source(name, plus, minus, spread(p.Volts, p.Spread, b.c.Supply), spread(p.Ohms, p.Tolerance, -sign(b.c)), gate)
	case device.PartLimited:
		return b.net.LimitedSource(name, plus, minus, circuit.LimitedSource{
			Volts: spread(p.Volts, p.Spread, b.c.Supply),
			Ohms:  p.Ohms, Limit: p.Limit, Short: p.Short,
		}, gate)
	case device.PartBattery:
		return b.net.Source(name, plus, minus, b.island.batteryVolts(b.unit, p, false), agedBattery(p.Ohms, b.c), gate)
	case device.PartPower:
		return b.net.ConstantPower(name, plus, minus, spread(p.Watts, p.Tolerance, b.c.Loads), p.Knee, gate)
	case device.PartCurrent:
		return b.net.ConstantCurrent(name, plus, minus, spread(p.Amps, p.Tolerance, b.c.Loads), currentKnee, gate)
	case device.PartLimiter:
		return b.net.Limiter(name, plus, minus, p.Ohms, p.Limit, gate)
	}
	r := spread(p.Ohms, p.Tolerance, sign(b.c))
	if p.Winding {
		r = unit.Ohm(float64(spread(p.Ohms, p.Tolerance, b.c.Winding)) * windingFactor(b.c, p.Heats))
	}
	if len(p.When) == 0 {
		return b.net.Resistor(name, plus, minus, r)
	}
	return b.net.Contact(name, plus, minus, r, gate)
}

// currentKnee is the voltage below which a regulated load draws less than its current.
const currentKnee unit.Volt = 2

// gate turns conditions into a gate.
func (b *binder) gate(when []device.Condition) circuit.Gate {
	var g circuit.Gate
	for i, w := range when {
		next := b.gates[w.Signal](w.Is)
		if i == 0 {
			g = next
			continue
		}
		g = g.And(next)
	}
	return g
}

func (b *binder) inputs() {
	if !b.learn {
		return
	}
	u := b.unit
	for _, e := range u.Device.Model.Ports {
		if e.Value.Is != device.Input {
			continue
		}
		expects := u.Device.Settings.Input(&e.Value)
		u.inputs = append(u.inputs, input{
			e.Key, b.node(device.PinOf(e.Key, "in")), b.node(device.PinOf(e.Key, "common")),
			expects, device.Levels(e.Value, expects),
		})
	}
}

// sign is +1 in the cases that end low and -1 in those that end high: resistors go one way, pull-ups the other, which
// moves every input as far as it can go.
func sign(c Case) int { return -c.Supply }

func spread[T ~float64](v T, tolerance float64, way int) T {
	return T(float64(v) * (1 + tolerance*float64(way)))
}

// windingFactor is the resistance of a winding against that at 20 C. A cold winding has the temperature of its
// surroundings, a hot one that and its own rise on top.
func windingFactor(c Case, heats unit.Celsius) float64 {
	t := referenceTemperature
	switch c.Winding {
	case -1:
		t = c.Hot
	case 1:
		t = c.Hot + heats
	}
	return cable.Warmth(t)
}

// agedContactOhms is what a contact may come to before it is replaced: allow 0.1 ohm each (common practice).
const agedContactOhms unit.Ohm = 0.1

func agedContact(r unit.Ohm, c Case) unit.Ohm {
	if c.Worst {
		return max(r, agedContactOhms)
	}
	return r
}

// agedBatteryShare is how much the resistance of a lead-acid battery has risen when it is due for replacement: about
// half as much again (common practice, no source).
const agedBatteryShare = 1.5

func agedBattery(r unit.Ohm, c Case) unit.Ohm {
	if c.Worst {
		return unit.Ohm(float64(r) * agedBatteryShare)
	}
	return r
}

// Volts of a lead-acid cell under a small load: full 12.8 V for six, at the end of its discharge 1.75 V each (the usual
// end for rates of 3 h to 20 h; both from memory).
const (
	cellFull unit.Volt = 12.8 / 6
	cellEnd  unit.Volt = 1.75
)

// batteryVolts is the voltage behind the resistance of a battery: full, or at the voltage down to which everything on
// its supply must work.
func (is *Island) batteryVolts(u *Unit, p device.Part, atEnd bool) unit.Volt {
	if atEnd {
		for _, s := range is.Supplies {
			if s.Battery != nil && s.Battery.ID == u.Device.ID {
				return s.WorksTo
			}
		}
	}
	return unit.Volt(p.Cells) * cellFull
}
