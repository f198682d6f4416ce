package proof_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"doorwright/fault"
	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/situation"
	"doorwright/wiring"
)

const (
	rounds    = 5 // how many times each way is timed
	someDoors = 4 // of one door in so many a network goes to ngspice in a round: some of its runs take many seconds
)

// BenchmarkFaultRatios times, on one core and in one run, every single fault of a supply with 32 doors in every cause,
// set-up included, against the fastest full way we have (the whole island going on from where it stands) and against
// ngspice, the circuit simulator of Debian, on the same networks. Of the other two samples are timed. The ratios are the
// medians of five rounds, and metrics, not assertions: go test -bench FaultRatios -benchtime 1x ./proof.
func BenchmarkFaultRatios(b *testing.B) {
	r := proof.Prove(wiring.Make(readSite(b, site.OnOneSupply(32))))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for b.Loop() {
		var ours, whole, median, quickest []float64
		tries, solved := 0, 0
		for round := range rounds {
			begun := time.Now()
			tries, solved = 0, 0
			for _, d := range proof.TryFaults(r, proof.SingleFaults, nil, nil).Doors {
				tries += len(d.Seen)
				solved += d.Solved
			}
			mine := time.Since(begun).Seconds() / float64(tries)
			each, instants, decks := wholeWay(r, round, 97)
			runs := simulator(b, decks)
			ours = append(ours, mine)
			whole = append(whole, each/mine)
			median = append(median, middle(runs)*instants/mine)
			quickest = append(quickest, runs[0]*instants/mine)
		}
		b.ReportMetric(middle(whole), "of-whole-island")
		b.ReportMetric(middle(median), "of-simulator-process")
		b.ReportMetric(middle(quickest), "of-simulator-at-its-quickest")
		b.ReportMetric(1e6*middle(ours), "us/fault")
		b.ReportMetric(float64(solved)/float64(tries), "instants/fault")
	}
}

// middle is the median; it sorts what it is given.
func middle(all []float64) float64 {
	slices.Sort(all)
	return all[len(all)/2]
}

// wholeWay takes one of every so many faults, others in each round, through the whole island: seconds and watched instants for
// each, and some of the networks.
func wholeWay(r *proof.Result, round, every int) (seconds, instants float64, decks []string) {
	n, seen := 0, 0
	begun := time.Now()
	for i := range r.Doors {
		d := r.Doors[i].Door
		is := r.Site.Island(d.Controller.ID)
		var steps [][]situation.Step
		for _, c := range situation.Causes() {
			at := d
			if !c.Door {
				at = nil
			}
			if s := c.Steps(is, at); s != nil {
				steps = append(steps, s)
			}
		}
		closeup := is.Frames(situation.Nominal()).Closeup(d, steps)
		all := append(fault.Of(r.Plan, d.ID), fault.Of(r.Plan, "")...)
		first := i + round*every/rounds
		for k := first; k < len(all); k += every {
			f := &all[k]
			if !is.Has(f) {
				continue
			}
			n++
			closeup.RunWhole(f, func(_, _ int, b *situation.Bench, _ situation.Shows, _ bool) {
				_ = b.Door(d)
				seen++
			})
			if k == first && i%someDoors == round%someDoors {
				decks = append(decks, is.FaultyBench(situation.Nominal(), f).Netlist(f.ID))
			}
		}
	}
	return time.Since(begun).Seconds() / float64(n), float64(seen) / float64(n), decks
}

// simulator is how long runs of ngspice take, in seconds, the quickest first.
func simulator(b *testing.B, decks []string) []float64 {
	dir := b.TempDir()
	var took []float64
	for i, deck := range decks {
		path := filepath.Join(dir, fmt.Sprintf("%d.cir", i))
		if err := os.WriteFile(path, []byte(deck), 0o600); err != nil {
			b.Fatal(err)
		}
		begun := time.Now()
		if out, err := exec.Command("ngspice", "-b", path).CombinedOutput(); err != nil && len(out) == 0 {
			b.Fatal(err)
		}
		took = append(took, time.Since(begun).Seconds())
	}
	slices.Sort(took)
	return took
}

// BenchmarkOneDoorAgain tries every fault of one door of 20 again, as after an edit.
func BenchmarkOneDoorAgain(b *testing.B) {
	r := proof.Prove(wiring.Make(readSite(b, site.Generate(site.DoorsPerSupply))))
	for b.Loop() {
		proof.TryFaults(r, proof.SingleFaults, r.Doors[0].Door, nil)
	}
}
