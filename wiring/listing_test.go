package wiring_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/wiring"
)

var update = flag.Bool("update", false, "write the golden listings anew")

// demoPlan is the wiring plan of the demo job.
func demoPlan(t testing.TB) *wiring.Plan {
	t.Helper()
	j, problems := job.Read("brackwater.yaml", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	p := wiring.Make(j)
	if len(p.Problems) > 0 {
		t.Fatal(p.Problems)
	}
	return p
}

// listing lists what a plan holds, one line each, for the devices and conductors that keep holds true for.
func listing(p *wiring.Plan, keep func(door string) bool) []byte {
	var b bytes.Buffer
	for _, d := range p.Devices {
		if d.Added != nil && keep(d.Door) {
			fmt.Fprintf(&b, "added  %-24s %-18s %-14s %s\n", d.ID, d.ModelID, d.Place.ID, d.Added.Why)
		}
	}
	for _, c := range p.Conductors {
		if !keep(c.Door) {
			continue
		}
		id, colour := "", ""
		if c.Run != nil {
			id, colour = c.ID, c.Core.Colour
		}
		fmt.Fprintf(&b, "%-6s %-18s %-8s %-30s %-30s %s\n", c.Kind, id, colour, c.A, c.B, c.Reason.Purpose)
	}
	return b.Bytes()
}

// The landings of the first two doors, and of what they share, as reviewed.
func TestListingOfTheDemo(t *testing.T) {
	p := demoPlan(t)
	for _, file := range []struct {
		name string
		door string
	}{{"shared", ""}, {"visitor", "visitor"}, {"staff", "staff"}} {
		t.Run(file.name, func(t *testing.T) {
			got := listing(p, func(door string) bool { return door == file.door })
			path := "testdata/" + file.name + ".txt"
			if *update {
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("got\n%s\nwant\n%s\nwrite it anew with -update when the change is meant", got, want)
			}
		})
	}
}
