package proof_test

import (
	"testing"

	"doorwright/internal/site"
	"doorwright/rules"
	"doorwright/situation"
	"doorwright/unit"
)

// A site of doors in all arrangements proves without error: benchmarks and laws stand on sound ground.
func TestSiteHasNoErrors(t *testing.T) {
	doors := 2 * site.DoorsPerSupply // both voltages, every arrangement twice
	if testing.Short() {
		doors = site.DoorsPerSupply / 2
	}
	hasNoErrors(t, doors, site.Generate(doors), func(string) bool { return true })
}

// So does one of many doors on one supply in the nominal case, in which faults are tried. At the low end of everything one
// lead to its row of joints is not enough.
func TestDoorsOnOneSupplyHaveNoErrors(t *testing.T) {
	doors := 32
	if testing.Short() {
		doors = site.DoorsPerSupply + 1
	}
	hasNoErrors(t, doors, site.OnOneSupply(doors), func(limits string) bool { return limits == "" || limits == situation.Nominal().Name })
}

func hasNoErrors(t *testing.T, doors int, text []byte, in func(limits string) bool) {
	t.Helper()
	r := prove(t, text)
	for _, p := range r.Plan.Problems {
		t.Errorf("%s: %s; %s", p.Where, p.What, p.Add)
	}
	for _, f := range r.Findings {
		if f.Severity == rules.Error && in(f.Case) {
			t.Errorf("%s %s at %s: %s (%s; %s; %s)", f.Door, f.Requirement, f.Where, f.What,
				f.Figures(unit.Metric), f.Cause, f.Case)
		}
	}
	if len(r.Doors) != doors || r.Counts.Situations < 100*doors {
		t.Errorf("too little was examined: %d doors, %+v", len(r.Doors), r.Counts)
	}
}
