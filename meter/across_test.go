package meter

import (
	"math"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
)

// Pairs between two circuits are of one place, live, none of them twice, read no less than nothing at the sound door at rest,
// and show faults.
func TestPairsAcrossTwoCircuits(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	for _, d := range site.Plan.Job.Doors {
		b, err := NewBook(site, d, Default(), Basis{})
		if err != nil {
			t.Fatal(err)
		}
		seen := map[Pair]bool{}
		var across []int
		for k, p := range b.Pairs {
			turned := p
			turned.At, turned.To = p.To, p.At
			if seen[p] || p.Quantity == Volts && seen[turned] {
				t.Errorf("%s: %v is there twice", d.ID, p)
			}
			seen[p] = true
			if !b.Across(k) {
				continue
			}
			across = append(across, k)
			if v := b.Sound.Shown[k].Value; p.In.Act == Idle && v < -0.001 {
				t.Errorf("%s: %v shows %v V at rest", d.ID, p, v)
			}
			if at, to := b.Device(p.At), b.Device(p.To); at.Place != to.Place || p.In.Power != On || p.Quantity != Volts {
				t.Errorf("%s: %v is not of two terminals at one place with power", d.ID, p)
			}
		}
		if len(across) == 0 {
			t.Errorf("%s has no pair across two circuits", d.ID)
		}
		list := fault.New(site.Plan).Of(d.ID)
		var some []*fault.Fault
		for i := 0; i < len(list); i += 11 {
			some = append(some, &list[i])
		}
		shown := 0
		for _, row := range b.Rows(some) {
			for _, k := range across {
				if x := row.Shown[k]; x.Behind < 100e3 && math.Abs(x.Value-b.Sound.Shown[k].Value) > 0.5 {
					shown++
				}
			}
		}
		if shown == 0 {
			t.Errorf("%s: no fault shows across two circuits", d.ID)
		}
	}
}
