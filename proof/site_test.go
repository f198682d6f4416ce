package proof_test

import (
	"testing"

	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/unit"
)

// A site of doors in all arrangements proves without error: benchmarks and laws stand on sound ground.
func TestSiteHasNoErrors(t *testing.T) {
	const doors = 2 * site.DoorsPerSupply // both voltages, every arrangement twice
	r := prove(t, site.Generate(doors))
	for _, p := range r.Plan.Problems {
		t.Errorf("%s: %s; %s", p.Where, p.What, p.Add)
	}
	for _, f := range r.Findings {
		if f.Severity == rules.Error {
			t.Errorf("%s %s at %s: %s (%s against %s; %s; %s)", f.Door, f.Requirement, f.Where, f.What,
				proof.Quantity(f.Figure, f.Unit, unit.Metric), proof.Quantity(f.Limit, f.Unit, unit.Metric), f.Cause, f.Case)
		}
	}
	if len(r.Doors) != doors || r.Counts.Situations < 100*doors {
		t.Errorf("too little was examined: %d doors, %+v", len(r.Doors), r.Counts)
	}
}
