package proof_test

import (
	"runtime"
	"testing"

	"doorwright/demo"
	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/wiring"
)

// All single faults of a job and everything within reach outside, in every cause: the demo, and sites of 20 doors to a
// supply.
func BenchmarkFaults(b *testing.B) {
	for _, c := range []struct {
		name string
		text []byte
	}{{"demo", demo.Brackwater}, {"20 doors", site.Generate(20)}, {"40 doors", site.Generate(40)}} {
		b.Run(c.name, func(b *testing.B) {
			r := proof.Prove(wiring.Make(readSite(b, c.text)))
			n, whole := 0, 0
			for b.Loop() {
				n, whole = 0, 0
				for _, d := range proof.TryFaults(r, proof.SingleFaults, nil, nil).Doors {
					n += len(d.Seen) + d.Tried
					whole += d.Whole
				}
			}
			b.ReportMetric(float64(n), "faults")
			b.ReportMetric(100*float64(whole)/float64(n), "%whole")
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*n), "us/fault")
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.HeapInuse)/1e6, "MB")
		})
	}
}

// The prints of all doors of a site, by which a change finds out whose faults it has to try anew.
func BenchmarkFaultPrints(b *testing.B) {
	r := proof.Prove(wiring.Make(readSite(b, site.Generate(100))))
	for b.Loop() {
		p := r.FaultPrints()
		for i := range r.Doors {
			p.Of(i)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(r.Doors)), "us/door")
}
