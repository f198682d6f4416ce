package meter

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// Book knows everything that can be read at one door: the conditions, the pairs of terminals in reach in each, and what
// a sound door shows there. Rows give the same for a door with a fault. A Book is read-only once made and may be shared.
type Book struct {
	Door  *job.Door
	Meter Meter
	Pairs []Pair // grouped by condition
	Stops []Stop
	Sound *Row
	Knobs *situation.Knobs

	site    *situation.Site
	island  *situation.Island
	extra   []Pair
	outputs []situation.Probe
	at      []taps             // of each pair
	stopOf  []int              // of each pair
	across  []bool             // of each pair: between two circuits
	dead    []*deadStop        // of each stop; nil for those with power
	calls   [][]situation.Step // of each stop with power, in their order
	called  []int              // the stop of each
}

// Plan is the wiring plan that the book is of.
func (b *Book) Plan() *wiring.Plan { return b.site.Plan }

// Stop is one condition, with its pairs.
type Stop struct {
	In       Condition
	From, To int // pairs From to To-1
	steps    []situation.Step
	pulled   []fault.Edit
}

type taps struct{ at, to situation.Tap }

// Basis is what a book is made on beside the plan.
type Basis struct {
	Loops   []Loop // measured loop resistances of runs, in place of their lengths
	Extra   []Pair // read on top of the usual pairs
	AsFound bool   // nobody planned this door: lengths are guesses
}

// NewBook makes the book of a door.
func NewBook(site *situation.Site, door *job.Door, m Meter, on Basis) (*Book, error) {
	b := &Book{Door: door, Meter: m, site: site, island: site.Island(door.Controller.ID)}
	measured, err := b.measured(on.Loops)
	if err != nil {
		return nil, err
	}
	b.Knobs = b.island.Knobs(measured, on.AsFound)
	b.outputs = b.island.Probes(device.Output)
	b.plan(on.Extra)
	for _, p := range on.Extra {
		if err := b.Charged(p); err != nil {
			return nil, err
		}
		if b.Index(p) < 0 {
			return nil, fmt.Errorf("%s against %s cannot be read %q at door %s", p.At, p.To, p.In, door.ID)
		}
	}
	b.open()
	b.Sound = b.Rows([]*fault.Fault{nil})[0]
	return b, nil
}

// measured notes which runs are known by measurement.
func (b *Book) measured(loops []Loop) (map[*job.Run]bool, error) {
	known := map[*job.Run]bool{}
	for _, l := range loops {
		run, err := RunOf(b.site.Plan.Job, l.Run)
		if err != nil {
			return nil, err
		}
		known[run] = true
	}
	return known, nil
}

// plan lists the conditions and pairs.
func (b *Book) plan(extra []Pair) {
	b.extra = extra
	wide := b.widePairs()
	live := slices.DeleteFunc(append(slices.Clone(wide), b.acrossCircuits(wide)...), b.charged)
	for _, power := range []Power{On, Battery, Off} {
		for _, act := range Acts() {
			if power == Battery && act != Idle || power == Off && (act == Card || act == Fire && !b.hasFire()) {
				continue
			}
			pairs := wide
			if power == On {
				pairs = live
			}
			b.stop(Condition{Power: power, Act: act}, pairs)
		}
	}
	for _, u := range b.units() {
		b.plugStops(u)
	}
	for _, p := range extra {
		if b.Stop(p.In) < 0 {
			b.stop(p.In, nil)
		}
	}
}

// Stop is the place of a condition among the stops, -1 when the door does not know it.
func (b *Book) Stop(in Condition) int {
	return slices.IndexFunc(b.Stops, func(s Stop) bool { return s.In == in })
}

// StopOf is the place of the stop that a pair belongs to.
func (b *Book) StopOf(pair int) int { return b.stopOf[pair] }

// Across says that a pair is between two circuits at one place. Such a reading clears or suspects both at once; it says less to
// people than one of each, and no checklist has it.
func (b *Book) Across(pair int) bool { return b.across[pair] }

// Index is the place of a pair, -1 when it is none of the book.
func (b *Book) Index(p Pair) int {
	i := b.Stop(p.In)
	if i < 0 {
		return -1
	}
	for k := b.Stops[i].From; k < b.Stops[i].To; k++ {
		if b.Pairs[k] == p {
			return k
		}
	}
	return -1
}

// Misfit says what keeps the door from being brought into a condition: nothing to operate, no such plug or device. The zero
// condition, one that could not be read, is not judged.
func (b *Book) Misfit(in Condition) error {
	if in == (Condition{}) {
		return nil
	}
	_, undone := StepsTo(b.island, b.Door, in)
	_, unknown := PulledBy(b.site.Plan, in)
	return errors.Join(undone, unknown)
}

// Ends are the node names of two terminals that are named by device and pin, or by device and the text beside the screw; what
// is wrong with either is told of both.
// Where a unit has the same text at several screws, those that belong together are meant: of one port, else of one plug.
func (b *Book) Ends(at, to string) (red, black string, err error) {
	from, wrong := named(b.site.Plan, at)
	against, wrongToo := named(b.site.Plan, to)
	if err := errors.Join(wrong, wrongToo); err != nil {
		return "", "", err
	}
	best := -1
	for _, x := range from {
		for _, y := range against {
			if c := closeness(x, y); c > best && x != y {
				best, red, black = c, x.String(), y.String()
			}
		}
	}
	if best < 0 {
		return "", "", fmt.Errorf("%q and %q are one terminal; a meter has two leads", at, to)
	}
	return red, black, nil
}

// closeness is how much two terminals belong together.
func closeness(x, y wiring.End) int {
	if x.Device != y.Device {
		return 0
	}
	one, _ := device.SplitPin(x.Pin)
	other, _ := device.SplitPin(y.Pin)
	switch {
	case one == other:
		return 2
	case x.Device.Model.Terminal(x.Pin).Plug == y.Device.Model.Terminal(y.Pin).Plug:
		return 1
	}
	return 0
}

// named are the terminals of a plan that a name may mean.
func named(plan *wiring.Plan, text string) ([]wiring.End, error) {
	for _, d := range plan.Devices {
		pin, ok := strings.CutPrefix(text, d.ID+".")
		if ok && d.Model.Terminal(pin) != nil {
			return []wiring.End{{Device: d, Pin: pin}}, nil
		}
		label, ok := strings.CutPrefix(text, d.ID+" ")
		if !ok {
			continue
		}
		var found []wiring.End
		var known []string
		for _, t := range d.Model.Strip {
			if t.Label == label {
				found = append(found, wiring.End{Device: d, Pin: t.Pin})
			}
			known = append(known, t.Label)
		}
		if len(found) == 0 {
			return nil, fmt.Errorf("%s has no terminal %q; it has %s", d.ID, label, strings.Join(known, ", "))
		}
		return found, nil
	}
	return nil, fmt.Errorf("%q is no terminal of this job; write device and label, such as %q", text, "C1 NC1")
}

func (b *Book) hasFire() bool { return b.Door.Fire != nil }

// stop enters a condition with its pairs, when the door knows it.
func (b *Book) stop(in Condition, ends []ends) {
	steps, err := StepsTo(b.island, b.Door, in)
	if err != nil {
		return
	}
	pulled, err := PulledBy(b.site.Plan, in)
	if err != nil {
		return
	}
	s := Stop{In: in, From: len(b.Pairs), steps: steps, pulled: pulled}
	for _, e := range ends {
		q := Volts
		if in.Dead() {
			if e.powered {
				continue
			}
			q = Ohms
		}
		b.Pairs, b.across = append(b.Pairs, Pair{e.at, e.to, in, q}), append(b.across, e.across)
		if in.Dead() && e.junction {
			b.Pairs, b.across = append(b.Pairs, Pair{e.at, e.to, in, Diode}), append(b.across, e.across)
		}
	}
	for _, p := range b.extra {
		if p.In == in && !slices.Contains(b.Pairs[s.From:], p) {
			b.Pairs, b.across = append(b.Pairs, p), append(b.across, false)
		}
	}
	s.To = len(b.Pairs)
	if s.To > s.From {
		b.Stops = append(b.Stops, s)
	}
}

// plugStops are the conditions in which a plug of a unit, or the unit itself, is off its wires.
func (b *Book) plugStops(u *wiring.Device) {
	acts := b.actsAt(u)
	plugs := plugsOf(u)
	for _, plug := range plugs {
		on := b.pairsOf(u, plug)
		for _, act := range acts {
			b.stop(Condition{Power: Off, Act: act, Pulled: u.ID + "/" + plug}, on)
		}
	}
	if len(plugs) > 0 || u.Role == job.RoleSupply || u.Role == job.RoleBattery {
		return // what has plugs is read plug by plug; a supply is not taken out to be measured
	}
	on := b.pairsOf(u, "")
	for i := range on {
		on[i].powered = false // off its wires
	}
	for _, act := range acts {
		b.stop(Condition{Power: Off, Act: act, Pulled: u.ID}, on)
		b.stop(Condition{Power: Off, Act: act, Alone: u.ID}, on)
	}
}

// actsAt are the acts that move a contact of a unit, or one that hangs on its inputs.
func (b *Book) actsAt(u *wiring.Device) []Act {
	acts := []Act{Idle}
	switch u.Role {
	case job.RoleController:
		acts = append(acts, Button, Release, DoorOpen)
	case job.RoleExit:
		acts = append(acts, Button)
	case job.RoleRelease:
		acts = append(acts, Release)
	case job.RoleContact:
		acts = append(acts, DoorOpen)
	}
	return acts
}

func plugsOf(u *wiring.Device) []string {
	var all []string
	for _, t := range u.Model.Strip {
		if t.Plug != "" && !slices.Contains(all, t.Plug) {
			all = append(all, t.Plug)
		}
	}
	return all
}

// units are those whose terminals are read at the door: its own, its controller, and the supplies and boards before it.
func (b *Book) units() []*wiring.Device {
	var all []*wiring.Device
	for _, d := range b.site.Plan.Devices {
		if d.Door == b.Door.ID || d.ID == b.Door.Controller.ID || d.Door == "" && b.feeds(d) {
			all = append(all, d)
		}
	}
	return all
}

// feeds says that a unit is a supply of the door, or belongs to one.
func (b *Book) feeds(d *wiring.Device) bool {
	for _, s := range b.Door.Supplies() {
		if d.ID == s.ID || s.Battery != nil && d.ID == s.Battery.ID || s.Board != nil && d.ID == s.Board.ID ||
			s.Fire != nil && d.ID == s.Fire.ID {
			return true
		}
	}
	return b.Door.Fire != nil && d.ID == b.Door.Fire.ID
}

// ends are two terminals to read between.
type ends struct {
	at, to   string
	powered  bool // across what is electronics or a source: no ohms while it is on its wires
	junction bool // a diode may stand across
	across   bool // of two circuits
}

// widePairs are the pairs that can be read with everything on its wires.
func (b *Book) widePairs() []ends {
	var all []ends
	for _, u := range b.units() {
		for _, e := range b.pairsOf(u, "") {
			if !slices.ContainsFunc(all, func(x ends) bool { return x.at == e.at && x.to == e.to }) {
				all = append(all, e)
			}
		}
	}
	return append(all, b.againstZero(all)...)
}

// pairsOf are the pairs of pins of the ports of a unit, of one plug or, with an empty one, of all, that have something
// landed on them.
func (b *Book) pairsOf(u *wiring.Device, plug string) []ends {
	var all []ends
	for _, e := range u.Model.Ports {
		all = append(all, b.ofPort(u, e.Key, plug)...)
	}
	return all
}

// ofPort are the same of one port.
func (b *Book) ofPort(u *wiring.Device, key, plug string) []ends {
	p := u.Model.Port(key)
	if p.Channel != 0 && p.Channel != b.Door.Channel && u.ID == b.Door.Controller.ID {
		return nil
	}
	var all []ends
	for _, pins := range readAcross(p.Is, p.Ways) {
		at, to := u.Model.Reach(device.PinOf(key, pins[0])), u.Model.Reach(device.PinOf(key, pins[1]))
		if at == nil || to == nil || at == to || plug != "" && (at.Plug != plug || to.Plug != plug) {
			continue
		}
		if !b.landed(u, at.Pin) && !b.landed(u, to.Pin) {
			continue
		}
		all = append(all, ends{
			at: nodeName(u, at.Pin), to: nodeName(u, to.Pin), powered: isPowered(p.Is),
			junction: p.Is == device.Diode || p.Suppressor == "diode",
		})
	}
	return all
}

func nodeName(d *wiring.Device, pin string) string { return wiring.End{Device: d, Pin: pin}.String() }

func isPowered(is device.PortType) bool {
	switch is {
	case device.Load, device.Source, device.Battery, device.Output:
		return true
	}
	return false
}

// readAcross are the pins of a port between which it is read.
func readAcross(is device.PortType, ways int) [][2]string {
	switch is {
	case device.Load, device.LockCoil, device.Coil, device.Source, device.Battery, device.Output:
		return [][2]string{{"plus", "minus"}}
	case device.Contact, device.Resistor, device.Clamp, device.Fuse:
		return [][2]string{{"a", "b"}}
	case device.Diode:
		return [][2]string{{"anode", "cathode"}}
	case device.Changeover:
		return [][2]string{{"common", "nc"}, {"common", "no"}}
	case device.Input:
		return [][2]string{{"in", "common"}}
	case device.PulseIn, device.PulseOut:
		return [][2]string{{"d0", "common"}, {"d1", "common"}}
	case device.SerialPort:
		return [][2]string{{"tx", "common"}, {"rx", "common"}}
	case device.Bus:
		return [][2]string{{"a", "b"}, {"a", "common"}, {"b", "common"}}
	case device.Through:
		var all [][2]string
		for i := 1; i <= ways; i++ {
			all = append(all, [2]string{fmt.Sprintf("%da", i), fmt.Sprintf("%db", i)})
		}
		return all
	}
	return nil
}

func (b *Book) landed(u *wiring.Device, pin string) bool {
	return slices.ContainsFunc(b.site.Plan.Conductors, func(w *wiring.Conductor) bool {
		return w.A.Device == u && w.A.Pin == pin || w.B.Device == u && w.B.Pin == pin
	})
}

// againstZero are all terminals of the door with a core on them, each against the terminal at the same place that stands
// nearest to 0 V.
func (b *Book) againstZero(known []ends) []ends {
	bench := b.island.Bench(situation.Nominal())
	zero := map[*job.Place]string{}
	lowest := map[*job.Place]float64{}
	var terminals []wiring.End
	for _, u := range b.units() {
		for _, t := range u.Model.Strip {
			e := wiring.End{Device: u, Pin: t.Pin}
			if !b.landed(u, t.Pin) || b.ofOther(u, t.Pin) {
				continue
			}
			terminals = append(terminals, e)
			tap := bench.Tap(e.String())
			if !mayBeZero(u, t.Pin) || bench.Ohms(tap, bench.Tap(device.Ground)) > zeroBehind && !b.floats() {
				continue
			}
			v := float64(bench.Between(tap, bench.Tap(device.Ground)))
			if old, ok := lowest[u.Place]; !ok || v < old-0.2 {
				lowest[u.Place], zero[u.Place] = v, e.String()
			}
		}
	}
	var all []ends
	for _, e := range terminals {
		to := zero[e.Device.Place]
		name := e.String()
		if to == "" || to == name || b.Label(to) == b.Label(name) {
			continue
		}
		x := ends{at: name, to: to}
		if port, _ := device.SplitPin(e.Pin); e.Device.Model.Port(port) != nil {
			x.powered = isPowered(e.Device.Model.Port(port).Is)
		}
		if !slices.ContainsFunc(known, func(k ends) bool { return k.at == x.at && k.to == x.to }) {
			all = append(all, x)
		}
	}
	return all
}

// mayBeZero says that a terminal is where people look for 0 V: the minus or common of what takes or gives power or reads.
func mayBeZero(u *wiring.Device, pin string) bool {
	port, name := device.SplitPin(pin)
	p := u.Model.Port(port)
	return p != nil && (name == "minus" || name == "common") && p.Is != device.Changeover && p.Is != device.Coil
}

// zeroBehind is the most that may stand between a terminal and earth for it to serve as 0 V.
const zeroBehind = 100e3

// floats says that no supply of the door has its 0 V earthed.
func (b *Book) floats() bool {
	for _, s := range b.Door.Supplies() {
		if s.Earthed {
			return false
		}
	}
	return true
}

// ofOther says that a terminal of a shared controller belongs to another door.
func (b *Book) ofOther(u *wiring.Device, pin string) bool {
	port, _ := device.SplitPin(pin)
	p := u.Model.Port(port)
	return u.Door == "" && p != nil && p.Channel != 0 && p.Channel != b.Door.Channel && u.ID == b.Door.Controller.ID
}
