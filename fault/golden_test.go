package fault_test

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"doorwright/fault"
)

// The catalogue of a small door and what can be done to it from outside, as reviewed. UPDATE=1 go test ./fault writes it
// anew; the difference is read before it is kept.
func TestListingOfASmallDoor(t *testing.T) {
	plan := oneDoor(t, "locks: [strike-12-secure]\nentry: reader-pulse\nexit: [exit-button]\nsupervision: double")
	var got bytes.Buffer
	for _, part := range []struct {
		title  string
		faults []fault.Fault
	}{
		{"faults of the door", fault.Of(plan, "D1")},
		{"faults of what is shared", fault.Of(plan, "")},
		{"attacks on the door", fault.Attacks(plan, "D1")},
	} {
		fmt.Fprintf(&got, "== %s: %d\n", part.title, len(part.faults))
		for _, n := range fault.Counts(part.faults) {
			fmt.Fprintf(&got, "   %-9s %d\n", n.Class, n.Faults)
		}
		for i, f := range part.faults {
			fmt.Fprintf(&got, "%-60s %s\n", f.ID, f.Name)
			if i == 0 || part.faults[i-1].Class != f.Class { // one of each class in full
				fmt.Fprintf(&got, "    where: %s\n    repair: %s\n    edits: %d\n", f.Where, f.Repair, len(f.Edits))
			}
		}
	}
	const path = "testdata/small-door.golden"
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("got\n%s\nwant %s; write it anew with UPDATE=1 when the change is meant", got.Bytes(), path)
	}
}
