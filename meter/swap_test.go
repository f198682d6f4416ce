package meter

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/job"
)

// With the two data lines of a reader swapped, all idle voltages are as at the sound door, yet the terminal of the one line is
// pulled up by the reference of the other: what moves a reading there is that of the other line.
func TestWhatSwaysAReadingGoesWithTheSwappedLine(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	var swap *fault.Fault
	for _, f := range fault.New(site.Plan).Of("plant") {
		if f.ID == "swap:plant.out.s/5+6" {
			swap = &f
		}
	}
	at := slices.IndexFunc(site.Plan.Job.Doors, func(d *job.Door) bool { return d.ID == "plant" })
	b, err := NewBook(site, site.Plan.Job.Doors[at], Default(), Basis{})
	if err != nil || swap == nil {
		t.Fatal(err, swap)
	}
	row := b.Rows([]*fault.Fault{swap})[0]
	pair := -1
	for k, p := range b.Pairs {
		if p.In == Undisturbed() && p.At == "plant.entry.data.d0" && p.To == "plant.entry.data.common" {
			pair = k
		}
	}
	if pair < 0 {
		t.Fatal("the line is not read")
	}
	pulledBy := func(r *Row) string {
		most, by := 0.0, ""
		for _, s := range r.Sways[pair] {
			if name := b.Knobs.All[s.Knob].Name; strings.HasSuffix(name, "-pull-up, strength") && float64(s.By) > most {
				most, by = float64(s.By), name
			}
		}
		return by
	}
	if row.Shown[pair].Value < 4 || b.Sound.Shown[pair].Value < 4 {
		t.Errorf("idle, the line shows %.2f V, sound %.2f V", row.Shown[pair].Value, b.Sound.Shown[pair].Value)
	}
	if sound, swapped := pulledBy(b.Sound), pulledBy(row); !strings.Contains(sound, ".d0-") || !strings.Contains(swapped, ".d1-") {
		t.Errorf("sound, the line goes with %q, swapped with %q", sound, swapped)
	}
}
