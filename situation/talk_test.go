package situation_test

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/wiring"
)

// A reader that lights and sounds while it talks draws its peak over the 0 V core that its data stand on. Nothing
// differs between the cases but that peak.
func TestAReaderIsHeardAtItsPeak(t *testing.T) {
	for _, c := range []struct {
		name, peak string
		heard      bool
	}{
		{"no peak stated", "", true},
		{"peak of the built-in model", ", peak: 0.2 A", true},
		{"peak below what it draws anyway", ", peak: 0.05 A", true},
		{"peak that lifts its 0 V above the low level", ", peak: 1.5 A", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(string(demo.Brackwater), "\nplaces:", `
models:
  loud:
    kind: pulse-reader
    title: Loud reader
    strip:
      - {label: "+V", pin: feed.plus, to: 0.75 mm2}
      - {label: "0V", pin: feed.minus, to: 0.75 mm2, cores: 2}
      - {label: "D0", pin: data.d0, to: 0.75 mm2}
      - {label: "D1", pin: data.d1, to: 0.75 mm2}
    ports:
      feed: {is: load, use: feed, nominal: 12 V, window: 5 V to 15 V, watts: 1 W`+c.peak+`}
      data: {is: pulse-out}
places:`, 1)
			text = strings.Replace(text, "    entry: reader-pulse\n", "    entry: loud\n", 1)
			j, problems := job.Read("job.yaml", []byte(text))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			is := situation.New(wiring.Make(j)).Island("visitor.entry")
			b := is.Bench(situation.Nominal())
			if shown := b.Take(situation.Step{Show: "visitor.entry"}); shown.Heard != c.heard {
				t.Errorf("heard %v, want %v (%s)", shown.Heard, c.heard, shown.Failed)
			}
		})
	}
}
