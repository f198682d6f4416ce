package cable

import (
	"slices"
	"testing"

	"doorwright/unit"
	"pgregory.net/rapid"
)

func ids(choices []Choice) []string {
	var all []string
	for _, c := range choices {
		all = append(all, c.Type.ID)
	}
	return all
}

// A 500 mA lock over 40 m that may lose 1.2 V: 2.4 ohm out and back, 30 ohm/km at 20 C. By IEC 60228 class 5, 0.5 mm2
// (39.0) is too thin and 0.75 mm2 (26.0) does.
func TestChooseTakesTheFirstSizeThatKeepsTheDrop(t *testing.T) {
	got := Choose(Types(), Need{Cores: 2, MakeUp: IEC, Length: 40, Temperature: 20, Limit: 2.4})
	if len(got) == 0 || got[0].Type.ID != "2x0.75" {
		t.Fatalf("chosen %v, want 2x0.75 first", ids(got))
	}
	if !near(float64(got[0].Loop.Max), 2*0.040*26.0, 1e-9) {
		t.Errorf("loop %v, want 2.08 ohm", got[0].Loop.Max)
	}
}

func TestChooseNeverTakesCladAluminium(t *testing.T) {
	for _, c := range Choose(Types(), Need{}) {
		if c.Type.ID == "cca-4x0.5" {
			t.Error("copper-clad aluminium was chosen")
		}
	}
}

func TestChooseKeepsPairsScreensAndMakeUp(t *testing.T) {
	x, _ := Find("2x2x0.22s")
	got := ids(Choose(Types(), Like(x)))
	if !slices.Equal(got, []string{"2x2x0.22s", "4x2x0.22s", "2x2x0.5s"}) {
		t.Errorf("replacements for two screened pairs: %v", got)
	}
}

// The four 18 AWG cores of the composite carry the lock; its thinner bundles do not count against it.
func TestChooseCountsTheThickestCoresOfAComposite(t *testing.T) {
	got := Choose(Types(), Need{Cores: 4, MakeUp: NorthAmerican, Length: 30, Temperature: 20, Limit: 1.4})
	i := slices.Index(ids(got), "18-4+22-6s+22-4+22-2")
	if i < 0 || got[i].Area != unit.AWG(18).Area() {
		t.Errorf("chosen %v", ids(got))
	}
	if slices.Contains(ids(got), "22-4") {
		t.Error("22-4 has 3.4 ohm and was chosen for 1.4")
	}
}

func TestChooseKeepsItsPromise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		need := Need{
			Cores: rapid.IntRange(0, 10).Draw(t, "cores"), Length: unit.Metre(rapid.Float64Range(1, 300).Draw(t, "length")),
			Temperature: 40, Limit: unit.Ohm(rapid.Float64Range(0.1, 30).Draw(t, "limit")),
		}
		got := Choose(Types(), need)
		for i, c := range got {
			if c.Loop.Max > need.Limit || len(c.Type.Cores()) < need.Cores {
				t.Fatalf("%s does not meet %+v", c.Type.ID, need)
			}
			if i > 0 && c.Area < got[i-1].Area {
				t.Fatalf("%s stands after a thicker %s", c.Type.ID, got[i-1].Type.ID)
			}
		}
		easier := need
		easier.Limit *= 2
		if len(Choose(Types(), easier)) < len(got) {
			t.Fatal("a wider limit leaves fewer types")
		}
	})
}
