package proof

import (
	"fmt"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// judgeIsland judges what belongs to no single lock: contacts, outputs, supplies, units, cores.
func (w *watch) judgeIsland(s *scene) {
	for i := range w.contacts {
		w.judgeContact(s, &w.contacts[i])
	}
	for i := range w.outputs {
		w.judgeOutput(s, &w.outputs[i])
	}
	for i := range w.units {
		w.judgeUnit(s, &w.units[i])
	}
	for i := range w.sources {
		w.judgeSource(s, &w.sources[i])
	}
	for i := range w.is.Wires() {
		w.judgeWire(s, &w.is.Wires()[i])
	}
}

// judgeRest says whether the instant came to rest. What did not is told at the unit that kept it from resting.
func (w *watch) judgeRest(s *scene) {
	o := w.bench.Outcome()
	if o.Settled() {
		return
	}
	e := entry{req: reqSettles, where: w.is.Units[0].Device.ID, figure: 0, limit: 1, margin: -1}
	w.restless(&e, o)
	w.ledger.note(w.at(s, e))
}

// restless words an instant that did not come to rest, and says where.
func (w *watch) restless(e *entry, o situation.Outcome) {
	names := w.bench.Culprits()
	e.what = o.Circuit.Outcome.String()
	if len(o.Unsteady) > 0 {
		names, e.what = o.Unsteady, "it never comes to rest: something keeps moving"
	}
	if len(names) == 0 {
		return
	}
	e.where = names[0]
	e.what += ": " + names[0]
	for _, u := range w.is.Units {
		if names[0] == u.Device.ID || strings.HasPrefix(names[0], u.Device.ID+".") {
			e.door, e.subject.Device = u.Device.Door, u.Device.ID
		}
	}
}

func (w *watch) entryAt(p *situation.Probe, req *Requirement) entry {
	return entry{
		door: p.Unit.Device.Door, req: req, where: p.Unit.Device.ID + "." + p.PortName,
		subject: Subject{Device: p.Unit.Device.ID},
	}
}

func (w *watch) judgeContact(s *scene, p *situation.Probe) {
	if p.Port.Rating == 0 {
		return
	}
	amps := w.bench.Amps(p)
	margin := float64(p.Port.Rating - amps)
	if holds(margin) {
		return
	}
	e := w.entryAt(p, reqContact)
	e.figure, e.limit, e.margin, e.unit = float64(amps), float64(p.Port.Rating), margin, "A"
	e.what = fmt.Sprintf("the contact carries more than the %v it is rated for", p.Port.Rating)
	w.ledger.note(w.at(s, e))
}

func (w *watch) judgeOutput(s *scene, p *situation.Probe) {
	if p.Port.Fused() > 0 {
		w.judgeFuse(s, p)
		return
	}
	if p.Port.Limit == 0 {
		return
	}
	amps := w.bench.Amps(p)
	// An output that limits never gives more than its limit; it is beyond it as soon as it has to limit.
	limit := unit.Ampere(float64(p.Port.Limit) * limitingShare)
	if holds(float64(limit - amps)) {
		return
	}
	e := w.entryAt(p, reqOutput)
	e.figure, e.limit, e.margin, e.unit = float64(amps), float64(limit), float64(limit-amps), "A"
	e.what = fmt.Sprintf("the output is at its limit of %v", p.Port.Limit)
	w.ledger.note(w.at(s, e))
}

// judgeFuse tells a fuse that has opened, and one that carries more than it is rated for.
func (w *watch) judgeFuse(s *scene, p *situation.Probe) {
	amps, limit := w.bench.Amps(p), p.Port.Fused()
	e := w.entryAt(p, reqOutput)
	e.figure, e.limit, e.margin, e.unit = float64(amps), float64(limit), float64(limit-amps), "A"
	switch {
	case w.bench.HasBlown(p):
		e.margin = -float64(limit)
		e.what = fmt.Sprintf("the fuse of %v has opened: it had to carry twice that, or more", limit)
	case !holds(e.margin):
		e.what = fmt.Sprintf("more flows than the %v that the fuse is rated for", limit)
	default:
		return
	}
	w.ledger.note(w.at(s, e))
}

// limitingShare is the share of its limit from which an output counts as limiting: the model's limit sets in smoothly.
const limitingShare = 0.95

// judgeUnit holds the supply voltage of a unit against its window, while it must work: with mains, or on battery until
// it is at its end, and with nothing taken away.
func (w *watch) judgeUnit(s *scene, p *situation.Probe) {
	switch s.seq.cause.ID {
	case "unfed", "no-battery", "fire", "fire-silence", "fire-line", "fire-reset":
		return
	}
	if s.seq.with == withFire || p.Port.Window.IsZero() || p.Unit.Device.Role == job.RoleSounder {
		return // a board may have taken the power away on purpose; a sounder is silent
	}
	f := windowEntry(p.Port.Window, w.bench.Across(p))
	if holds(f.margin) {
		return
	}
	e := w.entryAt(p, reqUnitVoltage)
	e.figure, e.limit, e.margin, e.unit = f.figure, f.limit, f.margin, f.unit
	e.what = fmt.Sprintf("%s gets a voltage outside its window of %v", p.Unit.Device.ID, p.Port.Window) + w.becauseWrong(p.Unit.Device.ID, p.Port)
	if supply := w.supplies[p.Unit.Device.ID]; supply != nil && supply.Battery == nil && w.mainsLost(supply) {
		e.what = fmt.Sprintf("%s gets no voltage while mains is lost: %s has no battery", p.Unit.Device.ID, supply.ID)
	}
	w.ledger.note(w.at(s, e))
}

func (w *watch) mainsLost(s *job.Supply) bool {
	u := w.is.Unit(s.ID)
	return u != nil && !w.bench.Signal(u, "mains")
}

func (w *watch) judgeSource(s *scene, p *situation.Probe) {
	supply := w.supplyOf(p.Unit.Device)
	if supply == nil {
		return
	}
	amps, volts := w.bench.Amps(p), w.bench.Across(p)
	load := w.loads[supply.ID]
	if load == nil {
		load = &loadSeen{}
		w.loads[supply.ID] = load
	}
	if p.Port.Is == device.Battery {
		load.battery = max(load.battery, amps)
		return
	}
	if !w.bench.Signal(p.Unit, "mains") {
		return
	}
	if s.seq.cause.ID == "idle" && s.seq.with == "" {
		load.idle = amps
	}
	load.highest = max(load.highest, amps)
	if !load.any {
		load.volts, load.any = unit.Band[unit.Volt]{Low: volts, High: volts}, true
	}
	load.volts = load.volts.With(volts)
	w.judgeSupply(s, p, supply, amps)
}

// supplyReserve is the share of its rating at which a supply is run for long (common practice: 80 %).
const supplyReserve = 0.8

func (w *watch) judgeSupply(s *scene, p *situation.Probe, supply *job.Supply, amps unit.Ampere) {
	margin := float64(p.Port.Limit) - float64(amps)
	if amps >= unit.Ampere(float64(p.Port.Limit)*limitingShare) {
		margin = min(margin, float64(p.Port.Limit)*limitingShare-float64(amps)) - 1e-12
	}
	e := entry{
		req: reqOutput, where: supply.ID, figure: float64(amps), limit: float64(p.Port.Limit), margin: margin, unit: "A",
		subject: Subject{Supply: supply.ID, Device: supply.ID},
	}
	if !holds(e.margin) {
		e.what = fmt.Sprintf("%s has to give more than its limit of %v", supply.ID, p.Port.Limit)
		w.ledger.note(w.at(s, e))
	}
	reserve := float64(p.Port.Limit) * supplyReserve
	e.req, e.limit, e.margin = reqReserve, reserve, reserve-float64(amps)
	if s.seq.cause.ID == "idle" && !holds(e.margin) {
		e.what = fmt.Sprintf("%s gives more than %.0f %% of its limit of %v all day", supply.ID, supplyReserve*100, p.Port.Limit)
		w.ledger.note(w.at(s, e))
	}
}

func (w *watch) supplyOf(d *wiring.Device) *job.Supply {
	for _, s := range w.is.Supplies {
		if s.ID == d.ID {
			return s
		}
	}
	return nil
}

// judgeWire holds the current of a core against what its cross-section may carry.
func (w *watch) judgeWire(s *scene, wire *situation.Wire) {
	c := wire.Conductor
	if c.Kind != wiring.Core || c.Use != wiring.Power {
		return
	}
	amps, limit := w.bench.WireAmps(wire), coreLimit(c.Core.Conductor.Size.Area())
	if holds(float64(limit - amps)) {
		return
	}
	e := entry{req: reqCable, where: c.ID, figure: float64(amps), limit: float64(limit), margin: float64(limit - amps), unit: "A"}
	e.door = c.Door
	e.subject = Subject{Run: c.Run.ID}
	e.what = fmt.Sprintf("core %s carries more than the %v its %v may carry", c.ID, limit, c.Core.Conductor.Size)
	w.ledger.note(w.at(s, e))
}

// coreLimit is the current a core of an area in mm2 may carry: 3 A for 0.5, 6 A for 0.75, 10 A for 1.0, 16 A for 1.5,
// 25 A for 2.5 (flexible cords, IEC 60335-1 table 11, from memory); 4 A for each mm2 below 0.5 (common practice).
func coreLimit(area float64) unit.Ampere {
	for _, step := range []struct {
		area float64
		amps unit.Ampere
	}{{2.5, 25}, {1.5, 16}, {1.0, 10}, {0.75, 6}, {0.5, 3}} {
		if area >= step.area {
			return step.amps
		}
	}
	return unit.Ampere(4 * area)
}
