package proof_test

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"doorwright/demo"
	"doorwright/proof"
	"doorwright/rules"
	"doorwright/wiring"
)

func prove(t rapid.TB, text []byte) *proof.Result {
	t.Helper()
	return proof.Prove(wiring.Make(readSite(t, text)))
}

// As shipped the demo has no errors by calculation.
func TestDemoHasNoErrors(t *testing.T) {
	r := prove(t, demo.Brackwater)
	for _, f := range r.Findings {
		if f.Severity == rules.Error {
			t.Errorf("%s %s at %s: %s", f.Door, f.Requirement, f.Where, f.What)
		}
	}
	if r.Counts.Situations < 1000 || r.Counts.Held < 150 {
		t.Errorf("too little was examined: %+v", r.Counts)
	}
}

// What each mistake of the flawed copy breaks. One mistake can break several promises at once: a lock that needs power
// to open leaves people neither a way out by its release, nor by loss of power, nor by a fire signal.
func TestEachMistakeOfTheFlawedDemoIsFound(t *testing.T) {
	want := map[string]string{ // door and requirement -> the mistake
		"plant lock-voltage":            "0.5 mm2 over 85 m",
		"plant unit-voltage":            "a 12 V reader on a 24 V controller",
		"plant out-by-controller-loss":  "no relay held in by the controller's supply",
		"laboratory fire-signal-fitted": "no fire signal",
		"laboratory input-reads":        "inputs set to other resistors than are fitted",
		"tanks release-each-way":        "one release for two ways",
		"tanks suppressor":              "no suppressor",
		"records fire-door-latched":     "a fail-safe strike on a fire-rated door",
		"records line-ends":             "a terminator in the middle of the line",
		"visitor out-by-release":        "a release that only tells the controller",
		"staff opens-without-power":     "a fail-secure lock, handle fixed, on an escape door",
		"store lets-through":            "lock feed on the wrong relay contact",
		"gauge data-length":             "a serial reader at 600 m",
		"gauge settles":                 "and what 600 m of thin cable does to its supply",
	}
	r := prove(t, demo.Flawed)
	broken := map[string]bool{}
	found := map[string]bool{}
	for _, f := range r.Findings {
		found[f.Door+" "+f.Requirement] = true
		if f.Severity == rules.Error {
			broken[f.Requirement] = true
		}
	}
	for key, mistake := range want {
		if !found[key] {
			t.Errorf("%s is not found: no finding %s", mistake, key)
		}
	}
	if len(broken) < 10 {
		t.Errorf("only %d different requirements are broken: %v", len(broken), broken)
	}
	if n := strings.Count(string(demo.Flawed), "# mistake:"); n < 12 {
		t.Errorf("only %d mistakes are marked", n)
	}
}

// Same input, same bytes out, whatever the number of processors.
func TestSameInputSameFindings(t *testing.T) {
	one := inText(prove(t, demo.Flawed))
	old := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(old)
	if two := inText(prove(t, demo.Flawed)); one != two {
		t.Errorf("two proofs of one job differ:\n%s\n%s", one, two)
	}
}

func inText(r *proof.Result) string {
	var b strings.Builder
	for _, f := range r.Findings {
		fmt.Fprintf(&b, "%s|%s|%s|%s|%.17g|%.17g|%.17g|%s|%s\n", f.Door, f.Requirement, f.Where, f.What, f.Figure, f.Limit, f.Margin, f.Cause, f.Case)
	}
	for _, d := range r.Doors {
		fmt.Fprintf(&b, "%s %v %v\n", d.Door.ID, d.Matrix, len(d.Rules))
	}
	fmt.Fprintln(&b, r.Counts)
	return b.String()
}

// Every finding says where, holds figure against limit with a margin of the right sign, and says why and whence.
func TestFindingsAreComplete(t *testing.T) {
	r := prove(t, demo.Flawed)
	if len(r.Findings) == 0 {
		t.Fatal("no findings")
	}
	for _, f := range r.Findings {
		if f.Where == "" || f.What == "" || f.Why == "" || f.Source.Text == "" || f.Margin >= 0 {
			t.Errorf("incomplete: %+v", f)
		}
	}
	for _, d := range r.Doors {
		for _, s := range d.Rules {
			if s.Standing == proof.NotJudged && s.LookAt == "" {
				t.Errorf("%s %s is not judged and nobody is told what to look at", d.Door.ID, s.Rule.ID)
			}
		}
		if !d.Restless && !slices.ContainsFunc(d.Rules, func(s proof.RuleStanding) bool { return s.Standing == proof.HeldRule }) {
			t.Errorf("%s: no rule is held", d.Door.ID)
		}
	}
}
