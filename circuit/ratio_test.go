package circuit_test

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"doorwright/circuit"
)

// BenchmarkAgainstNgspice times, in one run, a cold operating point of ours against the reference's own solve and against
// its whole process, on quiet plants of about 70 to 10,000 nodes. Its own solve is what each further operating point
// adds to a process that takes many. The ratios are metrics, not assertions: go test -bench AgainstNgspice ./circuit.
func BenchmarkAgainstNgspice(b *testing.B) {
	for _, doors := range []int{1, 9, 38, 153} {
		p := newPlant(1, doors, 64)
		begun := time.Now()
		a := circuit.Analyse(p.n)
		analysed := time.Since(begun)
		s := a.System(p.n)
		p.setQuiet(s)
		deck := withoutEnd(withoutStart(afterSolve(s)))
		b.Run(fmt.Sprint(p.n.Nodes()), func(b *testing.B) {
			var r circuit.Report
			for b.Loop() {
				s.Cold()
				r = s.Solve()
			}
			ours := b.Elapsed().Seconds() / float64(b.N)
			once, many := spiceTime(b, deck, 1), spiceTime(b, deck, 1+repeats)
			b.ReportMetric((many-once)/repeats/ours, "of-own-solve")
			b.ReportMetric(once/ours, "of-process")
			b.ReportMetric(float64(r.Steps), "solves")
			b.ReportMetric(analysed.Seconds()/ours, "analysis/solve")
		})
	}
}

// repeats is how many further operating points the reference takes.
const repeats = 20

func afterSolve(s *circuit.System) string {
	s.Cold()
	s.Solve()
	return s.Netlist("ratio")
}

// withoutEnd takes the closing lines off a deck.
func withoutEnd(deck string) string { return strings.TrimSuffix(deck, ".op\n.end\n") }

// spiceTime is the wall time of a process that takes some operating points of a deck, in seconds.
func spiceTime(b *testing.B, deck string, points int) float64 {
	b.Helper()
	dir := b.TempDir()
	write(b, filepath.Join(dir, "deck.cir"), deck+fmt.Sprintf(".control\nrepeat %d\nop\nend\nquit\n.endc\n.end\n", points))
	begun := time.Now()
	runSpice(b, dir, "deck.cir")
	return time.Since(begun).Seconds()
}
