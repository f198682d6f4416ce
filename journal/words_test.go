package journal

import (
	"strings"
	"testing"

	"doorwright/mend"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/unit"
)

func ohms(v unit.Ohm) record.Value { return record.Value{Quantity: meter.Ohms, Ohms: v} }

// Each end of every core of the demo is told by its label, and a job whose document has mistakes by its pins.
func TestEntriesAreToldByLabels(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater())
	plan := planOf(t, j.State().Job("BTO").Document)
	teller := NewTeller(j.State())
	for _, c := range plan.Conductors {
		if c.B.Device == nil {
			continue
		}
		core := CoreOf(c)
		got := teller.Words(&Entry{Body: Ticked{Job: "BTO", Core: core, End: c.B.String()}})
		want := "landed: " + core.Name() + " from " + c.A.Name() + " to " + c.B.Name() + ", at " + c.B.Name()
		if got != strings.Join(strings.Fields(want), " ") {
			t.Errorf("%q, want %q", got, want)
		}
	}
	tick := Ticked{Job: "X", Core: Core{ID: "W1/1", Colour: "red", A: "C1", ATo: "lock1.common", B: "PS1", BTo: "dc.plus"}, End: "PS1.dc.plus"}
	if got := teller.Words(&Entry{Body: tick}); got != "landed: W1/1 red from C1 lock1.common to PS1 dc.plus, at PS1 dc.plus" {
		t.Errorf("%q", got)
	}
	for _, x := range []struct {
		body Body
		want string
	}{
		{Stopped{Job: "BTO", Door: "staff", Page: "/find"}, "works at staff: Find a fault"},
		{Sighted{Job: "BTO", Sight: record.Sight{Door: "staff", What: "lock holds; battery; no"}}, "seen at staff: lock holds: no (on battery, mains off, nothing operated)"},
		{Sighted{Job: "BTO", Sight: record.Sight{Door: "staff", What: "rust at the closer"}}, "seen at staff: rust at the closer"},
		{Accepted{Job: "BTO", Acceptance: record.Acceptance{Finding: mend.RequirementStandby, Reason: "as before"}}, "accepted: Standby long enough, because as before"},
		{Measured{Job: "BTO", Reading: record.Reading{Device: "C2", Red: "lock1.common", Black: "PS1.out.minus", Condition: "off, release", Shows: ohms(0.9)}}, "measured 0.9 ohm between C2 C1 and PS1 -, everything off, manual release operated"},
		{Measured{Job: "BTO", Reading: record.Reading{Device: "W2", Red: "red", Black: "black", Condition: record.FirstFix, Shows: ohms(1.25)}}, "measured 1.25 ohm at W2, loop of red and black, first fix"},
		{Measured{Job: "BTO", Reading: record.Reading{Device: "W2", Red: "insulation", Condition: record.FirstFix, Shows: ohms(2.2e6)}}, "measured 2.2 Mohm at W2, insulation, first fix"},
		{Measured{Job: "X", Reading: record.Reading{Device: "C2", Red: "feed.plus", Condition: "idle", Shows: record.Value{Quantity: meter.Amps, Amps: 0.2}}}, "measured 200 mA in line with feed.plus at C2, powered, nothing operated"},
		{Tested{Job: "BTO", Test: record.Test{Door: "staff", Step: "T35", Outcome: "fail", Result: "2 s"}}, "test T35 at staff: failed, 2 s"},
		{Tested{Job: "BTO", Test: record.Test{Door: "staff", Step: "T35", Outcome: "not-applicable", Note: "no lift"}}, "test T35 at staff: does not apply, no lift"},
		{Tested{Job: "BTO", Test: record.Test{Door: "staff", Step: "T35", Outcome: "pass", Witness: "kf"}}, "test T35 at staff: passed, witnessed by kf"},
		{Snagged{Job: "BTO", ID: "S1", Snag: record.Snag{Door: "staff", What: "sticks", Fix: "greased", Closed: &record.Act{}}}, "snag S1 at staff: sticks; closed: greased"},
		{Asked{Job: "BTO", Door: "staff", Question: "Who has the key?", Answer: "the porter"}, "question at staff: Who has the key? Answered: the porter"},
		{Edited{Job: "BTO", Field: "title", Value: "Tide house"}, "job title: Tide house"},
		{Edited{Job: "BTO", Object: "doors/staff", Value: "title: Staff door"}, "doors/staff put in"},
		{Edited{Job: "BTO", Object: "doors/staff", Field: "sounder"}, "doors/staff sounder taken away"},
	} {
		if got := teller.Words(&Entry{Body: x.body}); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}
