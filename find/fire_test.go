package find

import (
	"math/rand/v2"
	"slices"
	"testing"

	"doorwright/job"
	"doorwright/meter"
	"doorwright/wiring"
)

// A fault in the wires of the fire signal is looked for with the signal given, and each time whoever monitors it is told
// first; the readings are those of the finder's own model.
func TestTheFireSignalIsGivenOnlyAfterItIsTold(t *testing.T) {
	f := finderAsFound(t, "lock: magnet-24\nbattery: battery-24-7\nentry: reader-pulse\nexit: [exit-button]\n"+
		"contact: contact-surface\nrelease: release-2\nfire: fire-interface\nlands: nc\nzero-volt: earthed\n")
	given, found, tried := 0, 0, 0
	var faults []*suspect
	for _, s := range f.suspects {
		if s.fault != nil && slices.ContainsFunc(s.fault.Of, func(d *wiring.Device) bool { return d.Role == job.RoleFire }) {
			faults = append(faults, s)
		}
	}
	if len(faults) == 0 {
		t.Fatal("no fault touches the fire interface")
	}
	for i, s := range faults {
		if testing.Short() && i%6 > 0 {
			continue
		}
		tried++
		f.reset()
		r := rand.New(rand.NewPCG(uint64(i), 8))
		d := drawn{f: f, truth: s, b: &s.beliefs[0], r: r}
		for range f.book.Knobs.All {
			d.knobs = append(d.knobs, r.NormFloat64())
		}
		for n := range truthSteps {
			was := f.now.in
			next := f.Next(Rule{Name: "suggested", MeterOnly: true})
			if next == nil {
				break
			}
			keeps(t, f, next, was, next.Pair.In, n == 0)
			obeys(t, f, next)
			if next.Pair.In.Act == meter.Fire {
				given++
			}
			if err := f.Add(d.read(*next.Pair)); err != nil {
				t.Fatal(err)
			}
		}
		if slices.ContainsFunc(f.Suspects()[0].Suspects, func(x Suspect) bool { return x.ID == s.id }) {
			found++
		}
	}
	t.Logf("%d faults at the fire interface, %d found, the signal given %d times", tried, found, given)
	if given == 0 && !testing.Short() {
		t.Error("the fire signal was never given")
	}
	if 2*found < tried {
		t.Errorf("%d of %d faults at the fire interface are found", found, tried)
	}
}
