package proof_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"doorwright/fault"
	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/situation"
	"doorwright/wiring"
)

// BenchmarkFaultRatios times, on one core and in one run, every single fault of a supply with 32 doors in every cause,
// set-up included, against the fastest full way we have (the whole island going on from where it stands) and against
// ngspice, the circuit simulator of Debian, on the same networks. Of the other two a sample is timed. The ratios are
// metrics, not assertions: go test -bench FaultRatios -benchtime 1x ./proof.
func BenchmarkFaultRatios(b *testing.B) {
	r := proof.Prove(wiring.Make(readSite(b, site.OnOneSupply(32))))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for b.Loop() {
		begun := time.Now()
		tries, solved := 0, 0
		for _, d := range proof.TryFaults(r, proof.SingleFaults, nil, nil).Doors {
			tries += len(d.Seen)
			solved += d.Solved
		}
		ours := time.Since(begun).Seconds()
		whole, instants, decks := wholeWay(r, 37)
		spice := simulator(b, decks)
		b.ReportMetric(whole*float64(tries)/ours, "of-whole-island")
		b.ReportMetric(spice*instants*float64(tries)/ours, "of-simulator-process")
		b.ReportMetric(1e6*ours/float64(tries), "us/fault")
		b.ReportMetric(float64(solved)/float64(tries), "instants/fault")
	}
}

// wholeWay takes one of every so many faults through the whole island: seconds and watched instants for each, and some of
// the networks.
func wholeWay(r *proof.Result, every int) (seconds, instants float64, decks []string) {
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
		for k := i; k < len(all); k += every {
			f := &all[k]
			if !is.Has(f) {
				continue
			}
			n++
			closeup.RunWhole(f, func(_, _ int, b *situation.Bench, _ situation.Shows, _ bool) {
				_ = b.Door(d)
				seen++
			})
			if k == i {
				decks = append(decks, is.FaultyBench(situation.Nominal(), f).Netlist(f.ID))
			}
		}
	}
	return time.Since(begun).Seconds() / float64(n), float64(seen) / float64(n), decks
}

// simulator is how long a run of ngspice takes, in seconds, on average.
func simulator(b *testing.B, decks []string) float64 {
	dir := b.TempDir()
	var took time.Duration
	for i, deck := range decks {
		path := filepath.Join(dir, fmt.Sprintf("%d.cir", i))
		if err := os.WriteFile(path, []byte(deck), 0o600); err != nil {
			b.Fatal(err)
		}
		begun := time.Now()
		if out, err := exec.Command("ngspice", "-b", path).CombinedOutput(); err != nil && len(out) == 0 {
			b.Fatal(err)
		}
		took += time.Since(begun)
	}
	return took.Seconds() / float64(len(decks))
}

// BenchmarkOneDoorAgain tries every fault of one door of 20 again, as after an edit.
func BenchmarkOneDoorAgain(b *testing.B) {
	r := proof.Prove(wiring.Make(readSite(b, site.Generate(site.DoorsPerSupply))))
	for b.Loop() {
		proof.TryFaults(r, proof.SingleFaults, r.Doors[0].Door, nil)
	}
}
