package find

import (
	"fmt"
	"math"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"doorwright/device"
	"doorwright/meter"
)

// What ngspice (Debian package ngspice) makes of a deck with a meter in it. A process takes some milliseconds to start and
// a solution less than one, so that many are asked for at once.

// probe is a meter at two nodes: what it draws or drives.
type probe struct {
	at, to string
	input  float64 // ohm, of its voltage range; 0 on other ranges
	amps   float64 // that it drives from at to to
}

// solve gives what the meter shows at a pair; false where ngspice found no answer.
func (v *visit) solve(p meter.Pair) (float64, bool) {
	switch p.Quantity {
	case meter.Volts:
		return v.solveVolts(p)
	case meter.Diode:
		m := v.f.meter
		amps := float64(m.Test.Amps)
		y := v.sitting(p.In, []probe{{at: p.At, to: p.To, amps: amps}})[0] + amps*v.lead
		if y > float64(m.Test.Most) {
			y = math.Inf(1)
		}
		return rounded(m.Volts, y), !math.IsNaN(y)
	}
	return v.solveOhms(p)
}

func (v *visit) solveVolts(p meter.Pair) (float64, bool) {
	m := v.f.meter
	y := v.sitting(p.In, []probe{{at: p.At, to: p.To, input: float64(m.InputOhms)}})[0]
	return rounded(m.Volts, y*(1+v.gain[string(meter.Volts)])), !math.IsNaN(y)
}

// solveOhms takes the lowest range that holds the reading, as a meter that chooses its range does.
func (v *visit) solveOhms(p meter.Pair) (float64, bool) {
	m := v.f.meter
	var probes []probe
	for _, full := range m.Ohms.Ranges {
		probes = append(probes, probe{at: p.At, to: p.To, amps: float64(m.Test.Full) / full.Full})
	}
	for i, y := range v.sitting(p.In, probes) {
		if math.IsNaN(y) {
			return 0, false
		}
		if ohms := y/probes[i].amps + v.lead; ohms <= m.Ohms.Ranges[i].Full {
			return rounded(m.Ohms, max(ohms*(1+v.gain[string(meter.Ohms)]), 0)), true
		}
	}
	return math.Inf(1), true
}

// rounded is a figure in the digits of the range that holds it.
func rounded(f meter.Function, y float64) float64 {
	for _, r := range f.Ranges {
		if math.Abs(y) <= r.Full {
			return math.Round(y/r.Resolution) * r.Resolution
		}
	}
	return y
}

// sitting gives the voltage over each probe, alone in the network of a condition; NaN where there is no answer.
func (v *visit) sitting(in meter.Condition, probes []probe) []float64 {
	volts := make([]float64, len(probes))
	deck := v.deck(in)
	missing := false
	for i, y := range sitting(v.t, deck, probes) {
		volts[i] = y
		missing = missing || math.IsNaN(y)
	}
	if missing {
		for i, y := range sitting(v.t, closeOptions.ReplaceAllString(deck, ".options gmin=1e-13 itl1=1000\n"), probes) {
			if math.IsNaN(volts[i]) {
				volts[i] = y
			}
		}
	}
	return volts
}

// closeOptions are the options of an exported deck, which ask for more than some decks with a meter in them can give.
var closeOptions = regexp.MustCompile(`\.options .*\n`)

// aside is the resistance of a meter that is not there.
const aside = 1e16

func sitting(t testing.TB, deck string, probes []probe) []float64 {
	t.Helper()
	var parts, control strings.Builder
	for i, p := range probes {
		at, to := spiceNode(p.at), spiceNode(p.to)
		fmt.Fprintf(&parts, "Rmeter%d %s %s %g\nImeter%d %s %s 0\nEmeter%d shows%d 0 %s %s 1\n", i, at, to, aside, i, to, at, i, i, at, to)
		if p.input > 0 {
			fmt.Fprintf(&control, "alter rmeter%d=%g\n", i, p.input)
		}
		// A solution that fails leaves no plot, so that nothing is printed for it.
		fmt.Fprintf(&control, "alter imeter%d=%g\nop\nprint v(shows%d)\ndestroy\nalter imeter%d=0\nalter rmeter%d=%g\n",
			i, p.amps, i, i, i, aside)
	}
	deck = strings.Replace(strings.TrimSuffix(strings.TrimSpace(deck), ".end"), ".op\n", "", 1)
	deck += parts.String() + ".control\nset numdgt=12\n" + control.String() + "quit\n.endc\n.end\n"
	out := ngspice(t, deck)
	volts := make([]float64, len(probes))
	for i := range volts {
		volts[i] = math.NaN()
	}
	for _, m := range showsLine.FindAllStringSubmatch(out, -1) {
		i, err := strconv.Atoi(m[1])
		if err != nil || i >= len(volts) {
			continue
		}
		if y, err := strconv.ParseFloat(m[2], 64); err == nil {
			volts[i] = y
		}
	}
	return volts
}

var showsLine = regexp.MustCompile(`(?m)^v\(shows(\d+)\) = (\S+)`)

func spiceNode(name string) string {
	if name == device.Ground {
		return "0"
	}
	return name
}

// ngspice solves a deck and gives what it prints.
func ngspice(t testing.TB, deck string) string {
	t.Helper()
	cmd := exec.Command("ngspice", "-b", "/dev/stdin")
	cmd.Stdin = strings.NewReader(deck)
	out, err := cmd.CombinedOutput()
	if err != nil && len(out) == 0 {
		t.Fatalf("ngspice is needed for this test (Debian package ngspice): %v", err)
	}
	return string(out)
}
