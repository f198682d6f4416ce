package fault_test

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"testing"

	"doorwright/device"
	"doorwright/fault"
	"doorwright/wiring"
)

// bare is what every shell takes as one word without quotes.
var bare = regexp.MustCompile(`^[\pL\pN][\pL\pN:/.+@_,=-]*$`)

func TestEveryFaultIsComplete(t *testing.T) {
	for _, s := range sites(t) {
		t.Run(s.name, func(t *testing.T) {
			known := map[string]bool{}
			for _, door := range doorsOf(s.plan) {
				faults, attacks := fault.Of(s.plan, door), fault.Attacks(s.plan, door)
				inOrder(t, faults)
				inOrder(t, attacks)
				for _, f := range append(slices.Clone(faults), attacks...) {
					if f.Door != door || f.Name == "" || f.Where == "" || f.Repair == "" || len(f.Edits) == 0 || !bare.MatchString(f.ID) {
						t.Errorf("incomplete, or of another door than %q: %+v", door, f)
					}
					if len(f.At)+len(f.Of) == 0 || slices.Contains(f.At, nil) || slices.Contains(f.Of, nil) {
						t.Errorf("%s is about conductors %v and devices %v", f.ID, f.At, f.Of)
					}
				}
				for _, f := range faults {
					if known[f.ID] {
						t.Errorf("two faults %s", f.ID)
					}
					known[f.ID] = true
				}
			}
			if len(known) < 50 {
				t.Errorf("only %d faults", len(known))
			}
		})
	}
}

// inOrder holds a list against the order of the classes.
func inOrder(t *testing.T, all []fault.Fault) {
	t.Helper()
	last := 0
	for _, f := range all {
		class := slices.Index(fault.Classes(), f.Class)
		if class < last {
			t.Errorf("%s stands after class %s", f.ID, fault.Classes()[last])
		}
		last = class
	}
}

func TestEveryEditIsAboutSomethingThatExists(t *testing.T) {
	for _, s := range sites(t) {
		t.Run(s.name, func(t *testing.T) {
			nodes := nodesOf(s.plan)
			seen := map[fault.Op]int{}
			for _, door := range doorsOf(s.plan) {
				for _, f := range append(fault.Of(s.plan, door), fault.Attacks(s.plan, door)...) {
					for _, e := range f.Edits {
						seen[e.Op]++
						if wrong := wrongIn(s.plan, nodes, e); wrong != "" {
							t.Errorf("%s: %s: %+v", f.ID, wrong, e)
						}
					}
				}
			}
			for _, op := range []fault.Op{fault.Resist, fault.Join, fault.Gate, fault.Scale, fault.Force, fault.Configure} {
				if seen[op] == 0 {
					t.Errorf("no edit of kind %d", op)
				}
			}
		})
	}
}

// nodesOf are the nodes that conductors and parts end at.
func nodesOf(plan *wiring.Plan) map[string]bool {
	nodes := map[string]bool{device.Ground: true}
	for _, d := range plan.Devices {
		for _, p := range d.Model.Parts(&d.Settings) {
			nodes[at(d, p.A)], nodes[at(d, p.B)] = true, true
		}
	}
	for _, w := range plan.Conductors {
		if w.B.Device != nil {
			nodes[w.A.String()], nodes[w.B.String()] = true, true
		}
	}
	return nodes
}

// wrongIn says what is wrong with an edit; empty when nothing is.
func wrongIn(plan *wiring.Plan, nodes map[string]bool, e fault.Edit) string {
	switch e.Op {
	case fault.Resist:
		if !slices.Contains(plan.Conductors, e.Conductor) || e.Conductor.B.Device == nil || e.Ohms <= 0 {
			return "not a conductor of the circuit, or no resistance"
		}
	case fault.Join, fault.Inject:
		if !nodes[e.A] || !nodes[e.B] || e.A == e.B || e.Ohms <= 0 {
			return "not two nodes, or no resistance"
		}
		if e.Op == fault.Inject && (e.Volts <= 0 || e.Limit <= 0) {
			return "no supply"
		}
	case fault.Gate, fault.Scale:
		return wrongPart(e)
	case fault.Force:
		return wrongSignal(e)
	case fault.Configure:
		if e.Settings == nil || reflect.DeepEqual(*e.Settings, e.Device.Settings) {
			return "no other settings"
		}
		// Parts must stay: settings that change them are edits of parts.
		if !reflect.DeepEqual(e.Device.Model.Parts(e.Settings), e.Device.Model.Parts(&e.Device.Settings)) {
			return "settings that change the circuit"
		}
	}
	return ""
}

func wrongPart(e fault.Edit) string {
	for _, p := range e.Device.Model.Parts(&e.Device.Settings) {
		switch {
		case p.Name != e.Part:
		case e.Op == fault.Gate && len(p.When) == 0 && p.Is != device.PartDiode && p.Is != device.PartClamp:
			return "a part without a gate"
		case e.Op == fault.Scale && (e.Factor <= 0 || e.Factor == 1 || p.Ohms <= 0 && p.Volts <= 0 && p.Cells == 0):
			return "nothing to scale"
		default:
			return ""
		}
	}
	return "no such part"
}

func wrongSignal(e fault.Edit) string {
	m := e.Device.Model
	for _, s := range m.Senses() {
		if s.Signal == e.Signal {
			return "a signal that follows a voltage"
		}
	}
	signals := m.World()
	for _, p := range m.Ports {
		signals = append(signals, m.SignalOf(p.Key))
	}
	if k := device.KindOf(m.Kind); k != nil {
		signals = append(signals, k.Signals...)
	}
	if e.Signal == "" || !slices.Contains(signals, e.Signal) {
		return "no such signal"
	}
	return ""
}

func TestNoBridgeJoinsWhatIsJoinedAnyway(t *testing.T) {
	bridges := 0
	for _, s := range sites(t) {
		colour := copper(s.plan)
		for _, f := range everything(s.plan) {
			if !slices.Contains([]fault.Class{fault.Bridge, fault.Supplied, fault.Grounded, fault.Earthed, fault.Wet}, f.Class) {
				continue
			}
			for _, e := range f.Edits {
				bridges++
				if a, b := colour[e.A], colour[e.B]; a == b && a != 0 {
					t.Errorf("%s: %s joins %s and %s, which are one", s.name, f.ID, e.A, e.B)
				}
			}
		}
	}
	if bridges < 1000 {
		t.Errorf("only %d bridges", bridges)
	}
}

func TestEveryConductorOfADoorCanBeCutAndCanGoBad(t *testing.T) {
	conductors := 0
	for _, s := range sites(t) {
		known := map[string]bool{}
		for _, f := range everything(s.plan) {
			if len(f.Edits) == 1 && f.Edits[0].Op == fault.Resist {
				known[fmt.Sprint(f.Class, f.Door, f.Edits[0].Conductor.ID)] = true
			}
		}
		for _, w := range s.plan.Conductors {
			if w.B.Device == nil {
				continue
			}
			conductors++
			for _, class := range []fault.Class{fault.Open, fault.High} {
				if !known[fmt.Sprint(class, w.Door, w.ID)] {
					t.Errorf("%s: no fault %s for %s of door %q", s.name, class, w.ID, w.Door)
				}
			}
		}
	}
	if conductors < 500 {
		t.Errorf("only %d conductors", conductors)
	}
}

func TestSameInputGivesTheSameFaults(t *testing.T) {
	for _, s := range sites(t) {
		for _, door := range doorsOf(s.plan) {
			one, other := fault.Of(s.plan, door), fault.Of(s.plan, door)
			if !reflect.DeepEqual(one, other) {
				t.Errorf("%s: two catalogues of %q differ", s.name, door)
			}
			if !reflect.DeepEqual(fault.Attacks(s.plan, door), fault.Attacks(s.plan, door)) {
				t.Errorf("%s: two lists of attacks on %q differ", s.name, door)
			}
		}
	}
}

// An id means one thing, whether it is asked for as a fault or as an attack.
func TestSameIDMeansTheSameEdits(t *testing.T) {
	both := 0
	for _, s := range sites(t) {
		for _, door := range doorsOf(s.plan) {
			edits := map[string][]fault.Edit{}
			for _, f := range fault.Of(s.plan, door) {
				edits[f.ID] = f.Edits
			}
			for _, f := range fault.Attacks(s.plan, door) {
				if want, ok := edits[f.ID]; ok {
					both++
					if !reflect.DeepEqual(f.Edits, want) {
						t.Errorf("%s: %s is %+v in the catalogue and %+v as an attack", s.name, f.ID, want, f.Edits)
					}
				}
			}
		}
	}
	if both < 50 {
		t.Errorf("only %d attacks are faults of the catalogue", both)
	}
}

func TestCountsAddUp(t *testing.T) {
	for _, s := range sites(t) {
		all, sum, last := everything(s.plan), 0, -1
		for _, n := range fault.Counts(all) {
			sum += n.Faults
			if at := slices.Index(fault.Classes(), n.Class); at <= last || n.Faults == 0 {
				t.Errorf("%s: class %s with %d faults stands in the wrong place", s.name, n.Class, n.Faults)
			} else {
				last = at
			}
		}
		if sum != len(all) {
			t.Errorf("%s: counts add up to %d of %d faults", s.name, sum, len(all))
		}
	}
}
