package find

import (
	"math"
	"math/rand/v2"
	"testing"

	"doorwright/meter"
)

// Where a short keeps a unit restarting, ngspice stands in one of the states of the door, frozen. What it has there is the state
// of the row or one of its turns; by the state of the row alone less than half of it fits.
func TestATurnIsWhatNgspiceHas(t *testing.T) {
	read, fits, alone := 0, 0, 0
	for n, text := range arrangements {
		f := finderAsFound(t, text)
		r := rand.New(rand.NewPCG(uint64(n), 8))
		for _, s := range f.suspects {
			as := &s.beliefs[len(s.beliefs)-1]
			if !as.jumps || s.fault == nil {
				continue
			}
			v := &visit{t: t, f: f, truth: s, as: as, exact: true, decks: map[string]string{}}
			for i, restless := range as.row.Restless {
				for k := f.book.Stops[i].From; restless && k < f.book.Stops[i].To; k++ {
					if r.IntN(40) > 0 || as.row.Shown[k].Behind > 100e3 || len(as.turns(k)) == 0 {
						continue
					}
					if y, ok := v.solve(f.book.Pairs[k]); ok {
						read++
						row, turn := as.isTurn(f, k, y)
						alone, fits = alone+int(truth(row)), fits+int(truth(row || turn))
					}
				}
			}
		}
	}
	t.Logf("of %d readings %d fit, with the state of the row alone %d", read, fits, alone)
	if read < 50 || fits*10 < read*9 || alone*2 > fits {
		t.Errorf("of %d readings %d fit, with the state of the row alone %d", read, fits, alone)
	}
}

// isTurn says that a reading is of the state of the row, or of a turn.
func (b *belief) isTurn(f *Finder, pair int, y float64) (row, turn bool) {
	d := noise(f.meter, meter.Volts, b.row.Shown[pair])
	for _, t := range b.turns(pair) {
		turn = turn || math.Abs(y-t) < apart*b.turnDeviation(pair, t, d)
	}
	return math.Abs(y-b.row.Shown[pair].Value) < apart*d, turn
}
