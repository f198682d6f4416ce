package find

import (
	"math"
	"math/rand/v2"
	"testing"

	"doorwright/demo"
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
		d.b = &s.beliefs[i]
		if y -= d.b.weight; y < 0 {
			break
		}
	}
	for range f.book.Knobs.All {
		d.knobs = append(d.knobs, r.NormFloat64())
	}
	return d
}

func (d *drawn) read(p meter.Pair) meter.Reading {
	i := d.f.book.Index(p)
	v := d.b.row.Shown[i].Value
	if math.IsInf(v, 1) {
		return p.ShowsOpen()
	}
	for _, s := range d.b.sways(d.f.book, i) {
		v += float64(s.By) * d.knobs[s.Knob]
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

func TestSimulated(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	r := rand.New(rand.NewPCG(1, 2))
	for _, door := range []string{"plant", "staff"} {
		for _, rule := range []Rule{{Name: "suggested", MeterOnly: true}, FixedOrder, Random(3)} {
			firsts := map[int]int{}
			thirds := map[int]int{}
			efforts := map[int]float64{}
			const cases = 40
			f, err := New(site, door, meter.Default())
			if err != nil {
				t.Fatal(err)
			}
			for range cases {
				f.reset()
				d := draw(f, r)
				spent := 0.0
				for n := 1; n <= 10; n++ {
					if next := f.Next(rule); next != nil {
						spent += next.Effort
						if err := f.Add(d.read(*next.Pair)); err != nil {
							t.Fatal(err)
						}
					}
					if n == 3 || n == 5 || n == 8 || n == 10 {
						efforts[n] += spent
						for k, g := range f.Suspects() {
							hit := false
							for _, s := range g.Suspects {
								hit = hit || s.ID == d.truth.id
							}
							if hit && k == 0 {
								firsts[n]++
							}
							if hit && k < 3 {
								thirds[n]++
							}
						}
					}
				}
			}
			t.Logf("%s %s: first %v, three %v of %d, effort %v", door, rule.Name, firsts, thirds, cases, efforts)
		}
	}
}
