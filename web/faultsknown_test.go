package web

import (
	"bytes"
	"testing"

	"doorwright/demo"
)

// After a change only those doors are tried anew whose faults could come to something else, and a change taken back is
// known.
func TestChangeTriesAnewOnlyWhatItCanTouch(t *testing.T) {
	known, doors := newKnownFaults(), 0
	tried := func(length string) int {
		text := bytes.Replace(demo.Brackwater, []byte("cable-length: 16 m"), []byte("cable-length: "+length), 1)
		on := newEngine().on("BTO", text)
		prints, before := on.exam.FaultPrints(), len(known.order)
		doors = len(on.job.Doors)
		for _, d := range on.job.Doors {
			if x := known.try(on.exam.Result, d, prints); x.seen == 0 {
				t.Errorf("%s: nothing was tried", d.ID)
			}
		}
		return len(known.order) - before
	}
	if n := tried("16 m"); n != doors {
		t.Errorf("%d of %d doors tried at first", n, doors)
	}
	if n := tried("18 m"); n < 1 || n > doors/2 {
		t.Errorf("%d of %d doors tried anew for a longer cable to one of them", n, doors)
	}
	if n := tried("16 m"); n != 0 {
		t.Errorf("%d doors tried anew for a change taken back", n)
	}
}
