package proof_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"doorwright/internal/site"
	"doorwright/proof"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// The laws here follow from what the networks are made of: resistances, sources that sag under load, and loads that draw
// more the less they get (Ohm's and Kirchhoff's laws, any textbook on circuits). They hold as long as nothing switches, so
// no draw goes so far that it does; what switching does is shown case by case below.

// seen is what every lock of a site gets in every limit case, at rest and with all locks powered.
type seen map[string]lockSeen

type lockSeen struct {
	volts  unit.Volt
	effect situation.Effect
	power  situation.Power
	runs   bool // the door's controller does
}

// look puts a site through its limit cases.
func look(t rapid.TB, text []byte) seen {
	t.Helper()
	all := seen{}
	for _, is := range situation.New(wiring.Make(readSite(t, text))).Islands {
		for _, c := range is.Cases() {
			b := is.Bench(c)
			all.note(is, b, "at rest, "+c.Name)
			for _, cause := range situation.Causes() {
				if cause.ID == "all-on" {
					for _, step := range cause.Steps(is, nil) {
						b.Take(step)
					}
				}
			}
			all.note(is, b, "all on, "+c.Name)
		}
	}
	return all
}

func (s seen) note(is *situation.Island, b *situation.Bench, when string) {
	for _, d := range is.Doors {
		state := b.Door(d)
		for _, l := range state.Locks {
			s[l.Lock.ID+" "+when] = lockSeen{unit.Volt(math.Abs(float64(l.Volts))), l.Effect, l.Power, state.Facts.Runs}
		}
	}
}

// solverVolts is more than two solutions of one network may differ by.
const solverVolts unit.Volt = 1e-6

// raised lists, in order, what the locks of s get more than before, and says whether any of them, or its controller,
// changed its state.
func (s seen) raised(before seen) (list []string, switched bool) {
	for key, now := range s {
		old, ok := before[key]
		if !ok {
			continue // of a door that was added
		}
		switched = switched || now.effect != old.effect || now.power != old.power || now.runs != old.runs
		if now.volts > old.volts+solverVolts {
			list = append(list, fmt.Sprintf("%s: %.6f V after %.6f V", key, now.volts, old.volts))
		}
	}
	slices.Sort(list)
	return list, switched
}

// of keeps the locks of one door.
func (s seen) of(door string) seen {
	one := seen{}
	for key, v := range s {
		if strings.HasPrefix(key, door+".") {
			one[key] = v
		}
	}
	return one
}

// doorsOnOneSupply draws some doors that hang on one supply, in the order of the site.
func doorsOnOneSupply(t *rapid.T, least, most int) []site.Door {
	first := rapid.SampledFrom([]int{0, site.DoorsPerSupply}).Draw(t, "doors before")
	turns := rapid.SliceOfNDistinct(rapid.IntRange(1, site.DoorsPerSupply), least, most, rapid.ID).Draw(t, "turns")
	slices.Sort(turns)
	var doors []site.Door
	for _, n := range turns {
		d, before := site.Door{Number: first + n}, site.Door{Number: first + n - 1}
		if d.Second() && !slices.Contains(doors, before) {
			doors = append(doors, before)
		}
		doors = append(doors, d)
	}
	return doors
}

var feedRun = regexp.MustCompile(`(?m)^  W\d+: \{from: riser\d+, to: D\d+\.box, cable: (\d)x(\S+), length: (\d+) m\}$`)

// feeds are the runs that feed the controllers of a site, as they are written.
func feeds(t rapid.TB, text []byte) []string {
	t.Helper()
	all := feedRun.FindAllString(string(text), -1)
	if len(all) == 0 {
		t.Fatal("no run feeds a door")
	}
	return all
}

// with is a site with one of its feeds laid otherwise.
func with(text []byte, feed, area string, length int) []byte {
	m := feedRun.FindStringSubmatchIndex(feed)
	laid := feed[:m[4]] + area + feed[m[5]:m[6]] + fmt.Sprint(length) + feed[m[7]:]
	return []byte(strings.Replace(string(text), feed, laid, 1))
}

// fedBy are the doors that a feed feeds: that whose box it ends at, and the next one where that is on its controller.
func fedBy(text []byte, feed string) []string {
	controller := strings.Replace(strings.Fields(feed)[0], "W", "C", 1)
	controller = strings.TrimSuffix(controller, ":")
	on := regexp.MustCompile(`(?m)^  (D\d+):\n    title: .*\n    controller: ` + controller + `(/\d)?$`)
	var doors []string
	for _, m := range on.FindAllStringSubmatch(string(text), -1) {
		doors = append(doors, m[1])
	}
	return doors
}

// areas are the cross-sections in mm2 of feeds that the terminals of controllers take, thin ones first.
var areas = []string{"0.75", "1.0", "1.5"}

func TestThickerCopperInItsRunNeverLowersALock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := site.Of(doorsOnOneSupply(t, 1, 4)...)
		feed := rapid.SampledFrom(feeds(t, text)).Draw(t, "feed")
		thin := rapid.IntRange(0, len(areas)-2).Draw(t, "thin")
		thick := rapid.IntRange(thin+1, len(areas)-1).Draw(t, "thick")
		length := rapid.IntRange(1, 25).Draw(t, "length")
		before, after := look(t, with(text, feed, areas[thin], length)), look(t, with(text, feed, areas[thick], length))
		for _, door := range fedBy(text, feed) {
			lowered, switched := before.of(door).raised(after.of(door)) // less before is what is right
			if switched {
				t.Fatal("a lock or its controller changes its state: nothing in the draw is meant to")
			}
			if len(lowered) > 0 {
				t.Errorf("%s of %s mm2 for %s mm2 lowers %v", feed, areas[thick], areas[thin], lowered)
			}
		}
	})
}

func TestLongerRunNeverRaisesALock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := site.Of(doorsOnOneSupply(t, 1, 4)...)
		feed := rapid.SampledFrom(feeds(t, text)).Draw(t, "feed")
		short := rapid.IntRange(1, 25).Draw(t, "short")
		long := rapid.IntRange(short, 40).Draw(t, "long")
		before, after := look(t, with(text, feed, "1.5", short)), look(t, with(text, feed, "1.5", long))
		for _, door := range fedBy(text, feed) {
			raised, switched := after.of(door).raised(before.of(door))
			if switched {
				t.Fatal("a lock or its controller changes its state: nothing in the draw is meant to")
			}
			if len(raised) > 0 {
				t.Errorf("%s of %d m for %d m raises %v", feed, long, short, raised)
			}
		}
	})
}

func TestAddedDoorRaisesNoOtherLock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doors := doorsOnOneSupply(t, 2, 5)
		i := rapid.IntRange(0, len(doors)-1).Draw(t, "added")
		if i+1 < len(doors) && doors[i+1].Second() {
			i++ // it needs the one before it
		}
		before := look(t, site.Of(slices.Delete(slices.Clone(doors), i, i+1)...))
		raised, switched := look(t, site.Of(doors...)).raised(before)
		if switched {
			t.Fatal("a lock or its controller changes its state: nothing in the draw is meant to")
		}
		if len(raised) > 0 {
			t.Errorf("%s raises %v", doors[i].ID(), raised)
		}
	})
}

// The laws are of a lock and its own run, in a network in which nothing switches and nothing else changes. Where they do
// not reach, there is a reason for it.
func TestWhereTheLawsDoNotReach(t *testing.T) {
	two := site.Of(site.Door{Number: 1}, site.Door{Number: 3})
	three := site.Of(site.Door{Number: 1}, site.Door{Number: 3}, site.Door{Number: 5})
	feed := feeds(t, two)[0]
	for _, c := range []struct {
		name          string
		before, after []byte
		door          string // whose lock is looked at
		lowered       bool   // else raised
		stops         string // the door whose controller must have stopped for it; empty when none may
	}{
		{
			name:   "copper too thick for the terminals lands on junctions, whose leads cost more than a metre of it saves",
			before: with(two, feed, "1.5", 1), after: with(two, feed, "4", 1), door: "D1", lowered: true,
		},
		{
			name:   "thicker copper lets one door draw more, and the drop in the supply that is shared lowers the other",
			before: with(two, feed, "0.75", 25), after: with(two, feed, "1.5", 25), door: "D3", lowered: true,
		},
		{
			name:   "a controller at the end of a longer run drops out, and what it drew is no burden to the other door",
			before: with(two, feed, "0.75", 25), after: with(two, feed, "0.75", 120), door: "D3", stops: "D1",
		},
		{
			name:   "an added door makes a starved controller drop out, and the lock on the same run rises",
			before: with(two, feed, "0.75", 88), after: with(three, feed, "0.75", 88), door: "D1", stops: "D1",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, after := look(t, c.before), look(t, c.after)
			from, to := before.of(c.door), after.of(c.door)
			if c.lowered {
				from, to = to, from
			}
			if moved, _ := to.raised(from); len(moved) == 0 {
				t.Error("the law holds here as well")
			}
			were := before
			if c.stops != "" {
				were = before.of(c.stops)
			}
			if stopped := were.stopped(after); stopped != (c.stops != "") {
				t.Errorf("a controller stopped: %v", stopped)
			}
		})
	}
}

// stopped says that a controller that ran in s does not run afterwards.
func (s seen) stopped(after seen) bool {
	for key, was := range s {
		if was.runs && !after[key].runs {
			return true
		}
	}
	return false
}

// poor is a site without fire signals at the doors, and with feeds too thin for their length: it has findings.
func poor(text []byte) []byte {
	text = []byte(strings.ReplaceAll(string(text), "    fire: fire-interface\n    watch:", "    watch:"))
	return feedRun.ReplaceAllFunc(text, func(feed []byte) []byte { return with(feed, string(feed), "1.0", 45) })
}

// Nothing that is judged depends on the order in which doors are written, nor on the side of their hinges: with the
// hinges on the other side the result is the same to the last digit, proved as it is a second time.
func TestMirroredJobMirrorsTheFindings(t *testing.T) {
	some := false
	rapid.Check(t, func(t *rapid.T) {
		doors := doorsOnOneSupply(t, 1, 2)
		written := prove(t, poor(site.Of(doors...)))
		some = some || len(written.Findings) > 0
		if len(doors) > 1 && rapid.Bool().Draw(t, "the last door first") {
			slices.Reverse(doors)
			same(t, written, prove(t, poor(site.Of(doors...))))
			return
		}
		for i := range doors {
			doors[i].Mirror = true
		}
		if a, b := inText(written), inText(prove(t, poor(site.Of(doors...)))); a != b {
			t.Errorf("hinges on the other side make another result:\n%s\n%s", a, b)
		}
	})
	if !some {
		t.Error("no job had a finding")
	}
}

// orderShare is what the order of doors may move a figure by, as a share of it and, for small ones, of a volt or ampere:
// feeds that share a terminal bar have a milliohm more or less of it between them and the supply.
const orderShare = 0.01

// same holds the findings of two proofs against each other, in whatever order they are. One that is there only just may
// be missing in the other.
func same(t rapid.TB, a, b *proof.Result) {
	t.Helper()
	margins := func(r *proof.Result) map[string]float64 {
		of := map[string]float64{}
		for _, f := range r.Findings {
			of[f.Key()] = f.Margin
		}
		return of
	}
	of, in := margins(a), margins(b)
	for _, f := range slices.Concat(a.Findings, b.Findings) {
		if x, y := of[f.Key()], in[f.Key()]; math.Abs(x-y) > orderShare*(1+math.Abs(x)) {
			t.Errorf("%s: margin %v one way and %v the other", f.Key(), x, y)
		}
	}
}
