package situation_test

import (
	"fmt"
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// Every conductor of the demo carries the effect that is seen without it: each is removed, and the effect looked for.
// One without an effect would be a conductor that nobody needs.
func TestEveryConductorIsMissedWhenItIsGone(t *testing.T) {
	seen, unmissed := missed(demoSite(t))
	for _, u := range unmissed {
		t.Error(u)
	}
	for _, effect := range []wiring.Effect{
		wiring.LockDead, wiring.UnitDead, wiring.InputWrong, wiring.DataLost, wiring.KickFree, wiring.BatteryAway,
		wiring.ZeroLoose, wiring.OutputAway, wiring.RelayDropped,
	} {
		if seen[effect] == 0 {
			t.Errorf("no conductor of the demo has the effect %q: it is tested on nothing", effect)
		}
	}
}

// Control: of two conductors side by side neither is missed.
func TestDoubledConductorIsNotMissed(t *testing.T) {
	plan := demoSite(t).Plan
	const doubled = "W2/1"
	for _, c := range plan.Conductors {
		if c.ID == doubled {
			twin := *c
			twin.ID = doubled + " again"
			plan.Conductors = append(plan.Conductors, &twin)
		}
	}
	_, unmissed := missed(situation.New(plan))
	if len(unmissed) != 2 {
		t.Errorf("not missed: %v, want the two of %s", unmissed, doubled)
	}
}

// missed removes each conductor and looks for its effect. It counts the effects that were seen and lists the conductors
// whose effect was not, or was there all along.
func missed(site *situation.Site) (seen map[wiring.Effect]int, unmissed []string) {
	seen = map[wiring.Effect]int{}
	for _, is := range site.Islands {
		e := newExaminer(is)
		for i := range is.Wires() {
			w := &is.Wires()[i]
			c := w.Conductor
			if c.Reason.Effect == wiring.ScreenLoose {
				continue // see TestEveryScreenIsEarthedOverItsConductors
			}
			look := e.looks()[c.Reason.Effect]
			if look == nil {
				unmissed = append(unmissed, fmt.Sprintf("%s (%s): nobody looks for %q", c.ID, c.Reason.Purpose, c.Reason.Effect))
				continue
			}
			if before := look(c); before != "" {
				unmissed = append(unmissed,
					fmt.Sprintf("%s (%s): %q is there before: %s", c.ID, c.Reason.Purpose, c.Reason.Effect, before))
			}
			e.without(w, func() {
				if look(c) == "" {
					unmissed = append(unmissed, fmt.Sprintf("%s (%s): without it, %q is not seen", c.ID, c.Reason.Purpose, c.Reason.Effect))
				}
			})
			seen[c.Reason.Effect]++
		}
	}
	return seen, unmissed
}

// The screens carry no current in a calculation; theirs is seen in the plan.
func TestEveryScreenIsEarthedOverItsConductors(t *testing.T) {
	plan, n := demoSite(t).Plan, 0
	for _, c := range plan.Conductors {
		if c.Reason.Effect != wiring.ScreenLoose {
			continue
		}
		n++
		if loose := looseScreens(plan); len(loose) > 0 {
			t.Fatalf("not earthed as planned: %v", loose)
		}
		if loose := looseScreens(plan.Without(c.ID)); len(loose) == 0 {
			t.Errorf("%s: without it every screen is still earthed", c.ID)
		}
	}
	if n < 8 {
		t.Errorf("only %d conductors of screens", n)
	}
}

// examiner looks for the effects of what is missing at one island.
type examiner struct {
	island *situation.Island
	bench  *situation.Bench
	idle   situation.State
	sound  symptoms // of the plan as it is
	cut    *wiring.Conductor
}

// symptoms is what can be seen of an island.
type symptoms struct {
	powered  map[string]bool // locks that get their powered duty while nothing happens or access is granted
	runs     map[string]bool // units, while nothing happens
	battery  map[string]bool // units, with mains lost
	alarmed  map[string]bool // units, with every door forced open
	readings map[string]string
	heard    map[string]bool
	lit      map[string]bool // lamps of readers after a card
	pulled   map[string]bool // relays, while nothing happens or access is granted
	zero     map[string]bool // supplies whose 0 V is at earth
	ends     map[string]unit.Ohm
}

func newExaminer(is *situation.Island) *examiner {
	e := &examiner{island: is, bench: is.Bench(situation.Nominal())}
	e.idle = e.bench.Save()
	e.sound = e.look(nil)
	return e
}

// without takes a conductor out for as long as f runs.
func (e *examiner) without(w *situation.Wire, f func()) {
	e.bench.Cut(w)
	idle := e.idle
	e.idle, e.cut = e.bench.Save(), w.Conductor
	f()
	e.bench.Uncut(w)
	e.idle, e.cut = idle, nil
	e.bench.Back(idle)
}

// looks lists, by effect, how it is seen: a text that names what changed, empty when nothing did.
func (e *examiner) looks() map[wiring.Effect]func(c *wiring.Conductor) string {
	lost := func(of func(symptoms) map[string]bool) func(*wiring.Conductor) string {
		return func(c *wiring.Conductor) string { return firstLost(of(e.sound), of(e.look(c))) }
	}
	return map[wiring.Effect]func(*wiring.Conductor) string{
		wiring.LockDead:     lost(func(s symptoms) map[string]bool { return s.powered }),
		wiring.UnitDead:     lost(func(s symptoms) map[string]bool { return s.runs }),
		wiring.BatteryAway:  lost(func(s symptoms) map[string]bool { return s.battery }),
		wiring.DataLost:     lost(func(s symptoms) map[string]bool { return s.heard }),
		wiring.RelayDropped: lost(func(s symptoms) map[string]bool { return s.pulled }),
		wiring.ZeroLoose:    lost(func(s symptoms) map[string]bool { return s.zero }),
		wiring.InputWrong: func(c *wiring.Conductor) string {
			got := e.look(c)
			for _, k := range sortedKeys(got.readings) {
				if got.readings[k] != e.sound.readings[k] {
					return k + " reads " + got.readings[k]
				}
			}
			return ""
		},
		wiring.OutputAway: func(c *wiring.Conductor) string {
			got := e.look(c)
			if l := firstLost(e.sound.alarmed, got.alarmed); l != "" {
				return l
			}
			return firstLost(e.sound.lit, got.lit)
		},
		wiring.LineEchoes: func(c *wiring.Conductor) string {
			got := e.look(c)
			for _, k := range sortedKeys(got.ends) {
				if was := e.sound.ends[k]; got.ends[k] > 1.2*was || got.ends[k] < was/1.2 {
					return fmt.Sprintf("%s: %v between the lines", k, got.ends[k])
				}
			}
			return ""
		},
		wiring.KickFree: func(*wiring.Conductor) string { return firstFree(e.island, e.cut) },
	}
}

func firstLost(before, after map[string]bool) string {
	for _, k := range sortedKeys(after) {
		if before[k] && !after[k] {
			return k
		}
	}
	return ""
}

func sortedKeys[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// look puts the island through what shows the effects, at the door of the conductor, or at all when it has none.
func (e *examiner) look(c *wiring.Conductor) symptoms {
	s := symptoms{
		powered: map[string]bool{}, runs: map[string]bool{}, battery: map[string]bool{}, alarmed: map[string]bool{},
		readings: map[string]string{}, heard: map[string]bool{}, lit: map[string]bool{}, pulled: map[string]bool{},
		zero: map[string]bool{}, ends: map[string]unit.Ohm{},
	}
	b := e.bench
	b.Back(e.idle)
	e.running(s.runs, "")
	e.relays(s.pulled)
	e.resistances(s)
	e.inputs(s.readings, "rest")
	for _, d := range e.island.Doors {
		if serves(c, d.ID) {
			b.Back(e.idle)
			e.locks(d, s.powered)
			e.door(d, s)
		}
	}
	e.actions(c, s)
	b.Back(e.idle)
	for _, ps := range e.island.Supplies {
		b.Take(situation.Step{Do: []situation.Action{{Device: ps.ID, Signal: "mains", On: false}}, Wait: 1})
	}
	e.running(s.battery, "")
	b.Back(e.idle)
	return s
}

// door shows a card at every reader of a door, and forces it open.
func (e *examiner) door(d *job.Door, s symptoms) {
	b := e.bench
	for _, r := range []*job.Reader{d.Entry, d.ExitReader} {
		if r == nil {
			continue
		}
		b.Back(e.idle)
		s.heard[r.ID] = b.Take(situation.Step{Show: r.ID}).Heard
		e.locks(d, s.powered)
		e.relays(s.pulled)
		reader := e.island.Unit(r.ID)
		for _, port := range r.Model.PortsOf(device.Input) {
			s.lit[r.ID+"."+port] = b.Reading(reader, port).Level == device.Closed
		}
	}
	b.Back(e.idle)
	var open []situation.Action
	for _, c := range d.Contacts {
		open = append(open, situation.Action{Device: c.ID, Signal: "door-closed", On: false})
	}
	b.Take(situation.Step{Do: open, Wait: 1})
	e.running(s.alarmed, d.ID)
}

// actions does to every unit of the door, one after another, all that the world can do to its contacts, and reads every
// input.
func (e *examiner) actions(c *wiring.Conductor, s symptoms) {
	for _, u := range e.island.Units {
		if u.Device.Door != "" && !serves(c, u.Device.Door) {
			continue
		}
		kind := device.KindOf(u.Device.Model.Kind)
		if kind == nil || u.Device.Role == job.RoleSupply || u.Device.Role == job.RoleBattery {
			continue
		}
		for _, signal := range kind.World {
			e.bench.Back(e.idle)
			on := e.bench.Signal(u, signal)
			e.bench.Take(situation.Step{Do: []situation.Action{{Device: u.Device.ID, Signal: signal, On: !on}}})
			e.inputs(s.readings, u.Device.ID+" "+signal)
		}
	}
}

// serves says that a conductor serves a door: its own, or all when it has none or none is asked about.
func serves(c *wiring.Conductor, door string) bool { return c == nil || c.Door == "" || c.Door == door }

// running enters which units run, of one door or of all.
func (e *examiner) running(into map[string]bool, door string) {
	for _, u := range e.island.Units {
		if door == "" || u.Device.Door == door {
			into[u.Device.ID] = e.bench.Runs(u)
		}
	}
}

func (e *examiner) locks(d *job.Door, into map[string]bool) {
	for _, l := range e.bench.Door(d).Locks {
		into[l.Lock.ID] = into[l.Lock.ID] || l.Power == situation.Powered
	}
}

func (e *examiner) relays(into map[string]bool) {
	for _, u := range e.island.Units {
		for _, port := range u.Device.Model.PortsOf(device.Coil) {
			into[u.Device.ID] = into[u.Device.ID] || e.bench.Signal(u, port)
		}
	}
}

func (e *examiner) inputs(into map[string]string, when string) {
	for _, u := range e.island.Units {
		for _, port := range u.Device.Model.PortsOf(device.Input) {
			into[when+": "+u.Device.ID+"."+port] = e.bench.Reading(u, port).Level.String()
		}
	}
}

// resistances looks where the 0 V of the supplies and the ends of the data pairs are.
func (e *examiner) resistances(s symptoms) {
	e.bench.Take(situation.Step{}) // resistances are those of the last solution
	for _, ps := range e.island.Supplies {
		u := e.island.Unit(ps.ID)
		out, earth := ps.Model.PortsOf(device.Source)[0], ps.Model.PortsOf(device.Earth)[0]
		s.zero[ps.ID] = e.bench.OhmsBetween(u, device.PinOf(out, "minus"), device.PinOf(earth, "earth")) < 1
	}
	for _, u := range e.island.Units {
		if u.Device.Role == job.RoleController {
			for _, port := range u.Device.Model.PortsOf(device.Bus) {
				s.ends[u.Device.ID] = e.bench.OhmsBetween(u, device.PinOf(port, "a"), device.PinOf(port, "b"))
			}
		}
	}
}

// arrangements is a job with what the demo has not: an interposing relay, a common 0 V, terminators as resistors, an exit
// device in the feed, several exit devices on one input, a sensor on another supply.
const arrangements = `job: A
title: Arrangements
rules: [uk-b]
places: {riser: {title: Riser}}
supplies:
  PS1: {model: supply-12-5, place: riser, battery: battery-12-17, zero-volt: earthed}
  PS2: {model: supply-24-5, place: riser, zero-volt: floating}
controllers:
  C1: {model: controller-1-12, place: interposed.box, feed: PS1}
  C2: {model: controller-1-12, place: bus.box, feed: PS1}
  C3: {model: controller-1-12, place: common.box, feed: PS1}
  C4: {model: controller-1-12, place: told.box, feed: PS1}
doors:
  interposed:
    title: Interposing relay
    escape: none
    fire-rated: no
    controller: C1
    locks: [{model: magnet-24-bare, feed: PS2}]
    interposing: relay-bare
    entry: reader-serial
    exit: [{model: exit-button-2, breaks-feed: true}]
    releases: [release-1]
  bus:
    title: Terminators as resistors
    escape: none
    fire-rated: no
    controller: C2
    locks: [strike-12-safe]
    entry: reader-plain
    exit-reader: reader-plain
    settings: {lock-output: energise-to-lock}
    exit: [exit-button, exit-button]
    supervision: single
  common:
    title: Reader on another supply
    escape: none
    fire-rated: no
    controller: C3
    leaves: 2
    locks: [strike-12-secure, {model: strike-12-secure, leaf: 2}]
    entry: {model: reader-pulse-wide, feed: PS2}
    exit: [{model: exit-sensor-24, feed: PS2}]
    contacts: [contact-surface, {model: contact-surface, leaf: 2}]
    sounder: sounder-12
  told:
    title: Handle and button
    escape: none
    fire-rated: no
    controller: C4
    locks: [handle-lock-12]
    loop: door-loop
    entry: reader-pulse
    exit: [exit-button]
    supervision: double
runs:
  W1: {from: riser, to: interposed.box, cable: 4x1.5, length: 9 m}
  W2: {from: riser, to: bus.box, cable: 4x1.5, length: 9 m}
  W3: {from: riser, to: common.box, cable: 2x2.5, length: 9 m}
  W4: {from: riser, to: common.box, cable: 12x0.22, length: 9 m}
  W5: {from: riser, to: told.box, cable: 4x1.5, length: 9 m}
models:
  relay-bare:
    kind: relay
    title: Relay without a suppressor
    strip:
      - {label: A1, pin: coil.plus}
      - {label: A2, pin: coil.minus}
      - {label: "11", pin: contact1.common}
      - {label: "12", pin: contact1.nc}
      - {label: "14", pin: contact1.no}
    ports:
      coil: {is: coil, nominal: 12 V, window: 10.2 V to 15 V, ohms: 270 ohm, tolerance: 0.1, pick-up: 9 V, drop-out: 1.2 V}
      contact1: {is: changeover, driven: coil, rating: 2 A, rated-volts: 30 V}
  reader-plain:
    kind: bus-reader
    title: Reader on a two-wire bus, no terminator
    strip:
      - {label: "+", pin: feed.plus}
      - {label: "-", pin: feed.minus}
      - {label: A, pin: data.a, cores: 2}
      - {label: B, pin: data.b, cores: 2}
    ports:
      feed: {is: load, use: feed, nominal: 12 V, window: 8 V to 30 V, watts: 1.4 W}
      data: {is: bus, speeds: [9600 baud]}
`

func TestEveryConductorOfTheArrangementsIsMissed(t *testing.T) {
	seen, unmissed := missed(siteOf(t, arrangements))
	for _, u := range unmissed {
		t.Error(u)
	}
	for _, effect := range []wiring.Effect{wiring.LineEchoes, wiring.RelayDropped, wiring.KickFree, wiring.DataLost, wiring.OutputAway} {
		if seen[effect] == 0 {
			t.Errorf("no conductor has the effect %q", effect)
		}
	}
}
