package meter

import (
	"fmt"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

func siteOf(t testing.TB, text string) *situation.Site {
	t.Helper()
	j, problems := job.Read("test.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return situation.New(wiring.Make(j))
}
func TestDump(t *testing.T) {
	for _, e := range Expect(siteOf(t, string(demo.Brackwater)), Default()) {
		fmt.Printf("%-10s|%s|%s|%.4g [%.4g %.4g] %s open=%v|%s\n", e.Door, e.Condition, e.Label, e.Nominal, e.Low, e.High, e.Unit, e.Open, e.Why)
	}
}

func BenchmarkDemo(b *testing.B) {
	site := siteOf(b, string(demo.Brackwater))
	for b.Loop() {
		Expect(site, Default())
	}
}
