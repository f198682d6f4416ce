package meter

import (
	"strings"
	"testing"

	"doorwright/demo"
)

// W3 is 85 m of 1.5 mm2 stranded: 17.241/1.5 ohm/km of copper (IEC 60028), at most 12.1 ohm/km (IEC 60228:2004, table 2),
// so that its loop is near 1.95 to 2.06 ohm; insulation at extra-low voltage is at least 0.5 Mohm at 250 V (IEC 60364-6).
func TestFirstFix(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	seen := map[string]int{}
	for _, f := range FirstFixOf(site.Plan, "plant", Default(), nil) {
		seen[f.What]++
		if f.Run == "W3" && f.What == "loop" && (f.Nominal < 1.9 || f.Nominal > 2.6 || f.Low > 1.95 || f.High < 2.06) {
			t.Errorf("%+v", f)
		}
		if f.What == "insulation" && (f.Low != 0.5e6 || !f.Open) {
			t.Errorf("%+v", f)
		}
		if f.Where == "" || f.Why == "" {
			t.Errorf("says too little: %+v", f)
		}
	}
	for _, what := range []string{"ring out", "loop", "insulation"} {
		if seen[what] == 0 {
			t.Errorf("no %s", what)
		}
	}
	measured := FirstFixOf(site.Plan, "plant", Default(), []Loop{{"W3", 3.1}})
	for _, f := range measured {
		if f.Run == "W3" && f.What == "loop" && f.Nominal != 3.1 {
			t.Errorf("a measured loop does not stand in place of the length: %+v", f)
		}
	}
}

// A foot is 0.3048 m exactly (international agreement of 1959): 85 m and the 15 % that a cable not yet pulled is taken as
// longer are 97.75 m, or 320.7 ft.
func TestWhyOfALoopIsToldInTheMeasuresOfTheJob(t *testing.T) {
	for in, want := range map[string]string{"metric": "over 97.75 m of", "feet": "over 320.7 ft of"} {
		site := siteOf(t, strings.Replace(string(demo.Brackwater), "\njob:", "\nmeasures: "+in+"\njob:", 1))
		n := 0
		for _, f := range FirstFixOf(site.Plan, "plant", Default(), nil) {
			if f.Run == "W3" && f.What == "loop" {
				n++
				if !strings.Contains(f.Why, want) {
					t.Errorf("%s: %q does not say %q", in, f.Why, want)
				}
			}
		}
		if n == 0 {
			t.Error("no loop is measured on W3")
		}
	}
}

// The bands of a sound door, by Ohm's law: a 24 V magnet of 96 ohm, and 4.7 kohm behind a pull-up of 2.2 kohm to 5 V.
func TestBandsOfASoundDoor(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	d := site.Plan.Job.Doors[3]
	b, err := NewBook(site, d, Default(), Basis{})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		at, to, in string
		q          Quantity
		want       float64
		without    float64 // a reading that the band must not hold
	}{
		{"plant.lock1 +", "plant.lock1 -", "off, plant.lock1 alone", Ohms, 96, 48},
		{"C3 DC1", "C3 0V", "idle", Volts, 5 * 4.7 / 6.9, 5 * 9.4 / 11.6},
		{"C3 DC1", "C3 0V", "door-open", Volts, 5 * 9.4 / 11.6, 5 * 4.7 / 6.9},
		{"C3 DC1", "C3 0V", "off, C3/P3 pulled", Ohms, 4700, 9400},
		{"C3 DC1", "C3 0V", "off, door-open, C3/P3 pulled", Ohms, 9400, 4700},
		{"plant.release1 1", "plant.release1 2", "off, plant.release1 alone", Ohms, 0.3, 5},
		{"plant.release1 1", "plant.release1 2", "off, release, plant.release1 alone", Ohms, 10e6, 5},
		{"plant.lock1 +", "plant.lock1 -", "release", Volts, 0, 5},
	} {
		in, err := ParseCondition(tt.in)
		if err != nil {
			t.Fatal(err)
		}
		at, to, err := b.Ends(tt.at, tt.to)
		if err != nil {
			t.Fatal(err)
		}
		k := b.Index(Pair{at, to, in, tt.q})
		if k < 0 {
			t.Errorf("%s against %s, %s is not in the book", tt.at, tt.to, tt.in)
			continue
		}
		if band := b.Band(k); !band.Holds(tt.want) || band.Holds(tt.without) {
			t.Errorf("%s against %s, %s: %+v, want %v and not %v", tt.at, tt.to, tt.in, band, tt.want, tt.without)
		}
	}
}

// A meter of 1 mA brings a coil of 24 ohm to 24 mV: a diode across it never shows, whichever way the leads are. Alone it
// shows its forward voltage one way, and over range the other.
func TestDiodesShowAsOnAMeter(t *testing.T) {
	site := siteOf(t, string(demo.Brackwater))
	b, err := NewBook(site, site.Plan.Job.Doors[1], Default(), Basis{Extra: []Pair{
		{"staff.lock1.coil.plus", "staff.lock1.coil.minus", Condition{Off, Idle, "", ""}, Diode},
		{"staff.lock1.coil.minus", "staff.lock1.coil.plus", Condition{Off, Idle, "", ""}, Diode},
		{"staff.lock1.diode.diode.cathode", "staff.lock1.diode.diode.anode", Condition{Off, Idle, "", "staff.lock1.diode"}, Diode},
	}})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		at, to, in string
		low, high  float64
	}{
		{"staff.lock1 +", "staff.lock1 -", "off", 0.035, 0.05}, // 40 ohm at 1 mA
		{"staff.lock1 -", "staff.lock1 +", "off", 0.035, 0.05},
		{"staff.lock1.diode anode", "staff.lock1.diode cathode", "off, staff.lock1.diode alone", 0.4, 0.75},
		{"staff.lock1.diode cathode", "staff.lock1.diode anode", "off, staff.lock1.diode alone", 2, 1e300},
	} {
		in, _ := ParseCondition(tt.in)
		at, to, err := b.Ends(tt.at, tt.to)
		if err != nil {
			t.Fatal(err)
		}
		k := b.Index(Pair{at, to, in, Diode})
		if k < 0 {
			t.Errorf("%s against %s, %s is not in the book", tt.at, tt.to, tt.in)
			continue
		}
		if v := b.Sound.Shown[k].Value; v < tt.low || v > tt.high && v < 1e300 {
			t.Errorf("%s against %s, %s: %v V, want %v to %v", tt.at, tt.to, tt.in, v, tt.low, tt.high)
		}
	}
}
