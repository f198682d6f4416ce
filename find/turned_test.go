package find

import (
	"testing"

	"doorwright/meter"
)

// A reading whose sign was missed is told from one that is wrong, and from one that is right.
func TestASignMissedIsTold(t *testing.T) {
	f := finderOf(t, "plant")
	f.reset()
	pair := meter.Pair{At: "plant.lock1.coil.plus", To: "plant.lock1.coil.minus", In: meter.Undisturbed(), Quantity: meter.Volts}
	volts := f.book.Band(f.book.Index(pair)).Nominal
	back := meter.Pair{At: pair.To, To: pair.At, In: pair.In, Quantity: pair.Quantity}
	for _, c := range []struct {
		r      meter.Reading
		turned bool
	}{
		{pair.Shows(volts), false},
		{pair.Shows(volts / 2), false},
		{pair.Shows(-volts), true},
		{back.Shows(-volts), false},
		{back.Shows(volts), true},
	} {
		f.reset()
		f.readings = nil
		if err := f.Add(c.r); err != nil {
			t.Fatal(err)
		}
		if got := len(f.Turned()) == 1; got != c.turned {
			t.Errorf("%s against %s at %v V: turned is %v", c.r.At, c.r.To, c.r.Value, got)
		}
	}
	f.readings = nil
	f.reset()
}
