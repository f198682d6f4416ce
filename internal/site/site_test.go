package site_test

import (
	"bytes"
	"fmt"
	"testing"

	"doorwright/internal/site"
)

func TestSiteHasSoManyDoorsAndSupplies(t *testing.T) {
	for _, c := range []struct{ doors, supplies int }{{1, 1}, {20, 1}, {21, 2}, {1000, 50}} {
		text := site.Generate(c.doors)
		if n := bytes.Count(text, []byte("    title: ")) - 1; n != c.doors { // the supply model has a title of the same depth
			t.Errorf("%d doors asked for, %d written", c.doors, n)
		}
		if n := bytes.Count(text, []byte("\n    model: supply-")); n != c.supplies {
			t.Errorf("%d doors hang on %d supplies, want %d", c.doors, n, c.supplies)
		}
	}
}

func TestSiteIsTheSameEachTime(t *testing.T) {
	if !bytes.Equal(site.Generate(45), site.Generate(45)) {
		t.Error("two documents of one number of doors differ")
	}
}

// A door is written alike whatever other doors are written, so that sites can be compared that differ by one door.
func TestDoorIsWrittenAlikeInEverySite(t *testing.T) {
	const n = 2 * site.DoorsPerSupply
	whole := site.Generate(n)
	for _, d := range site.Doors(n) {
		if d.Second() {
			continue
		}
		text := site.Of(d)
		from := bytes.Index(text, fmt.Appendf(nil, "\n  %s:\n", d.ID()))
		to := bytes.Index(text, []byte("\nruns:"))
		if from < 0 || to < from || !bytes.Contains(whole, text[from:to]) {
			t.Errorf("%s alone is not what it is among others", d.ID())
		}
	}
}
