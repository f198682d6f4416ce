package wiring_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/cable"
	"doorwright/job"
	"doorwright/unit"
	"doorwright/wiring"
)

// Each end of each conductor lands once, in the order of the strips.
func TestEachEndLandsOnce(t *testing.T) {
	p := demoPlan(t)
	type end struct {
		conductor *wiring.Conductor
		at        wiring.End
	}
	seen := map[end]int{}
	last := map[string]int{}
	for _, l := range p.Landings() {
		seen[end{l.Conductor, wiring.End{Device: l.Device, Pin: l.Terminal.Pin}}]++
		if ends := []wiring.End{l.Conductor.A, l.Conductor.B}; !slices.Contains(ends, l.Far) {
			t.Errorf("the other end of %s is said to be %s", l.Conductor.ID, l.Far)
		}
		at := slices.Index(l.Device.Model.Strip, l.Terminal)
		if at < last[l.Device.ID] {
			t.Errorf("%s %s is out of order", l.Device.ID, l.Terminal.Label)
		}
		last[l.Device.ID] = at
	}
	n := 0
	for _, c := range p.Conductors {
		for _, e := range []wiring.End{c.A, c.B} {
			if e.Device == nil {
				continue
			}
			n++
			if seen[end{c, e}] != 1 {
				t.Errorf("%s lands %d times on %s", c.ID, seen[end{c, e}], e)
			}
		}
	}
	if n != len(p.Landings()) || n == 0 {
		t.Errorf("%d ends and %d landings", n, len(p.Landings()))
	}
}

// What lands for a door is what is of that door, and what its controller shares.
func TestLandingsForADoor(t *testing.T) {
	p := demoPlan(t)
	for _, d := range p.Job.Doors {
		own := 0
		for _, l := range p.LandingsFor(d) {
			if l.Conductor.Door != d.ID && l.Conductor.Door != "" {
				t.Errorf("%s of door %s lands for %s", l.Conductor.ID, l.Conductor.Door, d.ID)
			}
			if l.Conductor.Door == d.ID {
				own++
			}
		}
		want := 0
		for _, l := range p.Landings() {
			if l.Conductor.Door == d.ID {
				want++
			}
		}
		if own != want || own == 0 {
			t.Errorf("%s: %d of %d landings", d.ID, own, want)
		}
	}
}

// Every core of every run is listed once, used or spare, and no more are spare than the plan says.
func TestEveryCoreIsLaidOnce(t *testing.T) {
	p := demoPlan(t)
	laid := p.Laid()
	used, spare := 0, 0
	for _, r := range p.Job.Runs {
		seen := map[int]int{}
		for _, l := range laid[r] {
			switch {
			case l.Conductor == nil:
				spare++
			case l.Conductor.Run != r:
				t.Errorf("%s lies in %s", l.Conductor.ID, r.ID)
			case l.From.Device != nil && l.From.Device.Place != r.From && l.Conductor.Kind == wiring.Core:
				t.Errorf("%s begins at %s, and %s at %s", l.Conductor.ID, l.From, r.ID, r.From.ID)
			default:
				used++
			}
			if l.Conductor == nil || l.Conductor.Kind == wiring.Core {
				seen[l.Core.Index]++
			}
		}
		for _, k := range r.Type.Cores() {
			if seen[k.Index] != 1 {
				t.Errorf("core %d of %s is listed %d times", k.Index, r.ID, seen[k.Index])
			}
		}
	}
	want := 0
	for _, c := range p.Conductors {
		if c.Run != nil {
			want++
		}
	}
	if used != want || spare != len(p.Spares) {
		t.Errorf("%d used and %d spare, where the plan has %d and %d", used, spare, want, len(p.Spares))
	}
}

func TestMaterialsCountEverythingOnce(t *testing.T) {
	p := demoPlan(t)
	every := p.Materials(func(*wiring.Device) bool { return true }, func(*job.Run) bool { return true })
	pieces, metres := 0, 0.0
	for _, m := range every {
		pieces += m.Pieces
		metres += float64(m.Length)
		if (m.Group == wiring.Cables) != (m.Length > 0) || (m.Group == wiring.Cables) == (m.Pieces > 0) {
			t.Errorf("%s %s: %d pieces, %v", m.Group, m.ID, m.Pieces, m.Length)
		}
	}
	want := 0.0
	for _, r := range p.Job.Runs {
		want += float64(r.Length())
	}
	if pieces != len(p.Devices) || metres < want-1e-6 || metres > want+1e-6 {
		t.Errorf("%d pieces of %d, %.2f m of %.2f m", pieces, len(p.Devices), metres, want)
	}
	if none := p.Materials(func(*wiring.Device) bool { return false }, func(*job.Run) bool { return false }); len(none) > 0 {
		t.Errorf("nothing was wanted, and there is %v", none)
	}
}

func TestLandingsByDoorAreThoseForEachDoor(t *testing.T) {
	p := demoPlan(t)
	by := p.LandingsByDoor()
	for _, d := range p.Job.Doors {
		if want := p.LandingsFor(d); len(want) == 0 || !slices.Equal(by[d.ID], want) {
			t.Errorf("%s: %d landings, %d by door", d.ID, len(want), len(by[d.ID]))
		}
	}
}

// The sizes are those that sellers of ferrules name for these cores (common practice, no source).
func TestHowACoreIsMadeReady(t *testing.T) {
	for _, x := range []struct {
		size   unit.Size
		strand cable.Strand
		want   string
	}{
		{unit.MM2(0.75), cable.Flexible, "ferrule 0.75 mm2"},
		{unit.MM2(0.22), cable.Stranded, "ferrule 0.25 mm2"},
		{unit.AWG(18), cable.Stranded, "ferrule 1 mm2"},
		{unit.AWG(22), cable.Stranded, "ferrule 0.34 mm2"},
		{unit.MM2(1.5), cable.Solid, "no ferrule"},
		{unit.MM2(35), cable.Stranded, "a lug"},
	} {
		c := &wiring.Conductor{Kind: wiring.Core}
		c.Core.Conductor.Size, c.Core.Conductor.Strand = x.size, x.strand
		if got := (wiring.Landing{Conductor: c}).Prepare(); !strings.Contains(got, x.want) {
			t.Errorf("%v, %s: %s", x.size, x.strand, got)
		}
	}
	if got := (wiring.Landing{Conductor: &wiring.Conductor{Kind: wiring.Link}}).Prepare(); got != "" {
		t.Errorf("a link: %s", got)
	}
}
