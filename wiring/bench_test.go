package wiring_test

import (
	"fmt"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/wiring"
)

func BenchmarkMakeDemo(b *testing.B) {
	j, problems := job.Read("brackwater.yaml", demo.Brackwater)
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	for b.Loop() {
		wiring.Make(j)
	}
}

// The time for each door should not grow with the number of doors.
func BenchmarkMakeDoors(b *testing.B) {
	for _, n := range []int{10, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			order := make([]int, n)
			doors := make([]string, n)
			for i := range n {
				order[i] = i
				doors[i] = "locks: [magnet-12]\nentry: reader-pulse\nexit: [exit-button]\ncontacts: [contact-surface]\n" +
					"releases: [release-2]\nfire: fire-interface\nwatch: relay-12\nsupervision: double"
			}
			j := readJob(b, drawnJob(doors, "iec", "earthed", order))
			b.ResetTimer()
			for b.Loop() {
				wiring.Make(j)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(n), "us/door")
		})
	}
}
