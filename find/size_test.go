package find

import (
	"math/rand/v2"
	"slices"
	"testing"

	"doorwright/fault"
)

// What has any size, as a bad joint, is put at its place: readings of the engine with the fault as large as it is, without the help of
// looks. Sizes are drawn between those that the finder thinks of.
func TestAFaultOfAnySizeIsFoundAtItsPlace(t *testing.T) {
	f := finderOf(t, "staff")
	r := rand.New(rand.NewPCG(7, 1))
	var sizedOnes []*suspect
	for _, s := range f.suspects {
		if s.fault.Spread() > 0 {
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
	if surelyWrong > 0 || first < cases*2/3 {
		t.Errorf("first %d of %d, surely wrong %d", first, cases, surelyWrong)
	}
}
