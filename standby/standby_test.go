package standby

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/situation"
	"doorwright/unit"
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

// hut is one door on a 12 V supply; BATTERY, LOCK and the rest are put in by the test.
const hut = `
job: HUT
title: Hut
rules: [uk-b]
temperature: TEMPERATURE
places: {cabinet: {title: Cabinet}}
supplies: {PS: {model: supply-12-5, place: cabinet, BATTERY zero-volt: earthed}}
controllers: {C: {model: controller-1-12, place: cabinet, feed: PS}}
doors:
  d:
    title: Door
    secured: Room
    escape: out
    fire-rated: no
    opening: {width: 900 mm, height: 2050 mm, handing: left, swing: out}
    controller: C
    entry: reader-pulse
    locks: [{LOCK}]
    exit: [exit-button]
    contacts: [contact-surface]
    cable-length: LENGTH
`

func hutWith(t testing.TB, battery, lock, length, temperature string) Estimate {
	t.Helper()
	put := strings.NewReplacer("BATTERY", battery, "LOCK", lock, "LENGTH", length, "TEMPERATURE", temperature)
	all := Judge(siteOf(t, put.Replace(hut)))
	if len(all) != 1 {
		t.Fatalf("%d estimates", len(all))
	}
	return all[0]
}

const (
	small   = "battery: battery-12-7, standby: 4 h,"
	large   = "battery: battery-12-17, standby: 4 h,"
	noneYet = ""
	strike  = "model: strike-12-secure, handle: frees"
	magnet  = "model: magnet-12, handle: none"
	room    = "20 C to 30 C"
)

// A controller of 3 W and a reader of 1 W on a battery of 12.8 V: 4 W / 12.8 V = 0.31 A and the losses of two cables.
func TestCurrentOfAQuietDoor(t *testing.T) {
	e := hutWith(t, large, strike, "5 m", room)
	if !near(float64(e.Nominal), 4/12.8, 0.01) {
		t.Errorf("%v, want about 313 mA", e.Nominal)
	}
	if e.First != "" || e.Hours != e.Reached || e.Margin() <= 0 || e.Needed <= 0 || e.Needed >= e.Capacity {
		t.Errorf("%+v", e)
	}
	if !e.Recharge.Enough() {
		t.Errorf("1 A does not do for %v", e.Recharge.Needs)
	}
}

// A 24 ohm magnet adds half an ampere, and lets go of its 10.2 V window before the battery's 10.5 V end when the cable
// drops more than 0.3 V.
func TestMagnetDropsOutFirst(t *testing.T) {
	e := hutWith(t, large, magnet, "20 m", room)
	if !strings.HasPrefix(e.First, "d.lock1 ") {
		t.Fatalf("first is %q", e.First)
	}
	if e.FirstVolts <= 10.2 || e.FirstVolts >= 12.8 || e.Reached >= e.Hours {
		t.Errorf("at %v, after %v of %v", e.FirstVolts, e.Reached, e.Hours)
	}
	far := hutWith(t, large, magnet, "45 m", room)
	if far.FirstVolts <= e.FirstVolts || far.Reached >= e.Reached {
		t.Errorf("a longer cable drops the lock out later: %v after %v", far.FirstVolts, far.Reached)
	}
	if free := hutWith(t, large, magnet+", on-battery: let-go", "20 m", room); free.First != "" {
		t.Errorf("a lock that may let go counts: %q", free.First)
	}
}

func TestMoreCapacityAndWarmthLastLonger(t *testing.T) {
	room17, room7 := hutWith(t, large, magnet, "20 m", room), hutWith(t, small, magnet, "20 m", room)
	cold := hutWith(t, large, magnet, "20 m", "-10 C to 30 C")
	if room7.Hours >= room17.Hours || room7.Reached >= room17.Reached || cold.Hours >= room17.Hours {
		t.Errorf("7 Ah %v, 17 Ah %v, 17 Ah in the cold %v", room7.Hours, room17.Hours, cold.Hours)
	}
	if !strings.Contains(strings.Join(cold.Assumed, "\n"), "below the table's end") {
		t.Error("nothing says that the table was left")
	}
}

// What is needed lasts just the time asked: put in as the capacity, the margin is nil.
func TestNeededLastsTheTimeAsked(t *testing.T) {
	e := hutWith(t, small, magnet, "10 m", room)
	if e.Needed <= 0 {
		t.Fatalf("nothing is needed: %+v", e)
	}
	c := course{amps: []unit.Ampere{0.8, 0.8, 0.8, 0.8, 0.8, 0.8, 0.8, 0.8, 0.8}, end: 1, first: loss{share: 0.6}}
	for _, asked := range []unit.Second{hour / 2, 4 * hour, 24 * hour, 72 * hour} {
		if got := c.reached(enough(&c, asked)); !near(float64(got), float64(asked), 1e-6*float64(asked)) {
			t.Errorf("asked %v, reached %v", asked, got)
		}
	}
}

func TestNoBatteryLastsNoTime(t *testing.T) {
	e := hutWith(t, noneYet, strike, "5 m", room)
	if e.Hours != 0 || e.Reached != 0 || !strings.Contains(e.First, "no battery") {
		t.Errorf("%+v", e)
	}
}

func TestDemoSupplies(t *testing.T) {
	all := Judge(siteOf(t, string(demo.Brackwater)))
	if len(all) != 3 {
		t.Fatalf("%d estimates", len(all))
	}
	for i, id := range []string{"PS1", "PS2", "PS3"} {
		e := all[i]
		if e.Supply.ID != id || e.Hours <= 0 || e.Amps < e.Nominal || e.Reached > e.Hours || len(e.Assumed) == 0 {
			t.Errorf("%s: %+v", id, e)
		}
		t.Logf("%s: %v (nominal %v), %v h of %v h, first %q at %v, reached %v h, needed %v, %s", id, e.Amps, e.Nominal,
			float64(e.Hours/hour), float64(e.Asked/hour), e.First, e.FirstVolts, float64(e.Reached/hour), e.Needed, e.Case)
	}
}

func BenchmarkDemo(b *testing.B) {
	site := siteOf(b, string(demo.Brackwater))
	for b.Loop() {
		Judge(site)
	}
}
