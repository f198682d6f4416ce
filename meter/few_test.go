package meter_test

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/device"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
	"doorwright/wiring"
)

func demoSite(t testing.TB) *situation.Site {
	t.Helper()
	j, problems := job.Read("demo.yaml", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return situation.New(wiring.Make(j))
}

// The short list is part of the book: the same pairs with the same bands.
func TestTheShortListAgreesWithTheBook(t *testing.T) {
	site := demoSite(t)
	for _, d := range site.Plan.Job.Doors[3:5] {
		whole, err := meter.NewBook(site, d, meter.Default(), meter.Basis{})
		if err != nil {
			t.Fatal(err)
		}
		_, list := meter.ShortList(site, d, meter.Default())
		if len(list) < 10 {
			t.Fatalf("%s: %d readings", d.ID, len(list))
		}
		for _, l := range list {
			k := whole.Index(l.Pair)
			if k < 0 {
				t.Errorf("%v is not in the book of %s", l.Pair, d.ID)
				continue
			}
			const rounding = 1e-6 // V; of ohms as much in parts of the figure
			got, want := l.Band, whole.Band(k)
			if got.Open != want.Open || differs(got.Low, want.Low, rounding) || !got.Open && differs(got.High, want.High, rounding) {
				t.Errorf("%v: %+v, in the book %+v", l.Pair, got, want)
			}
			if l.Why == "" {
				t.Errorf("%v is read for nothing", l.Pair)
			}
		}
	}
}

func differs(a, b, rounding float64) bool { return max(a-b, b-a) > rounding*max(1, a, -a) }

// What bears on life is on the list of every door that has it: every pole of a release alone healthy and operated, and
// each lock with the release operated and in a fire.
func TestTheShortListHoldsWhatBearsOnLife(t *testing.T) {
	site := demoSite(t)
	poles, locks := 0, 0
	for _, d := range site.Plan.Job.Doors {
		_, list := meter.ShortList(site, d, meter.Default())
		conditions := func(at string) string {
			var all []string
			for _, l := range list {
				if strings.HasPrefix(l.Pair.At, at) {
					all = append(all, l.Pair.In.String())
				}
			}
			return strings.Join(all, "; ")
		}
		for _, r := range d.Releases {
			for _, port := range r.Model.PortsOf(device.Contact) {
				got := conditions(r.ID + "." + port + ".")
				if got == "" {
					continue // nothing is landed there
				}
				poles++
				if want := "off, " + r.ID + " alone; off, release, " + r.ID + " alone"; got != want {
					t.Errorf("%s %s is read %q, not %q", r.ID, port, got, want)
				}
			}
		}
		for _, l := range d.Locks {
			locks++
			got := strings.Split(conditions(l.ID+"."), "; ")
			for _, want := range []string{"idle", "card"} {
				if !slices.Contains(got, want) {
					t.Errorf("%s is not read at %q: %q", l.ID, want, got)
				}
			}
			if len(d.Releases) > 0 && !slices.Contains(got, "release") {
				t.Errorf("%s is not read with the release operated: %q", l.ID, got)
			}
			if d.Fire != nil && !slices.Contains(got, "fire") {
				t.Errorf("%s is not read in a fire: %q", l.ID, got)
			}
		}
	}
	if poles == 0 || locks == 0 {
		t.Errorf("%d poles, %d locks", poles, locks)
	}
}

// Dead before live, and each condition once: a technician does not go back and forth.
func TestTheShortListIsInTheOrderOfTheWork(t *testing.T) {
	site := demoSite(t)
	for _, d := range site.Plan.Job.Doors {
		_, list := meter.ShortList(site, d, meter.Default())
		var order []meter.Condition
		for _, l := range list {
			if n := len(order); n == 0 || order[n-1] != l.Pair.In {
				if slices.Contains(order, l.Pair.In) {
					t.Errorf("%s comes back to %q", d.ID, l.Pair.In)
				}
				if n > 0 && l.Pair.In.Dead() && !order[n-1].Dead() {
					t.Errorf("%s is taken dead again for %q", d.ID, l.Pair.In)
				}
				order = append(order, l.Pair.In)
			}
		}
		if len(order) < 4 {
			t.Errorf("%s: %d conditions", d.ID, len(order))
		}
	}
}
