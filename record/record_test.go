package record_test

import (
	"math"
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/job"
	"doorwright/meter"
	"doorwright/record"
	"doorwright/situation"
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
	expected := meter.Expect(site, meter.Default())
	for _, x := range r.Read {
		found := false
		for _, e := range expected {
			if record.Same(x, e) {
				found = true
			}
		}
		if !found {
			t.Errorf("nothing is expected of %s %s against %s, %q", x.Device, x.Red, x.Black, x.Condition)
		}
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
  - {device: staff.lock1, red: coil.plus, black: lock.nix, condition: dead, shows: 3 A, meter: M1, by: mw,
	on: 2026-01-02}
tests:
  - {door: staff, step: T99, outcome: pass, by: mw, on: 2026-10-12}
  - {door: staff, step: T02, outcome: pass, by: mw, on: 2026-10-12}
  - {door: staff, step: T02, outcome: pass, witness: mw, by: mw, on: 2026-10-12}
  - {door: stuff, step: T20, outcome: not-applicable, by: mw, on: 2026-10-12}
batteries: [{device: PS1, by: mw, on: 2026-10-12}]
snags:
  S1: {what: a, class: looks, by: mw, on: 2026-10-12, closed: {by: mw, on: 2026-10-11}}
accepts: [{finding: nothing, reason: r, by: mw, on: 2026-10-12}]
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
		`shows: found "3 A", which is no reading`,
		`found "T99", which is not a known step of the list`,
		`T02 bears on life: a pass counts only when somebody witnessed it`,
		`made the test; the witness must be somebody else`,
		`found "stuff", which is not a known door; did you mean "staff"?`,
		`what is not applicable needs its reason as note`,
		`is no battery`,
		`is before the snag was found, on 2026-10-12`,
		`a closed snag says what was done about it, in fix`,
		`found "nothing", which is not a known requirement`,
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

func TestValuesAreVoltsOhmsOrOverRange(t *testing.T) {
	for _, c := range []struct {
		text     string
		figure   float64
		quantity meter.Quantity
	}{
		{"12.8 V", 12.8, meter.Volts},
		{"4.7 kohm", 4700, meter.Ohms},
		{"over range", math.Inf(1), meter.Ohms},
		{"-3 mV", -0.003, meter.Volts},
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
