package meter

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// At takes a door with a fault in it, nil for none, to a condition: a bench of its own with everything in its network,
// slow and exact. A condition that this door does not know (no button, no such plug) is an error.
func At(site *situation.Site, door *job.Door, in Condition, f *fault.Fault) (*situation.Bench, error) {
	is := islandWith(site, door, f)
	steps, err := StepsTo(is, door, in)
	if err != nil {
		return nil, err
	}
	pulled, err := PulledBy(site.Plan, in)
	if err != nil {
		return nil, err
	}
	b := is.FaultyBench(situation.Nominal(), Under(f, in, pulled))
	for _, s := range steps {
		b.Take(s)
	}
	return b, nil
}

// islandWith is the island of a door, with what a fault joins to it.
func islandWith(site *situation.Site, door *job.Door, f *fault.Fault) *situation.Island {
	if f != nil {
		if wide := site.IslandOf(f); wide != nil {
			return wide
		}
	}
	return site.Island(door.Controller.ID)
}

// StepsTo are the steps that lead a door of an island from its undisturbed state to a condition, plugs apart.
func StepsTo(is *situation.Island, door *job.Door, in Condition) ([]situation.Step, error) {
	var steps []situation.Step
	switch in.Power {
	case Battery:
		steps = cause(is, nil, "mains")
	case Off:
		steps = append(steps, allOff(is))
	}
	if in.Act == Idle {
		return steps, nil
	}
	id := map[Act]string{Button: "exit", Card: "granted", Release: "release", DoorOpen: "forced", Fire: "fire"}[in.Act]
	act := cause(is, door, id)
	if act == nil || in.Dead() && act[len(act)-1].Do == nil {
		return nil, fmt.Errorf("%q cannot be done at door %s: it has nothing fitted for it", in, door.ID)
	}
	return append(steps, act...), nil
}

// PulledBy are the edits by which the plugs and devices of a condition come off their wires.
func PulledBy(plan *wiring.Plan, in Condition) ([]fault.Edit, error) {
	var edits []fault.Edit
	var wrong []error
	for _, p := range in.Plugs() {
		id, plug, _ := strings.Cut(p, "/")
		d := plan.Device(id)
		if d == nil || plug != "" && !hasPlug(d, plug) {
			wrong = append(wrong, fmt.Errorf("%q is neither a plug, such as C1/P3, nor a device of this job", p))
			continue
		}
		edits = append(edits, unplugged(d, plug)...)
	}
	if in.Alone != "" {
		d := plan.Device(in.Alone)
		if d == nil {
			wrong = append(wrong, fmt.Errorf("%q is not a device of this job", in.Alone))
		}
		for _, w := range plan.Conductors {
			if w.A.Device == d || w.B.Device == d {
				edits = append(edits, fault.Edit{Op: fault.Resist, Conductor: w, Ohms: circuit.OpenOhms})
			}
		}
	}
	if err := errors.Join(wrong...); err != nil {
		return nil, err
	}
	return edits, nil
}

func hasPlug(d *wiring.Device, plug string) bool {
	return slices.ContainsFunc(d.Model.Strip, func(t device.Terminal) bool { return t.Plug == plug })
}

// unplugged takes away every part of a device that stands behind a plug, or behind any of its terminals.
func unplugged(d *wiring.Device, plug string) []fault.Edit {
	on := func(pin string) bool {
		t := d.Model.Terminal(pin)
		return t != nil && (plug == "" || t.Plug == plug)
	}
	var edits []fault.Edit
	for _, p := range d.Model.Parts(&d.Settings) {
		if on(p.A) || on(p.B) {
			edits = append(edits, fault.Edit{Op: fault.Gate, Device: d, Part: p.Name})
		}
	}
	return edits
}

// Under is a fault as it stands with some plugs pulled: what is short or bridged inside a unit that is off its wires is
// off with it, and what is bridged in the wires of a unit that is read alone is not read. Nil for neither.
func Under(f *fault.Fault, in Condition, pulled []fault.Edit) *fault.Fault {
	if f == nil && len(pulled) == 0 {
		return nil
	}
	g := &fault.Fault{ID: "none"}
	if f != nil {
		*g = *f
	}
	g.Edits = nil
	if f != nil {
		for _, e := range f.Edits {
			if e.Op != fault.Join && e.Op != fault.Inject || stays(f, in) {
				g.Edits = append(g.Edits, e)
			}
		}
	}
	g.Edits = append(g.Edits, pulled...)
	return g
}

// stays says that what a fault joins is still joined where it is read.
func stays(f *fault.Fault, in Condition) bool {
	inside := f.Class == fault.Part || f.Class == fault.Source || f.Class == fault.Setting
	if in.Alone != "" {
		return inside && ofDevice(f, in.Alone) || f.Class == fault.Bridge && len(f.Of) == 1 && ofDevice(f, in.Alone)
	}
	if !inside {
		return true
	}
	for _, p := range in.Plugs() {
		id, plug, _ := strings.Cut(p, "/")
		if ofDevice(f, id) && (plug == "" || joinsAt(f, plug)) {
			return false
		}
	}
	return true
}

func ofDevice(f *fault.Fault, id string) bool {
	return len(f.Of) > 0 && f.Of[0].ID == id
}

// joinsAt says that what a fault joins ends at a plug of its device.
func joinsAt(f *fault.Fault, plug string) bool {
	d := f.Of[0]
	for _, e := range f.Edits {
		for _, node := range []string{e.A, e.B} {
			pin, ok := strings.CutPrefix(node, d.ID+".")
			if t := d.Model.Terminal(pin); ok && t != nil && t.Plug == plug {
				return true
			}
		}
	}
	return false
}

// allOff takes every source from an island.
func allOff(is *situation.Island) situation.Step {
	s := situation.Step{Say: "all sources off"}
	for _, ps := range is.Supplies {
		if ps.Battery != nil {
			s.Do = append(s.Do, situation.Action{Device: ps.Battery.ID, Signal: "connected", On: false})
		}
		s.Do = append(s.Do, situation.Action{Device: ps.ID, Signal: "mains", On: false})
	}
	return s
}

// cause gives the steps of a cause at a door up to the first that is watched; nil when it cannot happen.
func cause(is *situation.Island, d *job.Door, id string) []situation.Step {
	for _, c := range situation.Causes() {
		if c.ID != id {
			continue
		}
		steps := c.Steps(is, d)
		for i, step := range steps {
			if step.Watched {
				return steps[:i+1]
			}
		}
	}
	return nil
}
