package record

import (
	"slices"

	"doorwright/device"
	"doorwright/proof"
)

// Test is the last test of a step at a door; nil when there is none.
func (r *Record) Test(door, step string) *Test {
	for i := range slices.Backward(r.Tested) {
		if r.Tested[i].Door == door && r.Tested[i].Step == step {
			return &r.Tested[i]
		}
	}
	return nil
}

// Reason is an earlier entry of a test that has failed which says why, where the last one says nothing; nil when there is none, or
// the test was passed in between.
func (r *Record) Reason(door, step string) *Test {
	last := true
	for i := range slices.Backward(r.Tested) {
		t := &r.Tested[i]
		if t.Door != door || t.Step != step {
			continue
		}
		says := t.Result+t.Note != ""
		switch {
		case t.Outcome != "fail" || last && says:
			return nil
		case says:
			return t
		}
		last = false
	}
	return nil
}

// LandedAt says who landed the cores at a terminal, and when; nil when nobody did.
func (r *Record) LandedAt(id string, t device.Terminal) *Act {
	for i := range slices.Backward(r.Landed) {
		l := &r.Landed[i]
		if l.Device == id && (slices.Contains(l.Terminals, t.Label) || slices.Contains(l.Terminals, t.Pin)) {
			return &r.Landed[i].Act
		}
	}
	return nil
}

// Battery says who fitted a battery, and when; nil when nobody did.
func (r *Record) Battery(device string) *Act {
	for i := range slices.Backward(r.Fitted) {
		if r.Fitted[i].Device == device {
			return &r.Fitted[i].Act
		}
	}
	return nil
}

// Accepted is the acceptance of a finding: of what its requirement breaks at its door or its supply; nil when there is none.
func (r *Record) Accepted(f proof.Finding) *Acceptance {
	for i := range slices.Backward(r.Accepts) {
		a := &r.Accepts[i]
		if a.Door == f.Door && a.Finding == f.Requirement && (a.Supply == "" || a.Supply == f.Subject.Supply) {
			return a
		}
	}
	return nil
}

// Name is the name of a person by initials.
func (r *Record) Name(id string) string {
	if p, ok := r.People.Get(id); ok {
		return p.Name
	}
	return id
}

// HandedAt is the last handover of a door; nil when nobody has taken it over.
func (r *Record) HandedAt(door string) *Handover {
	for i := range slices.Backward(r.Handed) {
		if r.Handed[i].Door == door {
			return &r.Handed[i]
		}
	}
	return nil
}

// Said is the outcome of the test in words.
func (t *Test) Said() string {
	switch t.Outcome {
	case "pass":
		return "passed"
	case "fail":
		return "failed"
	}
	return "does not apply"
}

// Counts says whether the outcome of a test stands for it: passed, and witnessed where it bears on life, or judged not
// to apply.
func (t *Test) Counts(s Step) bool {
	return t != nil && (t.Outcome == "not-applicable" || t.Outcome == "pass" && (!s.Life || t.Witness != ""))
}
