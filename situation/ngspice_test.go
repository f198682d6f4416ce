package situation_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"doorwright/situation"
)

// The demo doors in every cause against ngspice, a general-purpose circuit simulator (Debian package ngspice): the same
// frozen states and the same voltages to start from. Nodes that a meter can read, which stand behind less than 3
// megohm, agree within 0.1 mV; the others within 1 nA times the resistance they stand behind.
func TestDemoAgainstNgspice(t *testing.T) {
	type instant struct {
		title string
		nodes []situation.NodeVolts
	}
	var instants []instant
	var decks []string
	nominalAndWorst := func(c situation.Case) bool {
		return c.Name == "nominal" || strings.HasPrefix(c.Name, "low, windings cold")
	}
	eachInstant(demoSite(t), nominalAndWorst, func(_ *situation.Island, b *situation.Bench, title string) {
		instants = append(instants, instant{title, b.Nodes()})
		decks = append(decks, b.Netlist(title))
	})
	if len(decks) < 100 {
		t.Fatalf("only %d instants", len(decks))
	}
	worst, compared, none := 0.0, 0, 0
	for i, reference := range simulate(t, decks) {
		if reference == nil {
			none++
			t.Logf("%s: ngspice finds no answer", instants[i].title)
			continue
		}
		for _, n := range instants[i].nodes {
			ref, ok := reference[strings.ToLower(n.Name)]
			if !ok {
				t.Fatalf("%s: ngspice has no node %s", instants[i].title, n.Name)
			}
			off := math.Abs(ref - float64(n.Volts))
			if allowed := allowedAt(n); !(off <= allowed) {
				t.Errorf("%s: %s is %.6f V here and %.6f V there (behind %v, %.3g V allowed)",
					instants[i].title, n.Name, float64(n.Volts), ref, n.Behind, allowed)
			}
			compared++
			if n.Behind < meterOhms {
				worst = max(worst, off)
			}
		}
	}
	if 50*none > len(decks) {
		t.Errorf("ngspice finds no answer in %d of %d instants: too many to compare with", none, len(decks))
	}
	t.Logf("%d nodes in %d instants; the readable ones differ by %.2g V at most", compared, len(decks), worst)
}

const (
	meterOhms    = 3e6
	readableVolt = 1e-4
	ghostAmps    = 1e-9
)

func allowedAt(n situation.NodeVolts) float64 {
	if n.Behind < meterOhms {
		return readableVolt
	}
	return ghostAmps * float64(n.Behind)
}

// simulate solves decks with one process and gives the voltages of each by lower-case node name; nil where there is no
// answer.
func simulate(t *testing.T, decks []string) []map[string]float64 {
	t.Helper()
	dir := t.TempDir()
	var script strings.Builder
	script.WriteString("* all decks\n.control\nset filetype=ascii\nset numdgt=16\n")
	for i, deck := range decks {
		keep(t, filepath.Join(dir, fmt.Sprintf("deck%d.cir", i)), deck)
		fmt.Fprintf(&script, "source deck%d.cir\nop\nwrite deck%d.raw\ndestroy all\nremcirc\n", i, i)
	}
	script.WriteString("quit\n.endc\n.end\n")
	keep(t, filepath.Join(dir, "all.cir"), script.String())
	cmd := exec.Command("ngspice", "-b", "all.cir")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil && len(out) == 0 {
		t.Fatalf("ngspice is needed for this test (Debian package ngspice): %v", err)
	}
	answers := make([]map[string]float64, len(decks))
	for i := range decks {
		answers[i] = answerIn(t, filepath.Join(dir, fmt.Sprintf("deck%d.raw", i)))
	}
	return answers
}

func keep(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// answerIn reads an ASCII raw file of one point, nil when there is none.
func answerIn(t *testing.T, path string) map[string]float64 {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	var names []string
	values := map[string]float64{}
	section := ""
	for sc := bufio.NewScanner(f); sc.Scan(); {
		line := sc.Text()
		fields := strings.Fields(line)
		switch {
		case line == "Variables:" || line == "Values:":
			section = line
		case section == "Variables:" && len(fields) >= 3:
			names = append(names, strings.TrimSuffix(strings.TrimPrefix(fields[1], "v("), ")"))
		case section == "Values:" && len(fields) > 0 && len(values) < len(names):
			v, err := strconv.ParseFloat(fields[len(fields)-1], 64)
			if err != nil {
				t.Fatalf("%s: %q", path, line)
			}
			values[names[len(values)]] = v
		}
	}
	return values
}
