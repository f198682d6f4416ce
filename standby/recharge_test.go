package standby

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"doorwright/unit"
)

// The current for 80 % in 24 h (EN 54-4, 5.3.1) at an efficiency of 0.85, by hand: 0.8 x 7 Ah / (24 h x 0.85) = 0.275 A.
func TestCurrentThatBringsABatteryBack(t *testing.T) {
	for c, want := range map[unit.AmpereHour]float64{7: 0.275, 12: 0.471, 17: 0.667, 24: 0.941, 38: 1.490} {
		if got := recharge(c); !near(float64(got), want, 5e-4) {
			t.Errorf("%v needs %v, want %.3f A", c, got, want)
		}
	}
}

// What a charger puts in until the battery is back, less what is lost, is 80 % of the capacity, whatever it gives; and it
// is enough just when that takes no longer than a day.
func TestLawsOfCharging(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := unit.AmpereHour(rapid.Float64Range(0.1, 200).Draw(t, "c"))
		r := Recharge{
			Needs: recharge(c), Charger: unit.Ampere(rapid.Float64Range(0, 20).Draw(t, "charger")),
			Left: unit.Ampere(rapid.Float64Range(0, 20).Draw(t, "left")),
		}
		takes, ok := r.Takes()
		if !ok {
			if r.Left > 0 {
				t.Fatalf("%+v does not charge", r)
			}
			return
		}
		if put := float64(r.Gives()) * float64(takes/3600) * 0.85; !near(put, 0.8*float64(c), 1e-9*float64(c)) {
			t.Fatalf("%+v puts %.3f Ah into %v", r, put, c)
		}
		if r.Enough() != (r.Gives() >= r.Needs) || r.Gives() > r.Left || r.Stated() && r.Gives() > r.Charger {
			t.Fatalf("%+v gives %v", r, r.Gives())
		}
		if r.Enough() && takes > 24*3600*1.0000001 || !r.Enough() && takes < 24*3600*0.9999999 {
			t.Fatalf("%+v takes %v", r, takes)
		}
	})
}

// A supply of 1.2 A with a charger of 1 A carries a controller of 3 W, a reader of 1 W and a magnet of 24 ohm: at 13.65 V
// that is 4 W / 13.65 V + 13.65 V / 24 ohm = 0.862 A, so that 0.338 A are left for the battery; less where all draws most.
func TestDoorsLeaveLittleForTheBattery(t *testing.T) {
	scant := `
models:
  scant:
    kind: supply
    title: Scant supply
    ports:
      out: {is: source, nominal: 12 V, float: 13.65 V, spread: 0.01, limit: 1.2 A, short: 1 A}
      battery: {is: battery, from: out, nominal: 12 V, CHARGE dropped: 10 V}
      earth: {is: earth}
    strip:
      - {label: "+", pin: out.plus, cores: 2, to: 4 mm2}
      - {label: "-", pin: out.minus, cores: 2, to: 4 mm2}
      - {label: "B+", pin: battery.plus, to: 4 mm2}
      - {label: "B-", pin: battery.minus, to: 4 mm2}
      - {label: "E", pin: earth.earth, to: 4 mm2}
doors:
`
	put := strings.NewReplacer("supply-12-5", "scant", "doors:\n", scant[1:], "BATTERY", large, "LOCK", magnet, "LENGTH", "5 m", "TEMPERATURE", room)
	for charge, gives := range map[string]unit.Ampere{"charge: 1 A,": 1, "charge: 0.1 A,": 0.1, "": 0} {
		e := Judge(siteOf(t, strings.Replace(put.Replace(hut), "CHARGE", charge, 1)))[0]
		r := e.Recharge
		if r.Charger != gives || r.Left > 0.338 || r.Left < 0.2 {
			t.Errorf("%q: %+v", charge, r)
		}
		if want := min(r.Left, gives); gives > 0 && r.Gives() != want {
			t.Errorf("%q gives %v, want %v", charge, r.Gives(), want)
		}
		if r.Enough() {
			t.Errorf("%q: %v do for %v", charge, r.Gives(), r.Needs)
		}
		unsaid := strings.Contains(strings.Join(e.Assumed, "\n"), "does not say what its charger gives")
		if unsaid != (gives == 0) {
			t.Errorf("%q: assumed %q", charge, e.Assumed)
		}
	}
}
