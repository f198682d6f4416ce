package meter

import (
	"math"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
)

// The resistance of a pair of a dead network grows by as much as all its resistances do (Euler's theorem on homogeneous
// functions), and none of them makes it fall by growing. So no tolerance moves a reading by more than its own share of it,
// whatever a fault has cut or joined.
func TestNoToleranceMovesADeadReadingByMoreThanItsShare(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	for _, d := range site.Plan.Job.Doors[:3] {
		b, err := NewBook(site, d, Default(), Basis{})
		if err != nil {
			t.Fatal(err)
		}
		all := fault.New(site.Plan).Of(d.ID)
		faults := []*fault.Fault{nil}
		for i := range all {
			faults = append(faults, &all[i])
		}
		moved := 0
		for i, row := range b.Rows(faults) {
			for k, p := range b.Pairs {
				if p.Quantity == Volts || math.IsInf(row.Shown[k].Value, 1) {
					continue
				}
				for _, s := range row.Sways[k] {
					moved++
					share := b.Knobs.All[s.Knob].Share
					if by := math.Abs(float64(s.By)); by > 1.001*share*row.Shown[k].Value {
						t.Fatalf("door %s, %s: %s at %s, %s, %q shows %.4g and is moved by %.4g by %s of %.3g", d.ID, name(faults[i]), p.Quantity, p.At,
							p.To, p.In, row.Shown[k].Value, by, b.Knobs.All[s.Knob].Name, share)
					}
				}
			}
		}
		if moved == 0 {
			t.Errorf("door %s: no tolerance moves any dead reading", d.ID)
		}
	}
}

func name(f *fault.Fault) string {
	if f == nil {
		return "sound"
	}
	return f.ID
}
