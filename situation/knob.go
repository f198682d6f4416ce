package situation

import (
	"math"

	"doorwright/cable"
	"doorwright/circuit"
	"doorwright/device"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// Knob is something of a sound island that is not known exactly and moves several elements at once: the length of a
// cable, the warmth of the copper, the value of one resistor. Share is the standard deviation of what it does, as a share
// of the value; Mean is where its middle lies, in such deviations, for what is never less than the plan has: a joint. AsNew is
// the part of the deviation that new work has, around what the plan has; what a door is to show when it is handed over is
// that of new work.
type Knob struct {
	Name  string
	Share float64
	Mean  float64
	AsNew float64
}

// Knobs are all knobs of an island and what each moves.
type Knobs struct {
	All   []Knob
	Size  int // the last of them: how far the size of a fault is from that it is taken at (SizeSway)
	moves []knobMove
	base  *circuit.Network
}

// knobMove is one element that a knob moves.
type knobMove struct {
	element  circuit.Element
	a, b     circuit.Node
	knob     int
	weight   float64
	strength bool    // its voltage, power or current; else its resistance
	ohms     float64 // of a conductor as planned: what a length or a joint does is a share of this, whatever it has become; else 0
}

// rectangular turns the half width of a range in which every value is as likely into a standard deviation (the type B
// uncertainty of a limit, JCGM 100:2008, 4.3.7).
var rectangular = 1 / math.Sqrt(3)

// Half widths for what neither the job nor a data sheet states, each common practice, no source.
const (
	lengthDesigned = 0.15 // of a cable not pulled yet
	lengthGuessed  = 0.7  // of a cable that nobody has planned or measured
	lengthPulled   = 0.03 // of a cable pulled, by the marks on its sheath
	lengthMeasured = 0.01 // of a loop that was measured
	contactShare   = 0.6  // of a closed contact: new ones 20 to 100 milliohm
	referenceShare = 0.01 // of the voltage behind a pull-up
	batteryShare   = 0.016
	batteryOhms    = 0.5
	loadShare      = 0.15 // of what a unit draws
	unstatedShare  = 0.1
	receiverShare  = 0.4 // TIA-232-F allows 3 to 7 kohm (from memory)
	junctionShare  = 0.1 // of the voltage of a junction at its current
	leastUnstated  = 0.5 // ohm: below it a resistance is a piece of metal, of which nobody knows more than about this share
	metalShare     = 0.5
)

// Joints and contacts are never better than new and most are hardly worse, few are much worse. What they have more than new would
// be exponential, with a mean like its deviation, at doors of poor work, and next to nothing at doors of good work: its middle is
// taken between the two. Where a supply gives all it may into a short, these figures decide what is left of its voltage. Common
// practice, no source.
const (
	jointOhms   = 0.05 // of the two ends of a conductor, beyond 5 milliohm each; new ones up to so much, any as likely
	contactOhms = 0.05 // of a closed contact that has been in use
	worseMiddle = 0.5  // of the deviation
)

// Knobs lists what is not known exactly of an island. Measured runs have a measured loop in place of their length; as
// found, nobody has planned any.
func (is *Island) Knobs(measured map[*job.Run]bool, asFound bool) *Knobs {
	is.bind()
	k := &Knobs{base: is.base}
	is.wireKnobs(k, measured, asFound)
	for _, u := range is.Units {
		var warm int
		if len(u.locks) > 0 || len(u.Device.Model.PortsOf(device.Coil)) > 0 {
			warm = k.add("warmth of the winding of "+u.Device.ID, is.warmth(heatsOf(u)))
		}
		for _, at := range u.parts {
			k.part(u, at, warm)
		}
	}
	k.Size = k.add("size of the fault", 1)
	return k
}

func (k *Knobs) add(name string, share float64) int {
	k.All = append(k.All, Knob{Name: name, Share: share, AsNew: 1})
	return len(k.All) - 1
}

// worse enters something that is only ever more than the plan has, with a deviation of so much of the value.
func (k *Knobs) worse(name string, share, asNew float64) int {
	k.All = append(k.All, Knob{Name: name, Share: share, Mean: worseMiddle, AsNew: asNew})
	return len(k.All) - 1
}

func (k *Knobs) move(e circuit.Element, knob int, weight float64, strength bool) {
	a, b := k.base.Ends(e)
	k.moves = append(k.moves, knobMove{e, a, b, knob, weight, strength, 0})
}

func (k *Knobs) wire(e circuit.Element, knob int, weight, ohms float64) {
	k.move(e, knob, weight, false)
	k.moves[len(k.moves)-1].ohms = ohms
}

func heatsOf(u *Unit) unit.Celsius {
	var heats unit.Celsius
	for _, at := range u.parts {
		heats = max(heats, at.part.Heats)
	}
	return heats
}

// warmth is the standard deviation of the resistance of copper that may be as warm as the job allows, and heats more.
func (is *Island) warmth(heats unit.Celsius) float64 {
	t := is.plan.Job.Temperature
	return (cable.Warmth(t.High+heats) - cable.Warmth(t.Low)) / 2 * rectangular
}

func (is *Island) wireKnobs(k *Knobs, measured map[*job.Run]bool, asFound bool) {
	warm := k.add("warmth of the cables", is.warmth(0))
	lengths := map[*job.Run]int{}
	for i := range is.wires {
		w := is.wires[i].Conductor
		ohms := float64(conductorOhms(w, Nominal()))
		share := min(1, jointOhms/ohms)
		if w.Kind != wiring.Core { // made up on the bench, not at the end of a ladder
			k.wire(is.wires[i].element, k.add("joints of "+w.ID, share*rectangular), 1, ohms)
			continue
		}
		k.wire(is.wires[i].element, k.worse("joints of "+w.ID, share, rectangular), 1, ohms)
		at, ok := lengths[w.Run]
		if !ok {
			half := lengthDesigned
			switch {
			case measured[w.Run]:
				half = lengthMeasured
			case w.Run.Pulled > 0:
				half = lengthPulled
			case asFound:
				half = lengthGuessed
			}
			at = k.add("length of "+w.Run.ID, half*rectangular)
			lengths[w.Run] = at
		}
		copper := 1 - 2*float64(wiring.TerminationOhms)/ohms
		k.wire(is.wires[i].element, at, copper, ohms)
		if !measured[w.Run] {
			k.wire(is.wires[i].element, warm, copper, ohms)
		}
	}
}

// part enters what is not known of one part of a unit.
func (k *Knobs) part(u *Unit, at partAt, warm int) {
	p, name := at.part, u.Device.ID+"."+at.part.Name
	ohms := func(share float64) { k.move(at.element, k.add(name, share*rectangular), 1, false) }
	strength := func(share float64) { k.move(at.element, k.add(name+", strength", share*rectangular), 1, true) }
	switch p.Is {
	case device.PartContact:
		ohms(contactShare)
		k.move(at.element, k.worse("wear of "+name, contactOhms/float64(p.Ohms), 0), 1, false)
	case device.PartDiode:
		strength(junctionShare)
	case device.PartSource:
		ohms(stated(p.Tolerance, unstatedShare))
		strength(stated(p.Spread, referenceShare))
	case device.PartLimited:
		strength(stated(p.Spread, referenceShare))
	case device.PartBattery:
		ohms(batteryOhms)
		strength(batteryShare)
	case device.PartPower, device.PartCurrent:
		strength(stated(p.Tolerance, loadShare))
	case device.PartResistor:
		ohms(resistorShare(u, p))
		if p.Winding {
			k.move(at.element, warm, 1, false)
		}
	}
}

func stated(tolerance, otherwise float64) float64 {
	if tolerance > 0 {
		return tolerance
	}
	return otherwise
}

func resistorShare(u *Unit, p device.Part) float64 {
	port, what := device.SplitPin(p.Name)
	switch q := u.Device.Model.Port(port); {
	case p.Tolerance > 0:
		return p.Tolerance
	case q != nil && q.Is == device.SerialPort && what == "receiver":
		return receiverShare
	case p.Ohms < leastUnstated:
		return metalShare
	}
	return unstatedShare
}

// local is what solves the region of a closeup, or the whole island with patches; nil at a bench that has none.
func (b *Bench) local() *circuit.Local {
	switch s := b.solver.(type) {
	case *Closeup:
		return s.local
	case *workbench:
		return s.local
	}
	return nil
}

// Tap is a place to hold a lead to: a node of the island, found by name once.
type Tap struct {
	node circuit.Node
	ok   bool
}

// Tap finds a terminal by its node name, device and pin.
func (b *Bench) Tap(name string) Tap {
	if name == device.Ground {
		return Tap{circuit.Earth, true}
	}
	n, ok := b.net.Find(name)
	return Tap{n, ok}
}

// OK says that there is such a terminal.
func (t Tap) OK() bool { return t.ok }

// Between is the voltage between two taps.
func (b *Bench) Between(at, to Tap) unit.Volt { return b.sys.Volts(at.node) - b.sys.Volts(to.node) }

// Respond finds the response to a small current into one tap and out of the other.
func (b *Bench) Respond(r *circuit.Response, at, to Tap) {
	b.present()
	if l := b.local(); l != nil && l.Has(at.node) && l.Has(to.node) {
		l.Respond(r, at.node, to.node)
		return
	}
	b.sys.Respond(r, at.node, to.node)
}

// Behind is the small-signal resistance between two taps, from a response to them.
func Behind(r *circuit.Response, at, to Tap) unit.Ohm { return r.Ohms(at.node) - r.Ohms(to.node) }

// Deaf says that a tap lies outside what a closeup solves: nothing that happens at the door moves it.
func (b *Bench) Deaf(t Tap) bool {
	l := b.local()
	return l != nil && !l.Has(t.node)
}

// Settings are those of a unit at the bench, as a fault may have altered them.
func (b *Bench) Settings(u *Unit) *device.Settings { return b.settings(u) }
