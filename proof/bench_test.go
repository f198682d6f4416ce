package proof_test

import (
	"fmt"
	"runtime"
	"testing"

	"pgregory.net/rapid"

	"doorwright/demo"
	"doorwright/internal/site"
	"doorwright/job"
	"doorwright/proof"
	"doorwright/wiring"
)

func readSite(t rapid.TB, text []byte) *job.Job {
	t.Helper()
	j, problems := job.Read("site.yaml", text)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return j
}

// The demo job: eight doors, three supplies, every cause in every limit case.
func BenchmarkProveDemo(b *testing.B) {
	plan := wiring.Make(readSite(b, demo.Brackwater))
	b.ReportAllocs()
	for b.Loop() {
		proof.Prove(plan)
	}
}

// The time and memory for each door should not grow with the number of doors. A site of 10 doors is one island of 10,
// the others are islands of 20: what is compared is 100 with 1000.
func BenchmarkSite(b *testing.B) {
	for _, doors := range []int{10, 100, 1000} {
		text := site.Generate(doors)
		j := readSite(b, text)
		plan := wiring.Make(j)
		for _, step := range []struct {
			name string
			do   func()
		}{
			{"read", func() { readSite(b, text) }},
			{"plan", func() { wiring.Make(j) }},
			{"prove", func() { proof.Prove(plan) }},
		} {
			b.Run(fmt.Sprintf("%s/%d", step.name, doors), func(b *testing.B) { perDoor(b, doors, step.do) })
		}
	}
}

// perDoor reports what a step takes for each door.
func perDoor(b *testing.B, doors int, do func()) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for b.Loop() {
		do()
	}
	runtime.ReadMemStats(&after)
	n := float64(b.N) * float64(doors)
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/1e3/n, "us/door")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/1e3/n, "kB/door")
}
