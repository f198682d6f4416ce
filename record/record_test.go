package record_test

import (
	"math"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/proof"
	"doorwright/record"
	"doorwright/situation"
	"doorwright/unit"
	"doorwright/wiring"
)

// plan is the wiring plan of the demo job.
func plan(t testing.TB) *wiring.Plan {
	t.Helper()
	j, problems := job.Read("demo.yaml", demo.Brackwater)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return wiring.Make(j)
}

func TestRecordOfTheDemoReadsWell(t *testing.T) {
	p := plan(t)
	r, problems := record.Read("record.yaml", demo.Record, p)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if len(r.Landed) == 0 || len(r.Tested) == 0 || len(r.Read) == 0 {
		t.Fatal("the demo shows nothing of the work")
	}
	if s, ok := r.Snags.Get("S2"); !ok || !s.Open() {
		t.Error("S2 counts as closed")
	}
	if s, ok := r.Snags.Get("S1"); !ok || s.Open() {
		t.Error("S1 counts as open")
	}
	site := situation.New(p)
	spots := map[record.Spot]bool{}
	for _, d := range p.Job.Doors {
		_, list := meter.ShortList(site, d, meter.Default())
		for _, l := range list {
			spots[record.SpotOf(p, l.Pair)] = true
		}
		for _, f := range meter.FirstFixOf(p, d.ID, meter.Default(), nil) {
			spots[record.SpotOfRun(f)] = true
		}
	}
	currents := 0
	for _, x := range r.Read {
		if x.Shows.Quantity == meter.Amps {
			currents++
		} else if !spots[x.Spot()] {
			t.Errorf("nothing is expected at %v", x.Spot())
		}
	}
	if currents == 0 {
		t.Error("the demo has no current")
	}
}

// A reading and its pair name the same place, also where the black lead is at another device.
func TestASpotNamesItsPair(t *testing.T) {
	p := plan(t)
	off := meter.Condition{Power: meter.Off, Act: meter.Release}
	for _, pair := range []meter.Pair{
		{At: "staff.lock1.coil.plus", To: "staff.lock1.coil.minus", In: meter.Undisturbed(), Quantity: meter.Volts},
		{At: "C2.feed.plus", To: "PS1.out.minus", In: off, Quantity: meter.Ohms},
		{At: "PS1.battery.cells.plus", To: "PS1.battery.cells.minus", In: off, Quantity: meter.Diode},
	} {
		s := record.SpotOf(p, pair)
		r := record.Reading{Device: s.Device, Red: s.Red, Black: s.Black, Condition: s.Condition}
		r.Shows.Quantity = pair.Quantity
		if got, ok := r.Pair(p); !ok || got != pair {
			t.Errorf("%v is kept as %v, which is %v", pair, s, got)
		}
	}
	for _, none := range []record.Reading{
		{Device: "W2", Red: "red", Black: "black", Condition: record.FirstFix},
		{Device: "C2", Red: "feed.plus", Condition: "idle", Shows: record.Value{Quantity: meter.Amps, Amps: 0.2}},
		{Device: "nix", Red: "a", Black: "b", Condition: "idle"},
	} {
		if p, ok := none.Pair(p); ok {
			t.Errorf("%v counts as the pair %v", none, p)
		}
	}
}

func TestTheLastComparableReadingCounts(t *testing.T) {
	at := record.Spot{Device: "C2", Red: "feed.plus", Black: "feed.minus", Condition: "idle"}
	volts := func(v unit.Volt) record.Reading {
		return record.Reading{
			Device: at.Device, Red: at.Red, Black: at.Black, Condition: at.Condition,
			Shows: record.Value{Quantity: meter.Volts, Volts: v},
		}
	}
	amps := record.Reading{Device: "C2", Red: "feed.plus", Condition: "idle", Shows: record.Value{Quantity: meter.Amps, Amps: 0.2}}
	r := &record.Record{Read: []record.Reading{volts(12), volts(13), amps}}
	if got := r.Reading(at, meter.Volts); got == nil || got.Shows.Volts != 13 {
		t.Errorf("%v", got)
	}
	if got := r.Reading(at, meter.Diode); got != nil {
		t.Errorf("volts taken for the diode range: %v", got)
	}
	if got := r.Current("C2"); got == nil || got.Shows.Amps != 0.2 {
		t.Errorf("%v", got)
	}
	if r.Current("C1") != nil {
		t.Error("a current of C1 out of nothing")
	}
}

func TestEveryProblemOfARecordIsToldAtOnce(t *testing.T) {
	const text = `record: BTX
revision: B
people: {mw: {name: Mara Wren}}
meters: {M1: {title: meter, number: "1", calibrated: 2024-02-30, due: 2025-01-01}}
landed:
  - {device: staff.lock9, terminals: [+], by: mw, on: 2026-10-12}
  - {device: staff.lock1, terminals: [A1], by: xx, on: 2026-10-12}
readings:
  - {device: staff.lock1, red: coil.plus, black: lock.nix, condition: dead, shows: 3 W, meter: M1, by: mw,
	on: 2026-01-02}
  - {device: C2, red: feed.plus, black: feed.minus, condition: idle, shows: 3 A, meter: M1, by: mw, on: 2024-12-02}
  - {device: C2, red: feed.plus, condition: idle, shows: 3e300 V, meter: M1, by: mw, on: 2024-12-02}
  - {device: W2, red: red, black: black, condition: idle, shows: 3 ohm, meter: M1, by: mw, on: 2024-12-02}
tests:
  - {door: staff, step: T99, outcome: pass, by: mw, on: 2026-10-12}
  - {door: staff, step: T02, outcome: pass, by: mw, on: 2026-10-12}
  - {door: staff, step: T02, outcome: pass, witness: mw, by: mw, on: 2026-10-12}
  - {door: stuff, step: T20, outcome: not-applicable, by: mw, on: 2026-10-12}
batteries: [{device: PS1, by: mw, on: 2026-10-12}]
snags:
  S1: {what: a, class: looks, by: mw, on: 2026-10-12, closed: {by: mw, on: 2026-10-11}}
accepts:
  - {finding: nothing, reason: r, by: mw, on: 2026-10-12}
  - {supply: PS9, finding: standby-hours, reason: r, by: mw, on: 2026-10-12}
  - {door: staff, supply: PS1, finding: standby-hours, reason: r, by: mw, on: 2026-10-12}
handed: [{door: shed, by: mw, on: 2026-10-12}]
colour: red
`
	_, problems := record.Read("record.yaml", []byte(text), plan(t))
	for _, want := range []string{
		`record.yaml:1:9: record: found "BTX", which is not this job`,
		`record.yaml:2:11: revision: found "B", which is not the revision of the job, which is "A"`,
		`calibrated: found "2024-02-30", which is a day that no calendar has`,
		`was due for calibration on 2025-01-01, before this reading`,
		`record.yaml:6:14: landed.1.device: found "staff.lock9", which is not a known device of the plan; did you mean "staff.lock1"?`,
		`landed.2.by: found "xx", which is not a known person`,
		`landed.2.terminals.1: found "A1", which is not a known terminal of staff.lock1`,
		`black: found "lock.nix"`,
		`shows: found "3 W", which is no reading`,
		`condition: found "dead", which is none`,
		`black: found "feed.minus", which has no place: a current is measured in line`,
		`the terminal of the black lead must be given`,
		`readings.3.shows: 3e+300 V is more than any meter shows; the most that is taken is 1500 V`,
		`found "idle", which is not a known condition of a run`,
		`found "T99", which is not a known step of the list`,
		`T02 bears on life: a pass counts only when somebody witnessed it`,
		`made the test; the witness must be somebody else`,
		`found "stuff", which is not a known door; did you mean "staff"?`,
		`what is not applicable needs its reason as note`,
		`is no battery`,
		`is before the snag was found, on 2026-10-12`,
		`a closed snag says what was done about it, in fix`,
		`found "nothing", which is not a known requirement`,
		`accepts.2.supply: found "PS9", which is not a known supply`,
		`accepts.3.supply: found "PS1", which has no place beside a door`,
		`handed.1.door: found "shed", which is not a known door`,
		`the full name of who took it over`,
		`colour`,
	} {
		if !strings.Contains(problems.Error(), want) {
			t.Errorf("nothing is said of %q in\n%v", want, problems)
		}
	}
}

func TestDatesAreThoseOfACalendar(t *testing.T) {
	for text, fine := range map[string]bool{
		"2026-10-12": true, "2024-02-29": true, "2000-02-29": true, "2026-10-12 14:05": true, "2026-10-12T14:05": true,
		"2026-02-29": false, "1900-02-29": false, "2026-13-01": false, "2026-04-31": false, "2026-10-12 24:00": false,
		"12.10.2026": false, "": false, "2026-1-2": false,
	} {
		var d record.Date
		err := d.UnmarshalText([]byte(text))
		if (err == nil) != fine {
			t.Errorf("%q: %v", text, err)
		}
	}
	var a, b record.Date
	if a.UnmarshalText([]byte("2026-10-12 14:05")) != nil || b.UnmarshalText([]byte("2026-11-01")) != nil {
		t.Fatal("dates were not read")
	}
	if !a.Before(b) || b.Before(a) || a.Before(a) {
		t.Error("the order of the days is wrong")
	}
	if a.String() != "2026-10-12 14:05" {
		t.Error(a.String())
	}
}

func TestValuesAreWhatAMeterShows(t *testing.T) {
	for _, c := range []struct {
		text     string
		figure   float64
		quantity meter.Quantity
	}{
		{"12.8 V", 12.8, meter.Volts},
		{"4.7 kohm", 4700, meter.Ohms},
		{"over range", math.Inf(1), meter.Ohms},
		{"-3 mV", -0.003, meter.Volts},
		{"340 mA", 0.34, meter.Amps},
		{"1.2 A", 1.2, meter.Amps},
		{"0.61 V diode", 0.61, meter.Diode},
		{"over range diode", math.Inf(1), meter.Diode},
	} {
		var v record.Value
		if err := v.UnmarshalText([]byte(c.text)); err != nil {
			t.Errorf("%q: %v", c.text, err)
		}
		if math.Abs(v.Figure()-c.figure) > 1e-9 && v.Figure() != c.figure || v.Quantity != c.quantity {
			t.Errorf("%q reads as %v %v", c.text, v.Figure(), v.Quantity)
		}
		var again record.Value
		if err := again.UnmarshalText([]byte(v.String())); err != nil || again.Quantity != v.Quantity {
			t.Errorf("%q is written as %q, which does not read back: %v", c.text, v, err)
		}
	}
}

// Why a test failed is looked for behind the last entry only where that says nothing, and not behind a pass.
func TestTheReasonOfAFailure(t *testing.T) {
	said, mute := record.Test{Door: "D1", Step: "T22", Outcome: "fail", Note: "no event"}, record.Test{Door: "D1", Step: "T22", Outcome: "fail"}
	passed, other := record.Test{Door: "D1", Step: "T22", Outcome: "pass", Result: "0.6 s"}, record.Test{Door: "D2", Step: "T22", Outcome: "fail", Note: "else"}
	for _, c := range []struct {
		name   string
		tested []record.Test
		want   string
	}{
		{"failed once with a reason", []record.Test{said}, ""},
		{"failed again without", []record.Test{said, other, mute}, "no event"},
		{"failed twice more without", []record.Test{said, mute, mute}, "no event"},
		{"passed in between", []record.Test{said, passed, mute}, ""},
		{"passed", []record.Test{said, passed}, ""},
		{"another door", []record.Test{other, mute}, ""},
	} {
		got := ""
		if r := (&record.Record{Tested: c.tested}).Reason("D1", "T22"); r != nil {
			got = r.Note
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestWhatNoMeterShowsIsNoValue(t *testing.T) {
	for _, text := range []string{"", "3", "3 W", "-4 ohm", "3 A diode", "4 ohm diode", "diode", "open"} {
		var v record.Value
		if err := v.UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q reads as %v", text, v)
		}
	}
}

func TestTheListOfStepsIsWhole(t *testing.T) {
	all := record.Steps()
	if len(all) != 60 {
		t.Errorf("%d steps, not 60", len(all))
	}
	life := 0
	for i, s := range all {
		if want := "T" + string(rune('0'+(i+1)/10)) + string(rune('0'+(i+1)%10)); s.ID != want {
			t.Errorf("step %d is %s", i+1, s.ID)
		}
		if s.Do == "" || s.Expect == "" || s.Evidence == "" || s.Source == "" {
			t.Errorf("%s is not told in full", s.ID)
		}
		if s.Life {
			life++
		}
	}
	if life != 21 {
		t.Errorf("%d steps bear on life", life)
	}
}

func TestStepsFollowWhatIsFitted(t *testing.T) {
	ids := func(door string) string {
		var all []string
		for _, d := range plan(t).Job.Doors {
			if d.ID == door {
				for _, s := range record.StepsOf(d) {
					all = append(all, s.ID)
				}
			}
		}
		return strings.Join(all, " ")
	}
	for _, c := range []struct{ door, has, not string }{
		{"visitor", "T12 T13 T20 T31 T35 T41", "T32 T03 T56"},
		{"store", "T22 T52", "T02 T12 T35 T41 T47x"},
		{"records", "T03 T08 T56", "T12 T31 T35"},
		{"laboratory", "T32 T33 T34", "T03"},
		{"plant", "T35 T41", "T32"},
	} {
		got := ids(c.door)
		for _, id := range strings.Fields(c.has) {
			if !strings.Contains(got, id) {
				t.Errorf("%s is not tested by %s: %s", c.door, id, got)
			}
		}
		for _, id := range strings.Fields(c.not) {
			if strings.Contains(got, id) {
				t.Errorf("%s is tested by %s", c.door, id)
			}
		}
	}
	if len(record.StepsByHand()) != 5 {
		t.Errorf("%d steps are left to somebody who looks", len(record.StepsByHand()))
	}
}

func FuzzRead(f *testing.F) {
	f.Add(string(demo.Record))
	f.Add("record: BTO\nrevision: A\npeople: {a: {name: b}}\nsnags: {S1: {what: x, class: life, by: a, on: " +
		"2026-10-12}}\n")
	p := plan(f)
	f.Fuzz(func(t *testing.T, text string) {
		r, problems := record.Read("record.yaml", []byte(text), p)
		if (r == nil) != (len(problems) > 0) {
			t.Errorf("a record %v with problems %v", r, problems)
		}
	})
}

// An acceptance at one supply is none at another; one that names none is for all of them.
func TestAcceptancesAreOfOneSupply(t *testing.T) {
	at := func(door, supply string) proof.Finding {
		return proof.Finding{Door: door, Requirement: "standby-hours", Subject: proof.Subject{Supply: supply}}
	}
	r := record.Record{Accepts: []record.Acceptance{
		{Supply: "PS1", Finding: "standby-hours", Reason: "first"}, {Supply: "PS1", Finding: "standby-hours", Reason: "second"},
	}}
	if a := r.Accepted(at("", "PS1")); a == nil || a.Reason != "second" {
		t.Errorf("PS1: %+v", a)
	}
	if r.Accepted(at("", "PS2")) != nil || r.Accepted(at("staff", "PS1")) != nil {
		t.Error("it is accepted where nobody accepted it")
	}
	r.Accepts = append(r.Accepts, record.Acceptance{Finding: "standby-hours", Reason: "all"})
	if a := r.Accepted(at("", "PS2")); a == nil || a.Reason != "all" {
		t.Errorf("PS2: %+v", a)
	}
}
