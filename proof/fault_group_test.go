package proof_test

import (
	"reflect"
	"testing"

	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/wiring"
)

// A door comes out the same whether what it shares is tried for all doors at once, from frames with the fault in them,
// or for it alone, from sound frames. Only what shows a fault first may be told apart by a hair.
func TestADoorAmongManyComesOutAsAlone(t *testing.T) {
	r := proof.Prove(wiring.Make(readSite(t, site.Generate(6))))
	among := proof.TryFaults(r, proof.SingleFaults, nil, nil)
	shared := 0
	for _, i := range sample([]int{0, 1, 2, 3, 4, 5}, 4) {
		alone := proof.TryFaults(r, proof.SingleFaults, among.Doors[i].Door, nil).Doors[0]
		if len(alone.Seen) != len(among.Doors[i].Seen) || len(alone.Attacks) != len(among.Doors[i].Attacks) {
			t.Fatalf("%s: %d faults and %d attacks alone, %d and %d among many", alone.Door.ID,
				len(alone.Seen), len(alone.Attacks), len(among.Doors[i].Seen), len(among.Doors[i].Attacks))
		}
		for k, want := range alone.Seen {
			got := among.Doors[i].Seen[k]
			if got.Fault.ID != want.Fault.ID || !reflect.DeepEqual(got.Lost, want.Lost) || got.Notice != want.Notice ||
				got.Shows != want.Shows || got.Idle != want.Idle || got.Broken != want.Broken {
				t.Errorf("%s %s: %+v among many, alone %+v", alone.Door.ID, want.Fault.ID, got, want)
			}
			if want.Fault.Door == "" {
				shared++
			}
		}
	}
	if shared < 100 {
		t.Errorf("only %d faults were shared", shared)
	}
}
