package find

import (
	"flag"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"doorwright/meter"
	"doorwright/situation"
	"doorwright/wiring"
)

var (
	truthCases = flag.Int("cases", 6, "cases of the truth harness; each is a door, a fault and part values")
	truthRight = flag.Bool("right", false, "no reading of the truth harness is taken at the wrong place or in the wrong condition")
	truthFrom  = flag.Int("from", 0, "first case of the truth harness")
	truthKept  = flag.String("kept", "", "file that every finished case is added to; cases in it are not walked again, and the tables are of all in it")
)

// arrangements are the doors that the harness draws from. The supply bonds 0 V to earth where nothing else is said.
var arrangements = []string{
	"lock: magnet-12\nbattery: battery-12-7\nentry: reader-pulse\nexit: [exit-button]\ncontact: contact-surface\n" +
		"release: release-2\nlands: nc\nsupervision: double\nzero-volt: earthed\n",
	"lock: strike-12-secure\nentry: reader-pulse\nexit: [exit-button]\ncontact: contact-surface\nzero-volt: earthed\n",
	"lock: magnet-24\nbattery: battery-24-7\nentry: reader-pulse\nexit: [exit-button]\ncontact: contact-surface\n" +
		"release: release-2\nlands: nc\nsupervision: single\nzero-volt: earthed\n",
	"lock: magnet-12-diode\nentry: reader-pulse\nexit: [exit-button-2]\ncontact: contact-surface\nrelease: release-1\n" +
		"lands: nc\nzero-volt: floating\n",
	"lock: strike-12-safe\nbattery: battery-12-7\nentry: reader-pulse\nexit: [exit-sensor-12]\n" +
		"contact: contact-surface\nrelease: release-2\nsupervision: double\nzero-volt: earthed\n",
	"lock: strike-24-secure\nentry: reader-485\nexit: [exit-button]\ncontact: contact-surface\nsupervision: double\n" +
		"zero-volt: earthed\ncable-length: 30 m\n",
}

// way is how a case is gone through: by a rule, and with what the caller told or without.
type way struct {
	name string
	rule Rule
	told bool
}

// truthWays are the ways that a case is gone through. One round of the arrangements in four is enough to know the checklist and
// chance by.
func truthWays(c int) []way {
	meterOnly := Rule{Name: "suggested", MeterOnly: true}
	ways := []way{{name: "suggested", rule: meterOnly}, {name: "with looks", rule: Suggested}, {name: "told", rule: Suggested, told: true}}
	if c/len(arrangements)%4 == 0 {
		ways = append(ways, way{name: "fixed order", rule: FixedOrder}, way{name: "random", rule: Random(uint64(c))})
	}
	return ways
}

// truthSteps is how many readings a case has at most.
const truthSteps = 14

// visit is one faulty door as the world has it: the engine's network in a condition, its parts moved within their
// tolerance, solved by ngspice.
type visit struct {
	t     testing.TB
	f     *Finder
	truth *suspect
	as    *belief
	seed  uint64
	lead  float64            // ohm, of both test leads
	gain  map[string]float64 // of the meter, by quantity
	exact bool               // all parts and the meter as the model has them
	decks map[string]string
	shown map[meter.Pair]meter.Reading
	r     *rand.Rand

	unsolved int   // readings that ngspice found no answer for
	alike    []int // group of each suspect by readings alone
}

func newVisit(t testing.TB, f *Finder, seed uint64) *visit {
	r := rand.New(rand.NewPCG(seed, 4))
	d := draw(f, r)
	m := f.meter
	return &visit{
		t: t, f: f, truth: d.truth, as: d.b, seed: seed, r: r, lead: r.Float64() * float64(m.LeadOhms),
		gain: map[string]float64{
			string(meter.Volts): m.Volts.Share * (2*r.Float64() - 1), string(meter.Ohms): m.Ohms.Share * (2*r.Float64() - 1),
		},
		decks: map[string]string{}, shown: map[meter.Pair]meter.Reading{},
	}
}

// chanceOf is a number of the name of a part alone, the same in every condition of a visit.
func (v *visit) chanceOf(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(v.seed, h.Sum64()))
}

// normal is a normal number of a name, cut off at two deviations as parts beyond tolerance are.
func (v *visit) normal(name string) float64 {
	return max(-2, min(2, v.chanceOf(name).NormFloat64()))
}

var (
	commentLine = regexp.MustCompile(`^\* (\S+)$`)
	partLine    = regexp.MustCompile(`^([RV])(\d+) (\S+) (\S+) (DC )?(\S+)$`)
)

// moved is a deck with its parts moved: cores by their run's length (15 %) and by 0.1 ohm of joints, resistors by 1 %,
// windings by 7 % with their temperature, batteries and fixed voltages by 2 %, contacts by a drawn resistance (the model
// has one figure for all).
func (v *visit) moved(deck string) string {
	lines := strings.Split(deck, "\n")
	name := ""
	for i, line := range lines {
		if m := commentLine.FindStringSubmatch(line); m != nil {
			name = m[1]
			continue
		}
		m := partLine.FindStringSubmatch(line)
		if m == nil || name == "" {
			continue
		}
		x, err := strconv.ParseFloat(m[6], 64)
		if err != nil || x >= 1e8 || x == 0 {
			continue
		}
		lines[i] = strings.TrimSuffix(line, m[6]) + strconv.FormatFloat(v.value(m[1], name, x), 'g', 12, 64)
	}
	return strings.Join(lines, "\n")
}

func (v *visit) value(kind, name string, x float64) float64 {
	if v.exact {
		return x
	}
	run, _, isCore := strings.Cut(name, "/")
	switch {
	case kind == "V":
		return x * (1 + 0.01*v.normal(name))
	case isCore:
		return x*(1+0.075*v.normal(run)) + 0.05*v.chanceOf(name).ExpFloat64()
	case strings.HasSuffix(name, "winding"):
		return x * (1 + 0.05*v.normal(name))
	case strings.HasSuffix(name, "contact"):
		return x + 0.05*v.chanceOf(name).ExpFloat64()
	case strings.HasSuffix(name, "resistor"):
		return x * (1 + 0.005*v.normal(name))
	}
	return x * (1 + 0.01*v.normal(name))
}

// deck is the faulty door in a condition.
func (v *visit) deck(in meter.Condition) string {
	key := in.String()
	if d, ok := v.decks[key]; ok {
		return d
	}
	b, err := meter.At(v.f.site, v.f.door, in, v.as.row.Fault)
	if err != nil {
		v.t.Fatal(err)
	}
	d := v.moved(b.Netlist("visit"))
	v.decks[key] = d
	return d
}

// read is what the meter shows: the wrong pair once in twenty, the wrong condition once in forty.
func (v *visit) read(p meter.Pair) (meter.Reading, bool) {
	if r, ok := v.shown[p]; ok {
		return r, true
	}
	at := p
	r := v.chanceOf(fmt.Sprint(p))
	stop := v.f.book.Stops[v.f.book.Stop(p.In)]
	switch x := r.Float64(); {
	case *truthRight:
	case x < 0.05:
		other := v.f.book.Pairs[stop.From+r.IntN(stop.To-stop.From)]
		if other.Quantity == p.Quantity {
			at = other
		}
	case x < 0.075 && !p.In.Dead() && p.In.Act != meter.Idle:
		at.In.Act = meter.Idle
	}
	y, ok := v.solve(at)
	if !ok {
		return meter.Reading{}, false
	}
	out := p.Shows(y)
	if math.IsInf(y, 1) {
		out = p.ShowsOpen()
	}
	v.shown[p] = out
	return out, true
}

// walk takes readings one way and marks each step.
func (v *visit) walk(by way) []mark {
	v.f.reset()
	var marks []mark
	effort := 0.0
	steps := truthSteps
	if by.rule == Suggested {
		steps *= 3 // looks are many and cheap
	}
	if by.told {
		told, ok := v.complaint()
		told.Called = ok
		if !ok {
			told = meter.Observation{What: meter.Works, Is: "yes", In: meter.Undisturbed()}
		}
		if err := v.f.See(told); err != nil {
			v.t.Fatal(err)
		}
		v.f.now = v.f.standing()
		marks = append(marks, v.mark(0))
	}
	for n := range steps {
		was := v.f.now.in
		first := n == 0
		next := v.f.Next(by.rule)
		if next == nil {
			break
		}
		if next.Pair == nil {
			keeps(v.t, v.f, next, was, next.Look.In, first)
			effort += next.Effort
			if err := v.f.See(v.look(*next.Look)); err != nil {
				v.t.Fatal(err)
			}
			marks = append(marks, v.mark(effort))
			continue
		}
		keeps(v.t, v.f, next, was, next.Pair.In, first)
		obeys(v.t, v.f, next)
		r, ok := v.read(*next.Pair)
		if !ok {
			v.unsolved++
			break
		}
		effort += next.Effort
		if err := v.f.Add(r); err != nil {
			v.t.Fatal(err)
		}
		marks = append(marks, v.mark(effort))
	}
	return marks
}

// look answers what is seen as the engine has it, with people's errors; no circuit simulator knows what people see.
func (v *visit) look(o meter.Observation) meter.Observation {
	stop := v.f.book.Stop(o.In)
	x := v.chanceOf(fmt.Sprint(o.What, o.In)).Float64()
	for _, o.Is = range o.What.Answers() {
		if x -= chance(v.truth, v.as.row, stop, o.What, o.Is); x < 0 {
			break
		}
	}
	return o
}

// complaint is what somebody calls for: one thing, drawn, that is seen with power and mostly is otherwise at a sound door. With
// many faults there is none.
func (v *visit) complaint() (meter.Observation, bool) {
	var all []meter.Observation
	sound := v.f.suspectOf(Healthy)
	for i := range v.f.book.Stops {
		in := v.f.book.Stops[i].In
		if in.Power != meter.On || in.Act == meter.Fire {
			continue
		}
		for _, what := range meter.Sights() {
			if what == meter.OpensItself || what == meter.FuseBlown || what == meter.Works {
				continue // the first is seen with anything, the second by nobody who calls, the third is no complaint
			}
			for _, is := range what.Answers() {
				if chance(v.truth, v.as.row, i, what, is) > 0.5 && chance(sound, v.f.book.Sound, i, what, is) < 0.5 {
					all = append(all, meter.Observation{What: what, Is: is, In: in})
				}
			}
		}
	}
	if len(all) == 0 {
		return meter.Observation{}, false
	}
	return all[v.chanceOf("complaint").IntN(len(all))], true
}

func (v *visit) mark(effort float64) mark {
	m := mark{Effort: effort}
	for i, g := range v.f.Suspects() {
		if i == 0 {
			m.Says = g.Probability
		}
		if g.Probability > 0 {
			m.Left -= g.Probability * math.Log2(g.Probability)
		}
		if i < 3 && slices.ContainsFunc(g.Suspects, func(s Suspect) bool { return s.ID == v.truth.id }) {
			m.First, m.Third = i == 0, true
		}
	}
	m.Left = math.Round(m.Left*1e4) / 1e4
	m.Alike = v.leadsAlike()
	return m
}

// leadsAlike says that the true group leads when suspects that all readings have alike are one group.
func (v *visit) leadsAlike() bool {
	of := map[int]float64{}
	top, truth := 0.0, -1
	for i, p := range v.f.posterior() {
		g := len(v.alike) + i // two at once
		if i < len(v.alike) {
			g = v.alike[i]
		}
		if of[g] += p; of[g] > top {
			top = of[g]
		}
		if v.f.suspects[i] == v.truth {
			truth = g
		}
	}
	return truth >= 0 && of[truth] >= top
}

// obeys checks the safety of a suggestion against the plan alone.
func obeys(t testing.TB, f *Finder, n *Next) {
	t.Helper()
	if n.Pair.Quantity != meter.Volts && (n.Pair.In.Power != meter.Off || !n.Dead || !slices.Contains(n.Before, FirstDead)) {
		t.Errorf("%v on what is not proved dead", n.Pair)
	}
	if n.Pair.Quantity != meter.Volts && n.Pair.Quantity != meter.Ohms && n.Pair.Quantity != meter.Diode {
		t.Errorf("%s is suggested: insulation belongs to first fix", n.Pair.Quantity)
	}
	if n.Pair.In.Act == meter.Fire && !slices.Contains(n.Before, FirstFire) {
		t.Errorf("%v: nobody is told of the fire signal", n.Pair)
	}
	for _, end := range []string{n.Pair.At, n.Pair.To} {
		d := f.book.Device(end)
		if d == nil {
			t.Errorf("%s is no terminal of the plan", end)
			continue
		}
		// No model has mains terminals; what is on its strip is extra-low voltage. A meter goes nowhere else.
		term := d.Model.Reach(strings.TrimPrefix(end, d.ID+"."))
		if term == nil || slices.Contains([]string{"L", "N", "L1", "MAINS"}, strings.ToUpper(term.Label)) {
			t.Errorf("%s is not on the strip of a unit, or mains", end)
		}
	}
	for _, said := range append([]string{n.Why}, n.Before...) {
		if said != FirstRelease && toBridge.MatchString(said) {
			t.Errorf("something is to be bridged: %s", said)
		}
	}
	if (n.Pair.In.Pulled != "" || n.Pair.In.Alone != "") && n.Pair.In.Power != meter.Off {
		t.Errorf("%v: pulled with power on", n.Pair)
	}
}

// toBridge finds an order to bridge something; that a bridge is suspected is another matter.
var toBridge = regexp.MustCompile(`(?i)(^|[.:;] )(bridge|link|jumper|short) (out |across |the )`)

func finderAsFound(t testing.TB, text string) *Finder {
	t.Helper()
	j, problems := ReadAsFound("door.yaml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	f, err := New(situation.New(wiring.Make(j)), FoundDoor, meter.Default())
	if err != nil {
		t.Fatal(err)
	}
	return f
}
