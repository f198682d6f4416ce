package proof

import (
	"doorwright/device"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/unit"
)

// watch takes one island through every sequence in one limit case and notes what it sees. It is used by one goroutine.
type watch struct {
	is       *situation.Island
	bench    *situation.Bench
	near     *job.Door // the one door whose conductors are cut; nil for all
	families map[*job.Door]rules.Family
	ledger   *ledger
	rows     map[rowKey]*rowSeen
	loads    map[string]*loadSeen // by supply
	contacts []situation.Probe
	outputs  []situation.Probe
	units    []situation.Probe
	sources  []situation.Probe
	inputs   map[*job.Door][]doorInput
	supplies map[string]*job.Supply // by device
	spare    []*situation.State
	order    int
	solved   int
	seen     int
	unrest   bool // some instant did not come to rest
}

// watchesOf are the watches that saw a door or a supply, by its id, in their order.
func watchesOf(all []*watch) map[string][]*watch {
	of := map[string][]*watch{}
	for _, w := range all {
		for _, d := range w.is.Doors {
			of[d.ID] = append(of[d.ID], w)
		}
		for _, s := range w.is.Supplies {
			of[s.ID] = append(of[s.ID], w)
		}
	}
	return of
}

// rowKey is one row of a door's matrix.
type rowKey struct {
	door        string // id
	cause, with string
}

// rowSeen is what a row came to in one limit case.
type rowSeen struct {
	step    string
	effects []situation.Effect // one after another, watched step by watched step, equal ones once
	volts   unit.Volt
	amps    unit.Ampere
	alarm   string

	restless bool // some instant did not come to rest
}

// loadSeen is what a supply gave in one limit case.
type loadSeen struct {
	idle, highest, battery unit.Ampere
	volts                  unit.Band[unit.Volt]
	any                    bool
	items                  []LoadItem
}

// scene is one watched instant.
type scene struct {
	seq   *sequence
	step  *situation.Step
	shows situation.Shows
	shown bool // a card was shown in this or an earlier step of the sequence, with what came of it in shows
}

func newWatch(is *situation.Island, c situation.Case, families map[*job.Door]rules.Family) *watch {
	w := &watch{
		is: is, families: families, ledger: newLedger(), rows: map[rowKey]*rowSeen{},
		loads: map[string]*loadSeen{}, inputs: map[*job.Door][]doorInput{},
	}
	w.bench = is.Bench(c)
	w.supplies = supplyByDevice(is)
	w.contacts = is.Probes(device.Contact, device.Changeover)
	w.outputs = is.Probes(device.Output, device.Fuse)
	w.units = is.Probes(device.Load)
	w.sources = is.Probes(device.Source, device.Battery)
	for _, d := range is.Doors {
		w.inputs[d] = doorInputs(is, d)
	}
	return w
}

// run takes the island through all sequences, once.
func (w *watch) run(all []sequence) {
	idle := w.bench.Save()
	w.seen += len(all)
	w.follow(courseOf(all), all, scene{})
	w.order = len(all)
	w.bench.Back(idle)
	for _, s := range w.is.Supplies {
		if seen := w.loads[s.ID]; seen != nil {
			seen.items = w.items(s)
		}
	}
	w.cuts(idle)
	// What was seen is kept for as long as the island may come again, and is a tenth of what it was seen on.
	w.bench, w.contacts, w.outputs, w.units, w.sources, w.inputs, w.spare = nil, nil, nil, nil, nil, nil, nil
}

// follow takes the island on from where a course has led, each way that goes on from there.
func (w *watch) follow(c *course, all []sequence, so scene) {
	var here *situation.State
	if len(c.next) > 1 {
		here = w.save()
	}
	for i, n := range c.next {
		if i > 0 {
			w.bench.Back(*here)
		}
		s := so
		shows := w.bench.Take(*n.step)
		if n.step.Show != "" {
			s.shows, s.shown = shows, true
		}
		w.solved++
		for _, at := range n.here {
			w.order = at.sequence + 1
			s.seq, s.step = &all[at.sequence], &all[at.sequence].steps[at.step]
			w.observe(&s)
		}
		w.follow(n, all, s)
	}
	if here != nil {
		w.spare = append(w.spare, here)
	}
}

// save saves the present instant, in memory that nobody uses any more.
func (w *watch) save() *situation.State {
	s := &situation.State{}
	if n := len(w.spare); n > 0 {
		s, w.spare = w.spare[n-1], w.spare[:n-1]
	}
	w.bench.SaveTo(s)
	return s
}

// observe judges one instant. Of one that did not come to rest only that is noted: its voltages mean nothing.
func (w *watch) observe(s *scene) {
	w.judgeRest(s)
	if !w.bench.Outcome().Settled() {
		w.unrest = true
		for _, d := range w.is.Doors {
			if r := w.rowOf(s, d); r != nil {
				r.restless = true
			}
		}
		return
	}
	w.judgeIsland(s)
	for _, d := range w.is.Doors {
		state := w.bench.Door(d)
		w.judgeDoor(s, d, &state)
		w.row(s, d, &state)
	}
}

// row keeps the state of a door for its matrix.
func (w *watch) row(s *scene, d *job.Door, state *situation.DoorState) {
	r := w.rowOf(s, d)
	if r == nil {
		return
	}
	if n := len(r.effects); n == 0 || r.effects[n-1] != state.Effect {
		r.effects = append(r.effects, state.Effect)
	}
	if alarm := alarmOf(state.Memory); alarm != "" {
		r.alarm = alarm
	}
	if len(state.Locks) > 0 {
		r.volts, r.amps = state.Locks[0].Volts, state.Locks[0].Amps
	}
}

// rowOf is the row of a door that an instant belongs to; nil where it is none of this door.
func (w *watch) rowOf(s *scene, d *job.Door) *rowSeen {
	if s.seq.door != nil && s.seq.door != d || s.seq.with == withRelease && s.seq.at != d {
		return nil
	}
	key := rowKey{d.ID, s.seq.cause.ID, s.seq.with}
	r := w.rows[key]
	if r == nil {
		r = &rowSeen{}
		w.rows[key] = r
	}
	r.step = s.step.Say
	return r
}

func alarmOf(m device.ChannelMemory) string {
	switch {
	case m.Forced:
		return "forced open"
	case m.Held:
		return "held open"
	case m.Tamper:
		return "line fault"
	}
	return ""
}

// at fills an entry with the scene it was seen in.
func (w *watch) at(s *scene, e entry) entry {
	title := s.seq.cause.TitleAt(w.is)
	e.cause = title
	switch s.seq.with {
	case withFire:
		e.cause += ", with a fire signal"
	case withRelease:
		e.cause += ", with the manual release operated"
	}
	if s.step.Say != title {
		e.cause += ": " + s.step.Say
	}
	e.limcase = w.bench.Case.Name
	e.idle = s.seq.cause.ID == "idle" && s.seq.with == ""
	e.order = w.order
	return e
}
