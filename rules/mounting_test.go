package rules

import (
	"testing"

	"doorwright/unit"
)

// The reach bands as published: ADA 2010 standards 308.2.1 and 308.3.1, 15 in to 48 in (0.381 m and 1.2192 m; the
// standard prints 380 mm and 1220 mm); Approved Document M volume 2 (England) 4.30, 750 mm to 1200 mm (second-hand).
func TestReachOfFamilies(t *testing.T) {
	for _, c := range []struct {
		family    string
		low, high unit.Metre
	}{
		{"ibc-sensor-release", 0.38, 1.22},
		{"nfpa-sensor-release", 0.38, 1.22},
		{"uk-b", 0.75, 1.2},
		{"general", 1.0, 1.2},
		{"strictest", 1.0, 1.2},
	} {
		f, ok := FindFamily(c.family)
		if got := f.Reach().Value; !ok || got.Low != c.low || got.High != c.high {
			t.Errorf("%s: reach %v", c.family, got)
		}
	}
}

func TestDefaultsOfMountingsLieInTheirOwnBands(t *testing.T) {
	if len(Mountings()) == 0 {
		t.Fatal("no mountings")
	}
	for _, m := range Mountings() {
		if !m.Tall.Value.IsZero() && !m.Tall.Value.Holds(m.Height.Value) {
			t.Errorf("%s: the default height %v is outside %v", m.Item, m.Height.Value, m.Tall.Value)
		}
		if !m.Apart.Value.IsZero() && !m.Apart.Value.Holds(m.Beside.Value) {
			t.Errorf("%s: the default distance %v is outside %v", m.Item, m.Beside.Value, m.Apart.Value)
		}
		if m.AtHead != (m.Height.Value == 0) {
			t.Errorf("%s: at the head, or at a height", m.Item)
		}
		if MountingOf(m.Item).Item != m.Item {
			t.Errorf("%s is not found", m.Item)
		}
	}
}

// A green release at 1400 mm, as fire practice has it, is above what Approved Document M lets people reach.
func TestReleaseHasTheLimitsOfFireAndOfReach(t *testing.T) {
	uk, _ := FindFamily("uk-b")
	limits := Limits(ItemRelease, uk)
	if len(limits) != 2 || !limits[0].Band.Holds(1.4) || limits[1].Band.Holds(1.4) {
		t.Errorf("limits %v", limits)
	}
	ibc, _ := FindFamily("ibc-sensor-release")
	apart := 0
	for _, l := range Limits(ItemRelease, ibc, ibc) {
		if l.Distance {
			apart++
			if !l.Band.Holds(1.524) || l.Band.Holds(1.6) { // 5 ft, IBC 2018, 1010.1.9.9
				t.Errorf("distance %v", l.Band)
			}
		}
	}
	if apart != 1 {
		t.Errorf("%d limits of distance, want one", apart)
	}
}
