package find

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"doorwright/meter"
)

var agreeDraws = flag.Int("agree", 60, "faults in conditions for which rows are held against ngspice")

// A row is worked out by shortcuts. At every pair it must show what ngspice makes of the network of the same fault in the
// same condition, as near as a meter tells: faults and conditions drawn at random.
func TestARowShowsWhatNgspiceMakesOfTheNetwork(t *testing.T) {
	read, doors := 0, arrangements
	if testing.Short() {
		doors = doors[:2]
	}
	draws := *agreeDraws / len(arrangements)
	for n, text := range doors {
		f := finderAsFound(t, text)
		r := rand.New(rand.NewPCG(uint64(n), 7))
		for range draws {
			s := f.suspects[r.IntN(len(f.suspects))]
			stop := f.book.Stops[r.IntN(len(f.book.Stops))]
			if s.fault == nil {
				continue
			}
			as := &s.beliefs[r.IntN(len(s.beliefs))]
			if restless(t, f, as, stop.In) {
				continue
			}
			v := &visit{
				t: t, f: f, truth: s, as: as, exact: true, lead: float64(f.meter.LeadOhms) / 2,
				decks: map[string]string{},
			}
			for k := stop.From; k < stop.To; k++ {
				if r.IntN(4) > 0 {
					continue
				}
				if y, ok := v.solve(f.book.Pairs[k]); ok {
					read++
					v.agrees(n, k, y)
				}
			}
		}
	}
	t.Logf("%d readings", read)
	if read < draws*len(doors) {
		t.Errorf("only %d readings", read)
	}
}

// With a lead of a lock cut, the meter reaches its winding through the diode at it, which conducts under the meter's own
// voltage: every reading of the dead door is what ngspice has.
func TestADiodeInTheWayOfAMeterIsWhatNgspiceHas(t *testing.T) {
	f := finderAsFound(t, arrangements[1])
	s := f.suspectOf("open:lead:door.lock1.coil.minus:door.lock1.coil-minus.joint.screw")
	as := &s.beliefs[0]
	v := &visit{t: t, f: f, truth: s, as: as, exact: true, lead: float64(f.meter.LeadOhms) / 2, decks: map[string]string{}}
	through := 0
	stop := f.book.Stops[f.book.Stop(meter.Condition{Power: meter.Off, Act: meter.Idle})]
	for k := stop.From; k < stop.To; k++ {
		y, ok := v.solve(f.book.Pairs[k])
		if !ok || f.book.Pairs[k].Quantity == meter.Volts {
			continue
		}
		v.agrees(1, k, y)
		if f.book.Pairs[k].Quantity == meter.Ohms && y > 500 && y < 700 {
			through++
		}
	}
	if through == 0 {
		t.Error("no reading is taken through the diode")
	}
}

// agrees holds what ngspice has against the row of the fault.
func (v *visit) agrees(arrangement, k int, y float64) {
	v.t.Helper()
	p, shown := v.f.book.Pairs[k], v.as.row.Shown[k]
	a, b := pointOf(p.Quantity, shown.Value, false).at, pointOf(p.Quantity, y, false).at
	if math.Abs(a-b) > apart*noise(v.f.meter, p.Quantity, shown) {
		v.t.Errorf("arrangement %d, %s: %s %s against %s (%s): row %.4g behind %.3g, ngspice %.4g",
			arrangement+1, v.truth.id, p.Quantity, p.At, p.To, p.In, shown.Value, shown.Behind, y)
	}
}

// restless says that what starts and stops by itself has no one reading: a meter jumps there.
func restless(t *testing.T, f *Finder, b *belief, in meter.Condition) bool {
	t.Helper()
	bench, err := meter.At(f.site, f.door, in, b.row.Fault)
	if err != nil {
		t.Fatal(err)
	}
	return !bench.Outcome().Settled()
}
