package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"doorwright": main})
}

// The whole command as at a terminal: arguments, files, standard input, output and exit codes.
func TestScripts(t *testing.T) {
	pack, err := os.ReadFile("../../journal/testdata/pack-1.doorwright.zip")
	if err != nil {
		t.Fatal(err)
	}
	setup := func(e *testscript.Env) error {
		return os.WriteFile(filepath.Join(e.WorkDir, "kept.doorwright.zip"), pack, 0o600)
	}
	testscript.Run(t, testscript.Params{Dir: "testdata", Setup: setup, UpdateScripts: os.Getenv("UPDATE") != "", RequireExplicitExec: true})
}

// printed runs the command and gives what it prints, failing on an exit code above 1.
func printed(t *testing.T, args ...string) string {
	t.Helper()
	var out, wrong bytes.Buffer
	if code := run(args, strings.NewReader(""), &out, &wrong); code > exitErrors {
		t.Fatalf("%v ends with %d: %s", args, code, wrong.String())
	}
	return out.String()
}

// every is one call for each document and list, without its format.
func every() [][]string {
	var all [][]string
	for _, p := range listings() {
		call := []string{"show", p.name, "demo:brackwater"}
		switch p.name {
		case "nodes":
			call = append(call, "--door", "plant")
		case "faults":
			call = append(call, "--door", "gauge")
		case "findings", "rules":
			call = append(call, "--faults", "none")
		}
		all = append(all, call)
	}
	return append(all, []string{"prove", "demo:flawed", "--no-mends", "--faults", "none"}, []string{"prove", "demo:flawed", "--rules", "--no-mends", "--faults", "none"}, []string{"show", "matrix", "demo:brackwater", "--door", "visitor"},
		[]string{"show", "landings", "demo:brackwater", "--by", "run"}, []string{"show", "landings", "demo:brackwater", "--reasons"},
		[]string{"meter", "demo:brackwater", "--door", "gauge"}, []string{"meter", "demo:brackwater", "--door", "plant", "--condition", "first fix"},
		[]string{"find", "demo:brackwater", "--door", "gauge", "--see", "lock holds; card; yes"}, []string{"find", "--help"}, []string{"meter", "--help"},
		[]string{"models"}, []string{"models", "controller-2-12"}, []string{"cables"}, []string{"cables", "cat5e"}, []string{"causes"},
		[]string{"card"}, []string{"card", "90/324"}, []string{"card", "90/324", "165/65211"}, []string{"card", "--help"},
		[]string{"frames", "testdata/tap.capture", "--all"}, []string{"frames", "--help"},
		[]string{"journal", "verify", "../../journal/testdata/pack-1.doorwright.zip"}, []string{"journal", "show", "../../journal/testdata/pack-1.doorwright.zip", "--last", "0"},
		[]string{"journal", "verify", "--help"}, []string{"journal", "--help"},
		[]string{"--help"}, []string{"show", "--help"}, []string{"prove", "--help"}, []string{"paper", "--help"}, []string{"serve", "--help"}, []string{"welcome"})
}

// Text fits a terminal of 80 columns.
func TestTextFitsTheTerminal(t *testing.T) {
	for _, args := range every() {
		n := 0
		for line := range strings.Lines(printed(t, args...)) {
			n++
			if w := utf8.RuneCountInString(strings.TrimRight(line, "\n")); w > paperWidth && strings.Contains(strings.TrimSpace(line), " ") {
				t.Errorf("%v, line %d is %d wide: %s", args, n, w, line)
			}
		}
		if n < 2 {
			t.Errorf("%v says next to nothing", args)
		}
	}
}

// JSON is valid and has its plain keys, with numbers as numbers.
func TestJSON(t *testing.T) {
	for _, c := range []struct {
		args []string
		keys []string
	}{
		{[]string{"prove", "demo:flawed", "--no-mends", "--faults", "none"}, []string{"findings", "doors", "assumptions", "counts", "left_out"}},
		{[]string{"show", "nodes", "demo:brackwater", "--door", "gauge"}, []string{"nodes"}},
		{[]string{"meter", "demo:brackwater", "--door", "gauge"}, []string{"readings", "cautions"}},
		{[]string{"show", "landings", "demo:brackwater", "--by", "run"}, []string{"cores"}},
		{[]string{"show", "loads", "demo:brackwater"}, []string{"loads"}},
		{[]string{"show", "materials", "demo:brackwater"}, []string{"materials"}},
		{[]string{"show", "matrix", "demo:brackwater"}, []string{"doors"}},
		{[]string{"show", "faults", "demo:brackwater", "--door", "tanks"}, []string{"faults", "fault_counts", "outside", "left_out"}},
	} {
		var v map[string]json.RawMessage
		if err := json.Unmarshal([]byte(printed(t, append(c.args, "--format", "json")...)), &v); err != nil {
			t.Errorf("%v: %v", c.args, err)
		}
		for _, k := range c.keys {
			if len(v[k]) < 3 {
				t.Errorf("%v: nothing under %q", c.args, k)
			}
		}
	}
}

// A finding has figure, limit and margin as numbers, and never a null for its mends.
func TestFindingsInJSON(t *testing.T) {
	var v struct {
		Findings []struct {
			Door, Requirement, Severity, Why string
			Figure, Limit, Margin            *float64
			Source                           any
			Mends                            *[]any
		}
	}
	if err := json.Unmarshal([]byte(printed(t, "prove", "demo:flawed", "--no-mends", "--faults", "none", "--format", "json")), &v); err != nil {
		t.Fatal(err)
	}
	if len(v.Findings) < 10 {
		t.Fatalf("%d findings", len(v.Findings))
	}
	for _, f := range v.Findings {
		if f.Figure == nil || f.Limit == nil || f.Margin == nil || f.Mends == nil || f.Source == nil || f.Requirement == "" || f.Severity == "" || f.Why == "" {
			t.Errorf("incomplete: %+v", f)
		}
	}
}

// CSV has one heading and rows of its width.
func TestCSV(t *testing.T) {
	for _, p := range listings() {
		args := []string{"show", p.name, "demo:brackwater", "--format", "csv", "--door", "plant"}
		if p.name == "findings" {
			args = []string{"show", p.name, "demo:flawed", "--format", "csv"}
		}
		rows, err := csv.NewReader(strings.NewReader(printed(t, args...))).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Errorf("%s: %d rows, %v", p.name, len(rows), err)
		}
	}
}

// SARIF 2.1.0 as far as the OASIS standard demands of a log: version, a named tool, results with a message, a level and a
// place that is in the document.
func TestSARIF(t *testing.T) {
	var log struct {
		Version string
		Runs    []struct {
			Tool    struct{ Driver struct{ Name string } }
			Results []struct {
				RuleID, Level string
				Message       struct{ Text string }
				Locations     []struct {
					PhysicalLocation struct {
						ArtifactLocation struct{ URI string }
						Region           struct{ StartLine int }
					}
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(printed(t, "prove", "demo:flawed", "--no-mends", "--faults", "none", "--format", "sarif")), &log); err != nil {
		t.Fatal(err)
	}
	if log.Version != "2.1.0" || len(log.Runs) != 1 || log.Runs[0].Tool.Driver.Name == "" || len(log.Runs[0].Results) < 10 {
		t.Fatalf("%+v", log)
	}
	beyondTop := 0
	for _, r := range log.Runs[0].Results {
		if r.RuleID == "" || r.Message.Text == "" || r.Level != "error" && r.Level != "note" || len(r.Locations) == 0 {
			t.Errorf("%+v", r)
		}
		if r.Locations[0].PhysicalLocation.Region.StartLine > 1 {
			beyondTop++
		}
	}
	if beyondTop < len(log.Runs[0].Results)/2 {
		t.Errorf("only %d of %d results have a place in the document", beyondTop, len(log.Runs[0].Results))
	}
}

// Colour marks words that stand there anyway: without the marks the text is the same.
func TestColourAddsNothing(t *testing.T) {
	with, without := printed(t, "prove", "demo:flawed", "--no-mends", "--faults", "none", "--colour", "always"), printed(t, "prove", "demo:flawed", "--no-mends", "--faults", "none", "--colour", "never")
	if with == without || !strings.Contains(with, "\x1b[1;31mERROR\x1b[0m") {
		t.Error("no colour where it was asked for")
	}
	var plain strings.Builder
	for part := range strings.SplitSeq(with, "\x1b[") {
		if plain.Len() > 0 || strings.HasPrefix(with, "\x1b[") {
			if _, rest, ok := strings.Cut(part, "m"); ok && len(part) > 0 && strings.ContainsAny(part[:1], "0123456789") {
				part = rest
			}
		}
		plain.WriteString(part)
	}
	if plain.String() != without {
		t.Error("the text differs with colour")
	}
}
