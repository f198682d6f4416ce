package proof_test

import (
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

// All single faults of the demo job and everything within reach outside, in every cause.
func BenchmarkFaultsOfTheDemo(b *testing.B) {
	j, problems := job.Read("job.yaml", demo.Brackwater)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	r := proof.Prove(wiring.Make(j))
	n := 0
	for b.Loop() {
		n = 0
		for _, d := range proof.TryFaults(r, proof.SingleFaults, nil, nil).Doors {
			n += len(d.Seen) + d.Tried
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/fault")
}
