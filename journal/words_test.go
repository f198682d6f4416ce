package journal

import (
	"strings"
	"testing"

	"doorwright/mend"
	"doorwright/record"
)

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
		{Measured{Job: "BTO", Reading: record.Reading{Device: "C2", Red: "lock1.common", Black: "PS1.out.minus", Condition: "idle"}}, "between C2 C1 and PS1 -, idle"},
	} {
		if got := teller.Words(&Entry{Body: x.body}); !strings.Contains(got, x.want) {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}
