package find

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"doorwright/fault"
	"doorwright/meter"
)

// What has any size, as a bad joint, is put at its place: readings of the engine with the fault as large as it is, without the help of
// looks. Sizes are drawn between those that the finder thinks of.
func TestAFaultOfAnySizeIsFoundAtItsPlace(t *testing.T) {
	f := finderOf(t, "staff")
	r := rand.New(rand.NewPCG(7, 1))
	var sizedOnes []*suspect
	for _, s := range f.suspects {
		if s.fault != nil && s.fault.Spread > 0 {
			sizedOnes = append(sizedOnes, s)
		}
	}
	cases, first, surelyWrong := 40, 0, 0
	if testing.Short() {
		cases = 8
	}
	for range cases {
		f.reset()
		s := sizedOnes[r.IntN(len(sizedOnes))]
		at := r.Float64()
		d := drawn{f: f, truth: s, r: r, b: &belief{row: f.book.Rows([]*fault.Fault{anySize(s.fault, at)})[0]}}
		for range f.book.Knobs.All {
			d.knobs = append(d.knobs, r.NormFloat64())
		}
		d.knobs[f.book.Knobs.Size] = 0 // the row has it
		for range 12 {
			if next := f.Next(Rule{Name: "suggested", MeterOnly: true}); next != nil {
				if err := f.Add(d.read(*next.Pair)); err != nil {
					t.Fatal(err)
				}
			}
		}
		lead := f.Suspects()[0]
		switch {
		case slices.ContainsFunc(lead.Suspects, func(x Suspect) bool { return x.ID == s.id }):
			first++
		case lead.Probability > 0.9:
			surelyWrong++
			fallthrough
		default:
			t.Logf("%s at %.2f of its sizes: %s (%.2f)", s.id, at, lead.Suspects[0].ID, lead.Probability)
		}
	}
	t.Logf("first %d of %d, surely wrong %d", first, cases, surelyWrong)
	if surelyWrong > cases/10 || first < cases*2/3 {
		t.Errorf("first %d of %d, surely wrong %d", first, cases, surelyWrong)
	}
}

// A joint in the minus of a strike of 40 ohm: the supply gives 12.5 V, the strike has 8.7 V, all the rest is lost behind it. By Ohm's
// law the joint has 40 ohm times (12.5 - 8.7) / 8.7, some 17.5 ohm, which is none of the sizes in the catalogue; and whether it is in
// the core or in the lead of the strike, these readings do not tell.
func TestTheSizeOfAJointIsThatOfOhmsLaw(t *testing.T) {
	f := finderOf(t, "staff")
	if name := f.suspectOf("high:staff.head.p/2").name; strings.Contains(name, "22") {
		t.Errorf("%q has the size of the catalogue", name)
	}
	for _, text := range []string{
		"staff.lock1 +; staff.lock1 -; card; volts 8.7 V", "C2 NO1; staff.lock1 -; card; volts 8.8 V", "C2 NO1; C2 0V; card; volts 12.5 V",
	} {
		r, err := meter.ParseReading(text)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.Add(r); err != nil {
			t.Fatal(err)
		}
	}
	groups := f.Suspects()
	want := []string{"high:lead:staff.lock1.coil.minus:staff.lock1.coil-minus.joint.screw", "high:staff.head.p/2"}
	for i := range want {
		s := groups[i].Suspects[0]
		if !slices.Contains(want, s.ID) || groups[i].Probability < 0.4 {
			t.Errorf("%s has %.2f", s.ID, groups[i].Probability)
		}
		ohms, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(s.Size, "about "), " ohm"), 64)
		if ohm := 40 * (12.5 - 8.7) / 8.7; err != nil || math.Abs(ohms/ohm-1) > 0.1 {
			t.Errorf("%s is %s, by Ohm's law %.1f ohm", s.ID, s.Size, ohm)
		}
	}
}

// In whatever order readings are told, they come to the same: the size is fitted as they come, from where the last fit left it.
func TestSizesDoNotGoByTheOrderOfReadings(t *testing.T) {
	f := finderOf(t, "staff")
	texts := []string{
		"staff.lock1 +; staff.lock1 -; card; volts 8.7 V", "C2 NO1; staff.lock1 -; card; volts 8.8 V",
		"C2 NO1; C2 0V; card; volts 12.5 V", "staff.lock1 +; staff.lock1 -; off; ohms 41 ohm",
	}
	var first []float64
	for _, order := range [][]int{{0, 1, 2, 3}, {3, 2, 1, 0}, {1, 3, 0, 2}, {2, 0, 3, 1}} {
		f.reset()
		for _, i := range order {
			r, err := meter.ParseReading(texts[i])
			if err == nil {
				err = f.Add(r)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		p := f.posterior()
		if first == nil {
			first = p
		}
		for i := range p {
			if math.Abs(p[i]-first[i]) > 0.05 {
				t.Errorf("read in order %v %s has %.3f, else %.3f", order, f.suspects[i].id, p[i], first[i])
			}
		}
	}
}

// A pair that is not among the usual ones makes everything be worked out anew: what was read and seen before then counts once, also where
// a size was fitted.
func TestWhatWasSeenCountsOnceWhenAllIsWorkedOutAnew(t *testing.T) {
	f := ownFinder(t, "staff", meter.Default())
	seen := meter.Observation{What: meter.LockHolds, Is: "yes", In: meter.Condition{Power: meter.On, Act: meter.Card}}
	var extra *meter.Pair
	for _, a := range f.book.Pairs {
		for _, b := range f.book.Pairs {
			p := meter.Pair{At: a.At, To: b.To, In: meter.Undisturbed(), Quantity: meter.Volts}
			turned := meter.Pair{At: b.To, To: a.At, In: p.In, Quantity: p.Quantity}
			if extra == nil && p.At != p.To && f.book.Index(p) < 0 && f.book.Index(turned) < 0 {
				extra = &p
			}
		}
	}
	if extra == nil {
		t.Fatal("every pair is among the usual ones")
	}
	texts := []string{"staff.lock1 +; staff.lock1 -; card; volts 8.7 V", "C2 NO1; staff.lock1 -; card; volts 8.8 V"}
	for _, text := range texts {
		r, err := meter.ParseReading(text)
		if err == nil {
			err = f.Add(r)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := f.See(seen); err != nil {
		t.Fatal(err)
	}
	if err := f.Add(extra.Shows(0.3)); err != nil {
		t.Fatal(err)
	}
	fitted := 0
	for _, s := range f.suspects {
		for i := range s.beliefs {
			b := &s.beliefs[i]
			if b.base != nil {
				fitted++
			}
			if len(b.read) != len(texts)+1 || len(b.saw) != 1 {
				t.Errorf("%s has %d readings and %d looks", s.id, len(b.read), len(b.saw))
			}
		}
	}
	if fitted == 0 {
		t.Error("no size was fitted")
	}
}
