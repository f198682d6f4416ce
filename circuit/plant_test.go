package circuit_test

import (
	"fmt"
	"math/rand/v2"

	"doorwright/circuit"
	"doorwright/unit"
)

// plant is a made-up site of doors on supplies, as random as the builders of real ones: limited and folding supplies,
// batteries behind diodes, controllers of constant power with a cut-off, relays, locks with suppressors and clamps,
// supervised loops, floating fire signals, readers.
type plant struct {
	n       *circuit.Network
	r       *rand.Rand
	mains   circuit.Switch
	battery circuit.Switch
	doors   []*plantDoor
}

type plantDoor struct {
	switches []circuit.Switch // output, exit, contact, release, fire
	nodes    []circuit.Node
}

func newPlant(seed uint64, doors, perSupply int) *plant {
	p := &plant{n: circuit.New(), r: rand.New(rand.NewPCG(seed, 0xd00)), doors: make([]*plantDoor, 0, doors)}
	p.mains, p.battery = p.n.Switch("mains"), p.n.Switch("battery")
	for d := range doors {
		if d%perSupply == 0 {
			p.supply(d/perSupply, min(perSupply, doors-d))
		}
		p.door(d, d/perSupply, d%perSupply)
	}
	return p
}

func (p *plant) between(low, high float64) float64 { return low + (high-low)*p.r.Float64() }

func (p *plant) supply(g, doors int) {
	n := p.n
	name := func(s string) string { return fmt.Sprintf("p%d.%s", g, s) }
	plus, minus, bat := n.Node(name("P")), n.Node(name("M")), n.Node(name("bat"))
	limit := 3 + 1.1*float64(doors)
	n.LimitedSource(name("psu"), plus, minus, circuit.LimitedSource{
		Volts: 13.8, Ohms: 0.05, Limit: unit.Ampere(limit), Short: unit.Ampere(limit * p.between(0.2, 1)),
	}, circuit.When(p.mains))
	n.Source(name("batt"), bat, minus, unit.Volt(p.between(11, 13)), 0.05, circuit.When(p.battery))
	n.Diode(name("bdio"), bat, plus, circuit.DiodeModel{Saturation: 1e-6, Slope: 0.0272})
	if g == 0 {
		n.Resistor(name("earth"), minus, circuit.Earth, 0.001)
	} else {
		n.Resistor(name("earth"), minus, n.Node(fmt.Sprintf("p%d.M", g-1)), unit.Ohm(p.between(0.05, 0.5)))
	}
}

// builder adds the parts of one door under its prefix.
type builder struct {
	*plant
	d *plantDoor
	x string
}

func (b builder) name(s string) string       { return b.x + s }
func (b builder) node(s string) circuit.Node { return b.n.Node(b.x + s) }
func (b builder) wire(name, from, to string, low, high float64) {
	b.n.Resistor(b.x+name, b.node(from), b.node(to), unit.Ohm(b.between(low, high)))
}
func (b builder) screw(name, from, to string) { b.wire(name, from, to, 0.004, 0.02) }
func (b builder) ohms(name, from, to string, r float64) {
	b.n.Resistor(b.x+name, b.node(from), b.node(to), unit.Ohm(r))
}

func (b builder) toggle(s string) circuit.Switch {
	sw := b.n.Switch(b.x + s)
	b.d.switches = append(b.d.switches, sw)
	return sw
}

func (p *plant) door(d, g, k int) {
	b := builder{p, &plantDoor{}, fmt.Sprintf("d%d.", d)}
	p.doors = append(p.doors, b.d)
	first := p.n.Nodes()
	b.feed(d, g, k)
	powered := b.controller()
	b.lock(powered)
	b.reader()
	b.doubleLoop("x", circuit.When(b.toggle("exit")))
	b.doubleLoop("c", circuit.Unless(b.toggle("contact")))
	b.singleLoop("m", circuit.Gate{})
	b.singleLoop("b", circuit.When(b.d.switches[1]))
	for i := first; i < p.n.Nodes(); i++ {
		b.d.nodes = append(b.d.nodes, circuit.Node(i))
	}
}

func (b builder) feed(d, g, k int) {
	src, ret := fmt.Sprintf("p%d.P", g), fmt.Sprintf("p%d.M", g)
	low, high := 0.05, 0.3
	if k > 0 && k%3 != 0 && b.r.Float64() < 0.6 { // looped on from the previous door's junction box
		src, ret = fmt.Sprintf("d%d.ja", d-1), fmt.Sprintf("d%d.jb", d-1)
		low, high = 0.03, 0.12
	}
	b.n.Resistor(b.name("fuse"), b.n.Node(src), b.node("f"), 0.05)
	b.n.Resistor(b.name("t.fb"), b.n.Node(ret), b.node("fb"), 0.01)
	b.screw("t.fa", "f", "fa")
	b.wire("w.fa", "fa", "ja", low, high)
	b.wire("w.fb", "fb", "jb", low, high)
	b.wire("w.da", "ja", "da", 0.05, 0.4)
	b.wire("w.db", "jb", "db", 0.05, 0.4)
	b.screw("t.da", "da", "VP")
	b.screw("t.db", "db", "VM")
}

func (b builder) controller() circuit.Gate {
	n := b.n
	cp, vm := b.node("cp"), b.node("VM")
	n.Diode(b.name("rpd"), b.node("VP"), cp, circuit.DiodeModel{Saturation: 1e-6, Slope: 0.0272})
	alive := circuit.When(n.Sense(circuit.SenseSpec{Name: b.name("uvlo"), A: cp, B: vm, On: 9.6, Off: 9.0}))
	n.ConstantPower(b.name("cpl"), cp, vm, unit.Watt(b.between(1.5, 4)), 5, alive)
	n.Source(b.name("r5"), b.node("r5"), vm, 5, 2, alive)
	return alive
}

func (b builder) lock(alive circuit.Gate) {
	n := b.n
	output := circuit.When(b.toggle("output"))
	release := b.toggle("release")
	b.screw("lnk", "VP", "COM")
	n.Contact(b.name("k.nc"), b.node("COM"), b.node("NC"), 0.03, alive.And(output).Not())
	n.Contact(b.name("k.no"), b.node("COM"), b.node("NO"), 0.03, alive.And(output))
	b.screw("t.l1", "NC", "l1")
	b.wire("w.l1", "l1", "l2", 0.1, 0.8)
	b.screw("t.l2", "l2", "BG1")
	n.Contact(b.name("bg"), b.node("BG1"), b.node("BG2"), 0.03, circuit.Unless(release))
	b.wire("w.l3", "BG2", "l3", 0.1, 0.5)
	b.screw("t.l4", "l3", "FI1")
	fire := n.Sense(circuit.SenseSpec{Name: b.name("fire"), A: b.node("FCP"), B: b.node("FCM"), On: 8.4, Off: 3.5, EitherWay: true})
	n.Contact(b.name("fi"), b.node("FI1"), b.node("FI2"), 0.03, circuit.When(fire))
	b.screw("t.l5", "FI2", "l5")
	b.wire("w.l5", "l5", "LP", 0.1, 0.5)
	b.ohms("coil", "LP", "LM", b.between(20, 60))
	n.Diode(b.name("fwd"), b.node("LM"), b.node("LP"), circuit.DiodeModel{Saturation: 7e-9, Slope: 0.0466})
	n.Clamp(b.name("mov"), b.node("LP"), b.node("LM"), circuit.ClampModel{Volts: 22, Exponent: 25})
	b.wire("w.l7", "LM", "l7", 0.2, 1.2)
	b.screw("t.l8", "l7", "LR")
	b.screw("lnk2", "LR", "VM")
	n.Source(b.name("fsrc"), b.node("fsp"), b.node("fsm"), 12, 10, circuit.When(b.toggle("signal")))
	b.wire("w.f1", "fsp", "FCP", 0.5, 4)
	b.wire("w.f2", "fsm", "FCM", 0.5, 4)
	b.ohms("fcoil", "FCP", "FCM", 320)
}

func (b builder) reader() {
	b.ohms("rlim", "VP", "RP", 0.1)
	b.screw("lnk3", "VM", "RM")
	for _, w := range [][2]string{{"RP", "RPx"}, {"RM", "RMx"}, {"D0", "D0x"}, {"D1", "D1x"}, {"LED", "LEDx"}} {
		b.wire("w."+w[0], w[0], w[1], 0.2, 2)
	}
	b.ohms("pu.d0", "r5", "D0", 2200)
	b.ohms("pu.d1", "r5", "D1", 2200)
	b.n.ConstantCurrent(b.name("rdr"), b.node("RPx"), b.node("RMx"), unit.Ampere(b.between(0.08, 0.15)), 4, circuit.Gate{})
	b.ohms("rd.d0", "D0x", "RMx", 1e6)
	b.ohms("rd.d1", "D1x", "RMx", 1e6)
	b.ohms("rd.led", "LEDx", "RPx", 1e4)
	b.ohms("pd.led", "LED", "VM", 1e5)
}

func (b builder) doubleLoop(x string, closed circuit.Gate) {
	b.ohms("pu."+x, "r5", x, 2200)
	b.wire("w."+x+"1", x, x+"1", 0.5, 5)
	b.ohms("es."+x, x+"1", x+"2", 4700)
	b.ohms("ep."+x, x+"2", x+"3", 4700)
	b.n.Contact(b.name("sw."+x), b.node(x+"2"), b.node(x+"3"), 0.1, closed)
	b.wire("w."+x+"2", x+"3", x+"4", 0.5, 5)
	b.screw("t."+x, x+"4", x+"g")
	b.screw("lk."+x, x+"g", "VM")
}

func (b builder) singleLoop(x string, closed circuit.Gate) {
	b.ohms("pu."+x, "r5", x, 2200)
	b.wire("w."+x+"1", x, x+"1", 0.5, 5)
	b.n.Contact(b.name("sw."+x), b.node(x+"1"), b.node(x+"2"), 0.1, closed)
	b.ohms("es."+x, x+"2", x+"3", 4700)
	b.wire("w."+x+"2", x+"3", x+"g", 0.5, 5)
	b.screw("lk."+x, x+"g", "VM")
}

// bridge joins two nodes of one door with a low resistance, as a slip of the screwdriver does.
func (p *plant) bridge() string {
	nodes := p.doors[p.r.IntN(len(p.doors))].nodes
	a, b := nodes[p.r.IntN(len(nodes))], nodes[p.r.IntN(len(nodes))]
	if a == b {
		return "none"
	}
	p.n.Resistor("bridge", a, b, unit.Ohm([]float64{0.05, 2, 100, 1e4}[p.r.IntN(4)]))
	return p.n.Name(a) + "-" + p.n.Name(b)
}

// setAtRandom sets every switch, most of them as on a quiet day.
func (p *plant) setAtRandom(s *circuit.System) {
	mains, battery := p.r.Float64() < 0.8, p.r.Float64() < 0.7
	s.Set(p.mains, mains)
	s.Set(p.battery, battery)
	for _, d := range p.doors {
		for i, sw := range d.switches {
			usual := i == 2 || i == 4 // closed door contact, healthy fire signal
			s.Set(sw, usual != (p.r.Float64() < 0.2))
		}
	}
}

// setQuiet sets the switches as on a quiet day.
func (p *plant) setQuiet(s *circuit.System) {
	s.Set(p.mains, true)
	s.Set(p.battery, true)
	for _, d := range p.doors {
		s.Set(d.switches[4], true)
	}
}
