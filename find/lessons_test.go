package find

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"doorwright/demo"
	"doorwright/meter"
)

// What stands behind megohms counts for almost nothing: a ghost of any height on a floating core leaves the suspects as
// they were.
func TestGhostVoltagesTellNothing(t *testing.T) {
	f := finderOf(t, "plant")
	ghosts := 0
	for k := range f.book.Pairs {
		s := f.suspectOf("open:W3/3")
		x := s.beliefs[0].row.Shown[k]
		if !ghost(f.book.Pairs[k].Quantity, x) {
			continue
		}
		ghosts++
		b := belief{row: s.beliefs[0].row}
		low, high := b, b
		by := 1.5
		if math.Abs(math.Abs(x.Value)-by) < 0.5 {
			by = 2.5 // nothing at all is what a floating pair shows most often
		}
		low.enter(f.book, k, x.Value-by, 40)
		high.enter(f.book, k, x.Value+by, 40)
		if math.Abs(low.log-high.log) > 0.3 || len(low.odd)+len(high.odd) > 0 {
			t.Errorf("%s behind %.2g ohm: a ghost of %v V is worth %.2f", f.Say(f.book.Pairs[k]), x.Behind, by, low.log-high.log)
		}
	}
	if ghosts == 0 {
		t.Error("no floating pair")
	}
}

// Once a fault is reported, healthy has a low prior; a door that reads sound everywhere is told to be so all the same.
func TestHealthyHasALowPriorAndComesBack(t *testing.T) {
	f := finderOf(t, "staff")
	if p := probabilityOf(f, Healthy); p > 0.05 {
		t.Errorf("healthy has %v before anything was read", p)
	}
	for _, c := range f.book.Stops {
		for k := c.From; k < c.To && !c.In.Dead(); k++ {
			if f.book.Stop(c.In) < 4 {
				if err := f.Add(f.book.Pairs[k].Shows(f.book.Sound.Shown[k].Value)); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	groups := f.Suspects()
	if !slices.ContainsFunc(groups[0].Suspects, func(s Suspect) bool { return s.ID == Healthy }) {
		t.Errorf("a sound door is told to have %s (%v)", groups[0].Suspects[0].Name, groups[0].Probability)
	}
}

// Bins only lose information: whatever is cut, a reading never promises more than the entropy of the suspects, and the
// probabilities of its bins add up to one. A range that was capped would break both.
func TestBinsInventNoInformation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 30).Draw(t, "suspects")
		w := weigher{}
		entropy := 0.0
		for i := range n {
			w.guesses = append(w.guesses, guess{&suspect{}, 1 / float64(n), nil})
			entropy += math.Log2(float64(n)) / float64(n)
			w.at = append(w.at, centre{
				i, 1, rapid.Float64Range(-30, 30).Draw(t, "mean"), rapid.Float64Range(0.01, 5).Draw(t, "deviation"),
			})
		}
		w.cut()
		w.fill()
		cells := len(w.edges) + 1
		for i := range n {
			sum := 0.0
			for _, p := range w.cells[i*cells : (i+1)*cells] {
				sum += p
			}
			if math.Abs(sum-1) > 1e-9 {
				t.Fatalf("the bins of suspect %d hold %v", i, sum)
			}
		}
		if bits := w.information(); bits < 0 || bits > entropy+1e-9 {
			t.Fatalf("%v bits out of %v", bits, entropy)
		}
	})
}

// Two at once: one of them is found; mended, and measured again, the other one is.
func TestMendTheFirstAndMeasureAgain(t *testing.T) {
	f := finderOf(t, "plant")
	first, second := "open:plant.head.s/3", "open:plant.in.s/3"
	for _, fact := range []string{
		"C3 DC1; C3 0V; idle; volts 5.0 V", "C3 REX1; C3 0V; idle; volts 5.0 V", "C3 AUX1; C3 0V; idle; volts 3.41 V",
		"plant.lock1 +; plant.lock1 -; idle; volts 26.0 V", "C3 +24V; C3 0V; idle; volts 26.8 V",
	} {
		tell(t, f, fact)
	}
	top := f.Suspects()[:3]
	named := false
	for _, g := range top {
		for _, s := range g.Suspects {
			named = named || strings.Contains(s.ID, first) || strings.Contains(s.ID, second) || strings.Contains(s.ID, "plant.head.s/4") ||
				strings.Contains(s.ID, "plant.in.s/4")
		}
	}
	if !named {
		t.Errorf("neither of the two is among the first: %s, %s, %s", top[0].Suspects[0].ID, top[1].Suspects[0].ID, top[2].Suspects[0].ID)
	}
	if err := f.Mend(first); err != nil {
		t.Fatal(err)
	}
	for _, fact := range []string{"C3 DC1; C3 0V; idle; volts 3.41 V", "C3 REX1; C3 0V; idle; volts 5.0 V", "C3 C1; C3 NC1; idle; volts 0.0 V"} {
		tell(t, f, fact)
	}
	if p := probabilityOf(f, first); p > 0.01 {
		t.Errorf("what was mended still has %v", p)
	}
	found := false
	for _, g := range f.Suspects()[:3] {
		for _, s := range g.Suspects {
			found = found || s.ID == second
		}
	}
	if !found {
		t.Error("the second is not found after the first was mended")
	}
}

// Readings of one door share its tolerances: a supply that stands high at its terminals explains a lock that does.
func TestReadingsShareTolerances(t *testing.T) {
	f := finderOf(t, "plant")
	supply := f.book.Index(meter.Pair{At: "PS2.out.plus", To: "PS2.out.minus", In: meter.Undisturbed(), Quantity: meter.Volts})
	lock := f.book.Index(meter.Pair{At: "plant.lock1.coil.plus", To: "plant.lock1.coil.minus", In: meter.Undisturbed(), Quantity: meter.Volts})
	b := belief{row: f.book.Sound}
	mean, before, _ := b.predict(f.book, lock, nil)
	b.enter(f.book, supply, f.book.Sound.Shown[supply].Value+0.25, 40)
	after, narrower, _ := b.predict(f.book, lock, nil)
	if after-mean < 0.1 || narrower >= before {
		t.Errorf("lock at %v +- %v, and with a high supply at %v +- %v", mean, before, after, narrower)
	}
}

// No sequence of suggestions breaks a safety rule, whatever is answered.
func TestSuggestionsKeepTheSafetyRules(t *testing.T) {
	steps, walks := 0, 12
	if testing.Short() {
		walks = 4 // one of each rule
	}
	r := rand.New(rand.NewPCG(5, 6))
	for _, door := range []string{"plant", "staff"} {
		f := finderOf(t, door)
		for walk := range walks {
			f.reset()
			d := draw(f, r)
			for n := range 9 {
				was := f.now.in
				rule := []Rule{Suggested, {Name: "suggested", MeterOnly: true}, FixedOrder, Random(uint64(walk))}[walk%4]
				next := f.Next(rule)
				if next == nil {
					break
				}
				steps++
				in := was
				if next.Pair != nil {
					in = next.Pair.In
				} else {
					in = next.Look.In
				}
				keeps(t, f, next, was, in, n == 0)
				if next.Pair == nil {
					o := *next.Look
					o.Is = o.What.Answers()[r.IntN(2)]
					if err := f.See(o); err != nil {
						t.Fatal(err)
					}
					continue
				}
				if err := f.Add(d.read(*next.Pair)); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	if steps < 8*walks {
		t.Errorf("only %d suggestions", steps)
	}
}

// keeps checks one suggestion.
func keeps(t testing.TB, f *Finder, n *Next, was, in meter.Condition, first bool) {
	t.Helper()
	must := func(rule string) {
		if !slices.Contains(n.Before, rule) {
			t.Errorf("%v in %v, after %v: not said before: %s", n.Pair, in, was, rule)
		}
	}
	if first {
		must(FirstPeople)
	}
	if in.Act == meter.Fire {
		must(FirstFire)
	}
	if in.Dead() && !was.Dead() {
		must(FirstOff)
	}
	if (in.Pulled != "" || in.Alone != "") && !in.Dead() {
		t.Errorf("%v is pulled with the power on", in)
	}
	if n.Pair == nil {
		return
	}
	if n.Pair.Quantity != meter.Volts {
		if !in.Dead() || !n.Dead {
			t.Errorf("%v on a pair that is not proved dead", n.Pair)
		}
		must(FirstDead)
	}
	for _, end := range []string{n.Pair.At, n.Pair.To} {
		d := f.deviceAt(end)
		if d == nil || strings.Contains(end, "mains") {
			t.Errorf("%s is no terminal to hold a lead to", end)
		}
	}
}

// finderOf is a finder of a door of the demo to which nothing was told. Tests run one after another and share it, as most of
// their time would go into making finders; one that was changed for good is made anew.
func finderOf(t testing.TB, door string) *Finder {
	t.Helper()
	if f := sharedFinders[door]; f != nil && len(f.loops)+len(f.extra) == 0 {
		f.opening = nil
		f.reset()
		return f
	}
	sharedFinders[door] = ownFinder(t, door, meter.Default())
	return sharedFinders[door]
}

var sharedFinders = map[string]*Finder{}

// ownFinder is a finder that no other test has.
func ownFinder(t testing.TB, door string, m meter.Meter) *Finder {
	t.Helper()
	f, err := New(siteOf(t, string(demo.Brackwater)), door, m)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func probabilityOf(f *Finder, id string) float64 {
	p := f.posterior()
	for i, s := range f.suspects {
		if s.id == id {
			return p[i]
		}
	}
	return 0
}

// A measured loop stands in place of the length: with twice the copper in its feed, a lock gets less.
func TestAMeasuredLoopReplacesTheLength(t *testing.T) {
	f := ownFinder(t, "plant", meter.Default())
	lock := meter.Pair{At: "plant.lock1.coil.plus", To: "plant.lock1.coil.minus", In: meter.Undisturbed(), Quantity: meter.Volts}
	before := f.book.Band(f.book.Index(lock))
	if err := f.Loop(meter.Loop{Run: "W3", Ohms: 4.6}); err != nil {
		t.Fatal(err)
	}
	after := f.book.Band(f.book.Index(lock))
	if after.Nominal > before.Nominal-0.4 {
		t.Errorf("%+v with the length, %+v with the loop", before, after)
	}
	if err := f.Loop(meter.Loop{Run: "W99", Ohms: 1}); err == nil {
		t.Error("a run that is not there is measured")
	}
}

// Where the door does not come to rest, a meter that shows one state again and again is believed: it does not speak against the
// fault a little more each time. One that shows something else each time is not held against it either.
func TestAStateThatIsReadAgainAndAgainIsBelieved(t *testing.T) {
	f := finderAsFound(t, arrangements[3])
	restless := f.suspectOf("high:door.out.s/2")
	idle := f.book.Stop(meter.Undisturbed())
	stop := f.book.Stops[idle]
	i := slices.IndexFunc(restless.beliefs, func(b belief) bool { return b.jumps && b.row.Restless[idle] })
	if i < 0 {
		t.Fatal("the reader does not keep restarting behind a bad joint")
	}
	row := restless.beliefs[i].row
	restless.beliefs = slices.DeleteFunc(restless.beliefs, func(b belief) bool { return b.row != row }) // of this size
	likelihood := func() float64 { return restless.log(nothing) - f.suspectOf(Healthy).log(nothing) }
	before, read := likelihood(), 0
	for k := stop.From; k < stop.To && read < 10; k++ {
		if row.Shown[k].Behind > 5000 || math.Abs(row.Shown[k].Value-f.book.Sound.Shown[k].Value) > 0.001 {
			continue // such a pair tells the two apart
		}
		read++
		if err := f.Add(f.book.Pairs[k].Shows(row.Shown[k].Value)); err != nil {
			t.Fatal(err)
		}
	}
	if by := before - likelihood(); read < 8 || by > 2 {
		t.Errorf("%d readings that both would show speak %.1f nats against what is restless", read, by)
	}
	f.reset()
	before = likelihood()
	for k := stop.From; k < stop.From+3; k++ {
		if err := f.Add(f.book.Pairs[k].Shows(row.Shown[k].Value + 2.5)); err != nil {
			t.Fatal(err)
		}
	}
	if likelihood() < before {
		t.Errorf("readings of no state speak %.1f nats for the sound door", before-likelihood())
	}
}

// No reading alone makes sure: it may be the wrong one.
func TestOneReadingDoesNotMakeSure(t *testing.T) {
	f := finderOf(t, "plant")
	pair := meter.Pair{At: "plant.lock1.coil.plus", To: "plant.lock1.coil.minus", In: meter.Undisturbed(), Quantity: meter.Volts}
	for _, volts := range []float64{-26, -3, 0, 13, 31, 60} {
		f.reset()
		prior, _ := f.leads(f.posterior())
		if err := f.Add(pair.Shows(volts)); err != nil {
			t.Fatal(err)
		}
		p := f.posterior()
		top, of := f.leads(p)
		_, without := f.leads(f.posteriorBut(fact{0, -1}))
		if most := 1 - wrongShare*(1-without[top]); of[top] > most+1e-9 {
			t.Errorf("%v V: group %d has %.4f, more than %.4f; %d led before", volts, top, of[top], most, prior)
		}
	}
}
