package situation

import (
	"slices"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/unit"
)

// Bench holds an island in one limit case and takes it from instant to instant. It is not safe for concurrent use;
// several benches may share an island.
type Bench struct {
	Case       Case
	island     *Island
	net        *circuit.Network
	sys        *circuit.System
	solver     solver  // sys itself, or a part of it
	units      []*Unit // that act here: all of the island, or those near a door
	near       []bool  // by unit: it acts here; nil when all do
	forced     []bool  // by slot: a fault holds it
	inputs     map[*Unit]*altered
	fault      *fault.Fault // that is a part of the network; nil for none
	on         []bool       // value of every slot that does not follow a voltage
	mem        []device.Memory
	batteryEnd bool
	elapsed    unit.Second
	heard      []heard
	now        unit.Second
	outcome    Outcome
	stale      bool // something has changed since the network was solved
	gone       bool // the state is one gone back to: the solver still holds what came after it
}

// solver finds an operating point.
type solver interface{ Solve() circuit.Report }

// heard is a credential read just now.
type heard struct {
	controller *Unit
	channel    int
	side       string
}

// Outcome is how an instant ended.
type Outcome struct {
	Circuit  circuit.Report
	Unsteady []string // signals that went back and forth for ever; empty when the instant settled
}

// Settled says that the network converged and the units came to rest.
func (o Outcome) Settled() bool {
	return len(o.Unsteady) == 0 && o.Circuit.Outcome == circuit.Converged
}

// kept is the outcome for longer than until the next Solve.
func (o Outcome) kept() Outcome {
	o.Circuit.Alternating, o.Circuit.Collapsed = slices.Clone(o.Circuit.Alternating), slices.Clone(o.Circuit.Collapsed)
	return o
}

// Bench makes a bench of the island in a limit case, in its undisturbed state, settled.
func (is *Island) Bench(c Case) *Bench {
	is.bind()
	b := &Bench{Case: c, island: is, net: is.network(c, false), on: make([]bool, len(is.slots)), mem: make([]device.Memory, len(is.Units)), units: is.Units}
	b.sys = is.analysis.System(b.net)
	b.solver, b.stale = b.sys, true
	for i, s := range is.slots {
		if !s.senses {
			b.put(i, s.rest)
		}
	}
	b.sys.Cold()
	b.settle()
	return b
}

// put sets a slot that does not follow a voltage.
func (b *Bench) put(slot int, on bool) {
	if b.held(slot) {
		return
	}
	b.stale = b.stale || b.on[slot] != on
	b.on[slot] = on
	b.sys.Set(b.island.slots[slot].sw, on)
}

// held says that a fault holds a slot, whatever a unit wants.
func (b *Bench) held(slot int) bool { return b.forced != nil && b.forced[slot] }

// State is everything a bench remembers, so that many causes can start from the same instant.
type State struct {
	circuit    circuit.State
	on         []bool
	mem        []device.Memory
	batteryEnd bool
	now        unit.Second
	outcome    Outcome
	stale      bool
}

// Save remembers the present instant.
func (b *Bench) Save() State {
	var s State
	b.SaveTo(&s)
	return s
}

// SaveTo makes s the present instant, in the memory that it has.
func (b *Bench) SaveTo(s *State) {
	b.sys.SnapshotTo(&s.circuit)
	s.on, s.mem = append(s.on[:0], b.on...), append(s.mem[:0], b.mem...)
	s.batteryEnd, s.now, s.outcome, s.stale = b.batteryEnd, b.now, b.outcome.kept(), b.stale
}

// Back goes back to a remembered instant.
func (b *Bench) Back(s State) {
	b.setBatteries(s.batteryEnd)
	b.sys.Restore(s.circuit)
	copy(b.on, s.on)
	copy(b.mem, s.mem)
	b.now, b.outcome, b.stale, b.gone = s.now, s.outcome, s.stale, true
}

// setBatteries makes all batteries full, or at their end.
func (b *Bench) setBatteries(end bool) {
	if b.batteryEnd != end {
		b.batteryEnd, b.stale = end, true
		b.charge()
	}
}

// charge sets the voltage of every battery.
func (b *Bench) charge() {
	for _, u := range b.island.Units {
		for _, p := range u.parts {
			if p.part.Is == device.PartBattery {
				b.sys.SetVolts(p.element, b.island.batteryVolts(u, p.part, b.batteryEnd))
			}
		}
	}
	if b.fault != nil {
		b.rescale(b.fault)
	}
}

// load takes the values of the network anew.
func (b *Bench) load() {
	b.sys.Load(b.net)
	b.stale = true
	if b.batteryEnd {
		b.charge()
	}
}

// maxRounds bounds the settling of one instant. Units act on what they see at most a few times in a row (relay, board,
// controller, sounder); three times the longest chain of a job seen in tests is plenty.
const maxRounds = 24

// settle solves the network and lets the units act on what they see until nothing moves. Units that keep moving are
// reported by name and left where they are.
func (b *Bench) settle() {
	var unsteady []string
	for round := 0; ; round++ {
		b.solve()
		fuse, open := b.nextFuse() // before the units act: currents are those of what was solved
		moved := b.act()
		b.elapsed = 0
		if fuse != nil && (len(moved) == 0 || round > maxRounds/2) { // what comes and goes for ever heats it as well
			moved = append(moved, b.turn(fuse, open)...)
		}
		if len(moved) == 0 {
			return
		}
		if round > maxRounds/2 {
			unsteady = append(unsteady, moved...)
		}
		if round == maxRounds {
			slices.Sort(unsteady)
			b.outcome.Unsteady = slices.Compact(unsteady)
			return
		}
	}
}

// solve solves the network, unless it has been and nothing has changed since. What has no resting state is solved again.
func (b *Bench) solve() {
	b.outcome.Unsteady = nil
	if b.stale || b.outcome.Circuit.Outcome != circuit.Converged {
		b.outcome.Circuit = b.solver.Solve()
		b.stale, b.gone = false, false
	}
}

// present makes the solver hold the present state, so that it can be asked how it would respond.
func (b *Bench) present() {
	if b.gone {
		b.solver.Solve()
		b.gone = false
	}
}

// act lets every unit act once and names the signals that moved, and the units that moved none but changed their mind.
func (b *Bench) act() []string {
	var moved []string
	var s seat
	for _, u := range b.units {
		if u.kind == nil || u.kind.Act == nil {
			continue
		}
		s = seat{b, u, s.moved[:0]}
		before := b.mem[u.index]
		u.kind.Act(&s)
		moved = append(moved, s.moved...)
		if len(s.moved) == 0 && b.mem[u.index] != before {
			moved = append(moved, u.Device.ID)
		}
	}
	return moved
}

// seat is a unit at the bench, as its behaviour sees it.
type seat struct {
	bench *Bench
	unit  *Unit
	moved []string
}

var _ device.Unit = (*seat)(nil)

func (s *seat) Model() *device.Model       { return s.unit.Device.Model }
func (s *seat) Settings() *device.Settings { return s.bench.settings(s.unit) }
func (s *seat) Signal(name string) bool    { return s.bench.Signal(s.unit, name) }
func (s *seat) Elapsed() unit.Second       { return s.bench.elapsed }
func (s *seat) Memory() *device.Memory     { return &s.bench.mem[s.unit.index] }

func (s *seat) Reading(port string) device.Reading { return s.bench.Reading(s.unit, port) }

func (s *seat) Heard(channel int, side string) bool {
	return slices.Contains(s.bench.heard, heard{s.unit, channel, side})
}

func (s *seat) Set(signal string, on bool) {
	for _, i := range s.unit.slots {
		slot := &s.bench.island.slots[i]
		if slot.name != signal || slot.senses {
			continue
		}
		if s.bench.on[i] != on && !s.bench.held(i) {
			s.bench.put(i, on)
			s.moved = append(s.moved, s.unit.Device.ID+"."+signal)
		}
		return
	}
}

// Signal is the present value of a signal of a unit; false for one it does not have.
func (b *Bench) Signal(u *Unit, name string) bool {
	for _, i := range u.slots {
		s := &b.island.slots[i]
		if s.name == name {
			if s.senses {
				return b.sys.SenseOn(s.sense)
			}
			return b.on[i]
		}
	}
	return false
}

// Reading is what an input of a unit reads now.
func (b *Bench) Reading(u *Unit, port string) device.Reading {
	inputs := u.inputs
	if a, ok := b.inputs[u]; ok {
		inputs = a.inputs
	}
	for i := range inputs {
		in := &inputs[i]
		if in.port == port {
			return device.Classify(in.levels, b.sys.Volts(in.in)-b.sys.Volts(in.common))
		}
	}
	return device.Reading{}
}

// Memory is what a unit remembers.
func (b *Bench) Memory(u *Unit) device.Memory { return b.mem[u.index] }

// Outcome is how the present instant ended.
func (b *Bench) Outcome() Outcome { return b.outcome }

// Volts is the voltage of a pin of a unit against another.
func (b *Bench) Volts(u *Unit, pin, against string) unit.Volt { return b.at(u, pin) - b.at(u, against) }

func (b *Bench) at(u *Unit, pin string) unit.Volt {
	n, ok := b.net.Find(u.Device.ID + "." + pin)
	if !ok {
		return 0
	}
	return b.sys.Volts(n)
}
