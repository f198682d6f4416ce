package circuit_test

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"doorwright/circuit"
)

// BenchmarkAgainstNgspice times, in one run, a cold operating point of ours against the reference's own solve and
// against its whole process, on quiet plants of about 70 to 10,000 nodes. The ratios are metrics, not assertions: go
// test -bench AgainstNgspice ./circuit.
//
// The reference's own solve is what it calls its analysis time, which leaves out reading the deck and naming the
// results; it orders its matrix anew for each operating point, so that is also taken off. Without any start it wanders
// between a supply's limit and its idling, or does not converge at all; with a start at every node it spends its time
// on keeping nodes there. Both terminals of every supply are enough to let it converge at once, at any size.
func BenchmarkAgainstNgspice(b *testing.B) {
	for _, doors := range []int{1, 9, 38, 153} {
		p := newPlant(1, doors, 64)
		s := circuit.Analyse(p.n).System(p.n)
		p.setQuiet(s)
		deck := withoutEnd(withStartOfSupplies(afterSolve(s)))
		b.Run(fmt.Sprint(p.n.Nodes()), func(b *testing.B) {
			var r circuit.Report
			for b.Loop() {
				s.Cold()
				r = s.Solve()
			}
			ours := b.Elapsed().Seconds() / float64(b.N)
			analysis := analysisTime(p.n)
			repeats := 1 + 200_000/p.n.Nodes()
			once, many := spiceTime(b, deck, 1), spiceTime(b, deck, repeats)
			own, ordering := many.analysis/float64(repeats), many.ordering/float64(repeats)
			b.ReportMetric(own/ours, "of-own-solve")
			b.ReportMetric((own-ordering)/ours, "of-own-solve-ordered")
			b.ReportMetric(own/(analysis+ours), "of-own-solve-with-analysis")
			b.ReportMetric(once.wall/ours, "of-process")
			b.ReportMetric(once.wall/(analysis+ours), "of-process-with-analysis")
			b.ReportMetric(analysis/ours, "analysis/solve")
			b.ReportMetric(float64(r.Steps), "solves")
			b.ReportMetric(many.iterations/float64(repeats), "ngspice-iterations")
		})
	}
}

// analysisTime is the least of a few analyses, in seconds.
func analysisTime(n *circuit.Network) float64 {
	least := time.Hour
	for range 10 {
		begun := time.Now()
		circuit.Analyse(n)
		least = min(least, time.Since(begun))
	}
	return least.Seconds()
}

func afterSolve(s *circuit.System) string {
	s.Cold()
	s.Solve()
	return s.Netlist("ratio")
}

var supplyStart = regexp.MustCompile(`^\.nodeset v\(p\d+\.[PM]\)=`)

// withStartOfSupplies keeps of the voltages to start from those at the terminals of the supplies.
func withStartOfSupplies(deck string) string {
	var b strings.Builder
	for line := range strings.Lines(deck) {
		if !strings.HasPrefix(line, ".nodeset") || supplyStart.MatchString(line) {
			b.WriteString(line)
		}
	}
	return b.String()
}

// withoutEnd takes the closing lines off a deck.
func withoutEnd(deck string) string { return strings.TrimSuffix(deck, ".op\n.end\n") }

// spiceCost is what a process of the reference took: seconds by the clock, seconds that it says it spent on analysis
// and in that on ordering its matrix, and its iterations.
type spiceCost struct{ wall, analysis, ordering, iterations float64 }

// spiceTime runs a process that takes some operating points of a deck, the least of three runs.
func spiceTime(b *testing.B, deck string, points int) spiceCost {
	b.Helper()
	dir := b.TempDir()
	write(b, dir+"/deck.cir", deck+fmt.Sprintf(
		".control\nrepeat %d\nop\ndestroy all\nend\nrusage everything\nquit\n.endc\n.end\n", points))
	var least spiceCost
	for range 3 {
		begun := time.Now()
		said := runSpice(b, dir, "deck.cir")
		wall := time.Since(begun).Seconds()
		if strings.Contains(said, "stepping") {
			b.Fatalf("the reference did not converge at once:\n%s", said)
		}
		if least.wall == 0 || wall < least.wall {
			least = spiceCost{
				wall:       wall,
				analysis:   figure(b, said, "Total analysis time (seconds)"),
				ordering:   figure(b, said, "Matrix reorder time"),
				iterations: figure(b, said, "Total iterations"),
			}
		}
	}
	return least
}

// figure is the first figure of that name in what the reference said.
func figure(b *testing.B, said, name string) float64 {
	b.Helper()
	_, rest, found := strings.Cut(said, name+" = ")
	line, _, _ := strings.Cut(rest, "\n")
	v, err := strconv.ParseFloat(strings.TrimSpace(line), 64)
	if !found || err != nil {
		b.Fatalf("the reference does not say its %q: %v", name, err)
	}
	return v
}
