package meter

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
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

// room is one door; RESISTOR, SUPERVISION, LENGTH and ENTRY are put in by the test.
const room = `
job: ROOM
title: Room
rules: [uk-b]
temperature: 0 C to 40 C
places: {cabinet: {title: Cabinet}}
supplies: {PS: {model: supply-12-5, place: cabinet, battery: battery-12-17, standby: 4 h, zero-volt: earthed}}
controllers: {C: {model: controller-1-12, place: d.box, feed: PS}}
doors:
  d:
    title: Door
    secured: Room
    escape: out
    fire-rated: no
    opening: {width: 900 mm, height: 2050 mm, handing: left, swing: out}
    controller: C
    entry: ENTRY
    locks: [{model: magnet-12, handle: none, feed: PS}]
    exit: [exit-button]
    contacts: [contact-surface]
    releases: [release-2]
    supervision: SUPERVISION
    resistor: RESISTOR
    cable-length: 10 m
runs:
  W1: {from: cabinet, to: d.box, cable: 8x0.22, length: 20 m}
  W2: {from: cabinet, to: d.box, cable: 4x1.5, LENGTH}
`

func roomWith(t testing.TB, m Meter, changes ...string) *Book {
	t.Helper()
	changes = append(changes, "ENTRY", "reader-pulse", "SUPERVISION", "double", "RESISTOR", "4.7 kohm",
		"LENGTH", "length: 20 m") // the first of two that stand for the same word counts
	site := siteOf(t, strings.NewReplacer(changes...).Replace(room))
	b, err := NewBook(site, site.Plan.Job.Doors[0], m, Basis{})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// bandOf is the band of a pair.
func bandOf(t testing.TB, b *Book, at, to, in string, q Quantity) Band {
	t.Helper()
	c, err := ParseCondition(in)
	if err != nil {
		t.Fatal(err)
	}
	red, black, err := b.Ends(at, to)
	if err != nil {
		t.Fatal(err)
	}
	k := b.Index(Pair{red, black, c, q})
	if k < 0 {
		t.Fatalf("%s against %s, %s is not in the book", at, to, in)
	}
	return b.Band(k)
}

// Double end of line, R in series and R across: R closed and 2R open at the plug; 5 V behind 2.2 kohm over them when
// live. Values of R are those in common use.
func TestSupervisedInputs(t *testing.T) {
	for _, r := range []float64{1000, 2200, 4700, 5600} {
		b := roomWith(t, Default(), "RESISTOR", fmt.Sprintf("%v ohm", r))
		for _, tt := range []struct {
			in   string
			q    Quantity
			want float64
		}{
			{"off, C/P3 pulled", Ohms, r},
			{"off, door-open, C/P3 pulled", Ohms, 2 * r},
			{"idle", Volts, 5 * r / (r + 2200)},
			{"door-open", Volts, 5 * 2 * r / (2*r + 2200)},
		} {
			e := bandOf(t, b, "C DC1", "C 0V", tt.in, tt.q)
			if math.Abs(e.Nominal-tt.want) > 0.004*tt.want || !e.Holds(tt.want) {
				t.Errorf("%v ohm, %s: %+v, want %v", r, tt.in, e, tt.want)
			}
		}
		if e := bandOf(t, b, "C DC1", "C 0V", "off, C/P3 pulled", Ohms); e.Holds(2*r) || e.Holds(0) {
			t.Errorf("closed line of %v holds anything: %+v", r, e)
		}
	}
}

// One resistor in series with a contact that is closed at rest: R closed, over range open.
func TestSingleEndOfLine(t *testing.T) {
	b := roomWith(t, Default(), "SUPERVISION", "single")
	if e := bandOf(t, b, "C DC1", "C 0V", "off, C/P3 pulled", Ohms); !e.Holds(4700) {
		t.Errorf("%+v", e)
	}
	if e := bandOf(t, b, "C DC1", "C 0V", "off, door-open, C/P3 pulled", Ohms); !e.Open || !e.Holds(math.Inf(1)) || e.Holds(4700) {
		t.Errorf("%+v", e)
	}
}

// 12 V and 0.5 A make 24 ohm; a lock is held at the float voltage of 13.65 V less the cable, dead when granted or
// released, and lower on battery.
func TestLock(t *testing.T) {
	b := roomWith(t, Default())
	if e := bandOf(t, b, "d.lock1 +", "d.lock1 -", "off, d.lock1 alone", Ohms); math.Abs(e.Nominal-24) > 0.5 || e.Holds(0.5) || e.Holds(60) {
		t.Errorf("%+v", e)
	}
	locked := bandOf(t, b, "d.lock1 +", "d.lock1 -", "idle", Volts)
	if locked.Nominal < 12 || locked.Nominal > 13.65 || locked.Holds(0) {
		t.Errorf("%+v", locked)
	}
	for _, in := range []string{"card", "release"} {
		if e := bandOf(t, b, "d.lock1 +", "d.lock1 -", in, Volts); !e.Holds(0) || e.Holds(1) {
			t.Errorf("%s: %+v", in, e)
		}
	}
	if e := bandOf(t, b, "d.lock1 +", "d.lock1 -", "battery", Volts); e.Nominal >= locked.Nominal || e.Nominal < 10 {
		t.Errorf("on battery %+v", e)
	}
}

func TestReleasePoles(t *testing.T) {
	b := roomWith(t, Default())
	for _, pole := range [][2]string{{"d.release1 1", "d.release1 2"}, {"d.release1 3", "d.release1 4"}} {
		if e := bandOf(t, b, pole[0], pole[1], "off, d.release1 alone", Ohms); !e.Holds(0.4) || e.Holds(2) {
			t.Errorf("%s healthy: %+v", pole, e)
		}
		if e := bandOf(t, b, pole[0], pole[1], "off, release, d.release1 alone", Ohms); !e.Open || e.Holds(0.4) {
			t.Errorf("%s operated: %+v", pole, e)
		}
	}
}

// 1.5 mm2 stranded has at most 12.1 ohm/km (IEC 60228:2004, table 2) and, of copper of the standard conductivity,
// 17.241/1.5 = 11.5 ohm/km (IEC 60028); a pulled cable is known better than a designed one.
func TestLoopOfARun(t *testing.T) {
	loop := func(length string) FirstFix {
		site := siteOf(t, strings.NewReplacer("ENTRY", "reader-pulse", "SUPERVISION", "double", "RESISTOR", "4.7 kohm",
			"LENGTH", length).Replace(room))
		for _, f := range FirstFixOf(site.Plan, "d", Default(), nil) {
			if f.Run == "W2" && f.What == "loop" {
				return f
			}
		}
		t.Fatal("no loop of W2")
		return FirstFix{}
	}
	pulled, designed := loop("length: 90 m, pulled: 100 m"), loop("length: 86.957 m")
	if pulled.Nominal < 2.2 || pulled.Nominal > 2.42 || pulled.High < 2.42 {
		t.Errorf("%+v", pulled)
	}
	if math.Abs(pulled.Nominal-designed.Nominal) > 1e-3 || designed.Low >= pulled.Low || designed.High <= pulled.High {
		t.Errorf("pulled %+v, designed %+v", pulled, designed)
	}
}

// Two terminators of 120 ohm make 60 ohm; one alone 120, three 40 (TIA-485-A). An idle pair is biased by 200 mV or more.
func TestBusPair(t *testing.T) {
	b := roomWith(t, Default(), "ENTRY", "reader-485")
	if e := bandOf(t, b, "C A", "C B", "off", Ohms); !e.Holds(60) || e.Holds(120) || e.Holds(40) {
		t.Errorf("%+v", e)
	}
	if e := bandOf(t, b, "d.entry A", "d.entry B", "idle", Volts); e.Nominal > -0.2 {
		t.Errorf("idle pair is not biased: %+v", e)
	}
}

// Idle data lines stand at 4 V to 5 V (common practice); a TIA-232-F driver marks at -5 V to -15 V.
func TestIdleDataLines(t *testing.T) {
	b := roomWith(t, Default())
	if e := bandOf(t, b, "d.entry.data.d0", "d.entry.data.common", "idle", Volts); e.Nominal < 4 || e.Nominal > 5.1 {
		t.Errorf("%+v", e)
	}
	serial := roomWith(t, Default(), "ENTRY", "reader-serial")
	if e := bandOf(t, serial, "d.entry TX", "d.entry SG", "idle", Volts); e.Nominal > -5 || e.High > -5 {
		t.Errorf("%+v", e)
	}
}

// What is less known is never expected more closely: of the cables, and of the meter. Every band holds its nominal.
func TestMoreToleranceNeverNarrows(t *testing.T) {
	worse := Default()
	worse.Volts.Share, worse.Ohms.Counts, worse.LeadOhms = 0.02, 10, 1
	site := siteOf(t, string(demo.Brackwater))
	d := site.Plan.Job.Doors[3]
	book := func(m Meter, on Basis) *Book {
		b, err := NewBook(site, d, m, on)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	narrow := book(Default(), Basis{})
	for name, wide := range map[string]*Book{"a worse meter": book(worse, Basis{}), "as found": book(Default(), Basis{AsFound: true})} {
		widened := 0
		for k, p := range narrow.Pairs {
			a, b := narrow.Band(k), wide.Band(k)
			if !a.Holds(a.Nominal) {
				t.Errorf("%v: %+v does not hold its nominal", p, a)
			}
			const rounding = 1e-6 // V or ohm: what the solver leaves
			if a.Open || p.Quantity != Volts && a.Nominal != b.Nominal {
				continue // the leads themselves are others
			}
			if b.Low > a.Low+rounding || b.High < a.High-rounding {
				t.Errorf("%s: %v: %+v, then %+v", name, p, a, b)
			}
			if b.High > a.High+rounding {
				widened++
			}
		}
		if widened == 0 {
			t.Errorf("%s: nothing widened", name)
		}
	}
}
