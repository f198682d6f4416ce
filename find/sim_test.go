package find

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/situation"
	"doorwright/wiring"
)

func siteOf(t testing.TB, text string) *situation.Site {
	t.Helper()
	j, problems := job.Read("test.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return situation.New(wiring.Make(j))
}

// drawn is a door with one fault, one set of part values and one meter.
type drawn struct {
	f     *Finder
	truth *suspect
	b     *belief
	knobs []float64
	r     *rand.Rand
}

func draw(f *Finder, r *rand.Rand) drawn {
	total := 0.0
	for _, s := range f.suspects {
		if s.fault != nil {
			total += s.prior
		}
	}
	x := r.Float64() * total
	s := f.suspects[0]
	for _, s = range f.suspects {
		if s.fault == nil {
			continue
		}
		if x -= s.prior; x < 0 {
			break
		}
	}
	d := drawn{f: f, truth: s, r: r}
	y := r.Float64()
	for i := range s.beliefs {
		d.b = &belief{row: s.beliefs[i].row}
		if y -= s.beliefs[i].weight; y < 0 {
			break
		}
	}
	if s.fault != nil && s.fault.Spread > 0 {
		d.b.row = f.book.Rows([]*fault.Fault{anySize(s.fault, r.Float64())})[0]
	}
	for range f.book.Knobs.All {
		d.knobs = append(d.knobs, r.NormFloat64())
	}
	return d
}

// anySize is a fault at a size of any, as likely as any other between bounds: a joint or a leak a tenth to ten times what the catalogue
// has, what touches from 20 milliohm to 5 ohm, a drift within one and a half of its deviations. At is from 0 to 1.
func anySize(f *fault.Fault, at float64) *fault.Fault {
	least, most := -1.5*f.Spread, 1.5*f.Spread
	switch f.Class {
	case fault.High, fault.Wet:
		least, most = -math.Log(10), math.Log(10)
	case fault.Bridge, fault.Supplied, fault.Grounded, fault.Earthed:
		least, most = math.Log(0.02/float64(fault.BridgeOhms)), math.Log(5/float64(fault.BridgeOhms))
	}
	return sized(f, math.Exp(least+at*(most-least)))
}

func (d *drawn) read(p meter.Pair) meter.Reading {
	i := d.f.book.Index(p)
	v := d.b.row.Shown[i].Value
	if math.IsInf(v, 1) {
		return p.ShowsOpen()
	}
	for _, s := range d.b.sways(d.f.book, i) {
		v += float64(s.By) * (d.f.book.Knobs.All[s.Knob].Mean + d.knobs[s.Knob])
	}
	n := noise(d.f.meter, p.Quantity, d.b.row.Shown[i])
	if p.Quantity == meter.Ohms {
		v = math.Exp(math.Log(math.Max(v, 0)+1)+n*d.r.NormFloat64()) - 1
		if v > 3e6 {
			return p.ShowsOpen()
		}
		return p.Shows(math.Max(v, 0))
	}
	return p.Shows(v + n*d.r.NormFloat64())
}

// On readings drawn from its own model, suggested readings find the fault far more often than the checklist. (Readings
// made by another simulator are a matter of another test.)
func TestSuggestedReadingsFindMoreThanTheChecklist(t *testing.T) {
	f := finderOf(t, "staff")
	hits := map[string]int{}
	const readings = 8
	cases := 16
	if testing.Short() {
		cases = 8
	}
	for _, rule := range []Rule{{Name: "suggested", MeterOnly: true}, FixedOrder} {
		r := rand.New(rand.NewPCG(1, 2))
		for range cases {
			f.reset()
			d := draw(f, r)
			for range readings {
				if next := f.Next(rule); next != nil {
					if err := f.Add(d.read(*next.Pair)); err != nil {
						t.Fatal(err)
					}
				}
			}
			if slices.ContainsFunc(f.Suspects()[0].Suspects, func(s Suspect) bool { return s.ID == d.truth.id }) {
				hits[rule.Name]++
			}
		}
	}
	t.Logf("first after %d readings, of %d: %v", readings, cases, hits)
	if hits["suggested"] < cases*3/4 || hits["suggested"] < 2*hits["fixed order"] {
		t.Errorf("first after %d readings, of %d: %v", readings, cases, hits)
	}
}

func BenchmarkFinder(b *testing.B) {
	site := siteOf(b, string(demo.Brackwater))
	for b.Loop() {
		f, err := New(site, "plant", meter.Default())
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(f.suspects)), "suspects")
	}
}

func BenchmarkSuggestion(b *testing.B) {
	f := finderOf(b, "plant")
	r := rand.New(rand.NewPCG(1, 2))
	for _, read := range []int{0, 1, 3, 6} {
		b.Run(fmt.Sprint(read), func(b *testing.B) {
			f.reset()
			d := draw(f, r)
			for range read {
				if n := f.Next(Rule{Name: "suggested", MeterOnly: true}); n != nil {
					if err := f.Add(d.read(*n.Pair)); err != nil {
						b.Fatal(err)
					}
				}
			}
			for b.Loop() {
				f.Next(Suggested)
			}
		})
	}
}

// A reading that makes bad joints likely is the dearest to take into account: their sizes are fitted to it.
func BenchmarkReading(b *testing.B) {
	f := finderOf(b, "plant")
	p := meter.Pair{At: "plant.lock1.coil.plus", To: "plant.lock1.coil.minus", In: meter.Undisturbed(), Quantity: meter.Volts}
	for b.Loop() {
		b.StopTimer()
		f.reset()
		b.StartTimer()
		if err := f.Add(p.Shows(17.3)); err != nil {
			b.Fatal(err)
		}
	}
}
