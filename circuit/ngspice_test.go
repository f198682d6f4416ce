package circuit_test

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

	"doorwright/circuit"
)

// The reference is ngspice in batch mode. One process solves many decks: a control script sources each in turn, takes
// an operating point and writes every voltage with 16 digits.

// spiceSolve solves decks with one ngspice process and returns the voltages of each by lower-case node name, nil for a
// deck that ngspice did not solve.
func spiceSolve(t testing.TB, decks []string) []map[string]float64 {
	t.Helper()
	dir := t.TempDir()
	var script strings.Builder
	script.WriteString("* many decks\n.control\nset filetype=ascii\nset numdgt=16\n")
	for i, deck := range decks {
		write(t, filepath.Join(dir, fmt.Sprintf("deck%d.cir", i)), deck)
		fmt.Fprintf(&script, "source deck%d.cir\nop\nwrite deck%d.raw\ndestroy all\nremcirc\n", i, i)
	}
	script.WriteString("quit\n.endc\n.end\n")
	write(t, filepath.Join(dir, "all.cir"), script.String())
	runSpice(t, dir, "all.cir")
	voltages := make([]map[string]float64, len(decks))
	for i := range decks {
		voltages[i] = readRaw(t, filepath.Join(dir, fmt.Sprintf("deck%d.raw", i)))
	}
	return voltages
}

// runSpice runs ngspice in a folder and returns what it said.
func runSpice(t testing.TB, dir, file string) string {
	t.Helper()
	cmd := exec.Command("ngspice", "-b", file)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil && len(out) == 0 {
		t.Fatalf("ngspice is needed for this test (Debian package ngspice): %v", err)
	}
	return string(out)
}

func write(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// readRaw reads an ASCII raw file of one point, nil when there is none.
func readRaw(t testing.TB, path string) map[string]float64 {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	var names []string
	values := map[string]float64{}
	section := ""
	sc := bufio.NewScanner(f)
	for sc.Scan() {
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
	if err := sc.Err(); err != nil {
		t.Fatal(err)
	}
	return values
}

// withoutStart is the deck without the voltages to start from.
func withoutStart(deck string) string {
	var b strings.Builder
	for line := range strings.Lines(deck) {
		if !strings.HasPrefix(line, ".nodeset") {
			b.WriteString(line)
		}
	}
	return b.String()
}

// The agreement asked for: nodes that a meter could read (below 3 Mohm) within 0.1 mV, others within 1 nA times their
// impedance.
const (
	meterOhms    = 3e6
	agreeVolts   = 1e-4
	agreeAmperes = 1e-9
)

// solved is one solved network with its deck.
type solved struct {
	title string
	n     *circuit.Network
	s     *circuit.System
	deck  string
}

// furthest is the node with the largest difference to the reference in parts of what is allowed there, and the largest
// relative difference of readable nodes.
func (c solved) furthest(reference map[string]float64) (node string, ofAllowed, volts float64) {
	for i := range c.n.Nodes() {
		v := circuit.Node(i)
		allowed := agreeVolts
		if z := float64(c.s.Impedance(v, circuit.Earth)); z > meterOhms {
			allowed = agreeAmperes * z
		}
		ref, ok := reference[strings.ToLower(c.n.Name(v))]
		if !ok {
			return c.n.Name(v), math.Inf(1), math.Inf(1)
		}
		d := math.Abs(ref - float64(c.s.Volts(v)))
		if !(d/allowed <= ofAllowed) {
			node, ofAllowed, volts = c.n.Name(v), d/allowed, d
		}
	}
	return node, ofAllowed, volts
}

func randomPlants(t testing.TB, count int) []solved {
	var all []solved
	for seed := range uint64(count) {
		doors := []int{1, 1, 2, 3, 4, 8}[seed%6]
		p := newPlant(seed, doors, 1+int(seed)%5)
		bridge := "none"
		if seed%3 > 0 {
			bridge = p.bridge()
		}
		s := circuit.Analyse(p.n).System(p.n)
		p.setAtRandom(s)
		s.Cold()
		r := s.Solve()
		title := fmt.Sprintf("seed %d, %d doors, bridge %s: %v by %v", seed, doors, bridge, r.Outcome, r.Rung)
		if r.Outcome == circuit.NotConverged {
			t.Errorf("%s", title)
		}
		all = append(all, solved{title, p.n, s, s.Netlist(title)})
	}
	return all
}

func TestRandomPlantsAgreeWithNgspice(t *testing.T) {
	cases := randomPlants(t, 300)
	given := make([]string, len(cases))
	free := make([]string, len(cases))
	for i, c := range cases {
		given[i], free[i] = c.deck, withoutStart(c.deck)
	}
	withStart, alone := spiceSolve(t, given), spiceSolve(t, free)
	elsewhere := 0
	for i, c := range cases {
		if withStart[i] == nil {
			t.Errorf("%s: ngspice did not solve it", c.title)
			continue
		}
		if node, of, volts := c.furthest(withStart[i]); of > 1 {
			t.Errorf("%s: node %s differs by %g V, %g times what is allowed", c.title, node, volts, of)
		}
		if alone[i] == nil {
			t.Logf("%s: ngspice alone finds no answer", c.title)
			continue
		}
		if node, of, volts := c.furthest(alone[i]); of > 1 {
			elsewhere++
			t.Logf("%s: ngspice alone settles elsewhere: node %s %g V away", c.title, node, volts)
		}
	}
	t.Logf("%d of %d settle elsewhere without the start", elsewhere, len(cases))
}
