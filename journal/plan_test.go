package journal

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"doorwright/record"

	"pgregory.net/rapid"
)

func drawCores(t *rapid.T, label string) []Core {
	return rapid.SliceOfNDistinct(rapid.Custom(func(t *rapid.T) Core {
		pick := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
		return Core{
			ID: fmt.Sprintf("R%d/1", rapid.IntRange(1, 6).Draw(t, "run")), A: pick("a", "C1", "C2"), ATo: pick("pin", "x", "y"),
			B: pick("b", "d.lock", "d.exit"), BTo: pick("to", "x", "y"), Colour: pick("colour", "RD", "BK"), For: pick("for", "feed", "exit"),
		}
	}), 0, 6, func(c Core) string { return c.ID }).Draw(t, label)
}

// What was issued, less what is removed and changed, with what is added and what it is changed to, is the new plan.
func TestDifferenceLeadsFromOnePlanToTheOther(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		was, is := drawCores(rt, "was"), drawCores(rt, "is")
		d := Compare(was, is)
		now := map[string]Core{}
		for _, c := range was {
			now[c.ID] = c
		}
		for _, c := range d.Removed {
			if now[c.ID] != c {
				rt.Fatalf("%v is removed and was not there", c)
			}
			delete(now, c.ID)
		}
		for _, m := range d.Moved {
			if now[m[0].ID] != m[0] || m[0].ID != m[1].ID || m[0].same(m[1]) {
				rt.Fatalf("%v is no change", m)
			}
			now[m[1].ID] = m[1]
		}
		for _, c := range d.Added {
			if _, ok := now[c.ID]; ok {
				rt.Fatalf("%v is added and was there", c)
			}
			now[c.ID] = c
		}
		if len(now) != len(is) {
			rt.Fatalf("%d cores, want %d", len(now), len(is))
		}
		for _, c := range is {
			if !now[c.ID].same(c) {
				rt.Fatalf("%v has become %v", c, now[c.ID])
			}
		}
		if d.None() != slices.EqualFunc(sortedCores(was), sortedCores(is), Core.same) {
			rt.Fatal("no difference between plans that differ, or one between plans that do not")
		}
	})
}

func sortedCores(all []Core) []Core {
	all = slices.Clone(all)
	slices.SortFunc(all, func(a, b Core) int { return strings.Compare(a.ID, b.ID) })
	return all
}

// Whatever the plan becomes, a tick counts for the core it was made at, unchanged, or for none.
func TestTickNeverCountsForAnotherCore(t *testing.T) {
	kept, lost := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		was, is := drawCores(rt, "was"), drawCores(rt, "is")
		if rapid.Bool().Draw(rt, "nothing has changed") { // else hardly any tick is ever kept
			is = was
		}
		b := newBuilder("BTO")
		for i, c := range was {
			end := c.A + "." + c.ATo
			if i%2 == 0 {
				end = c.B + "." + c.BTo
			}
			b.take(&Entry{Log: "log-1", Seq: int64(i), Body: Ticked{Job: "BTO", Core: c, End: end, Act: act}})
		}
		j := b.finished()
		for _, c := range is {
			for _, end := range []string{c.A + "." + c.ATo, c.B + "." + c.BTo} {
				tick := j.TickOf(c, end)
				if tick == nil {
					lost++
					continue
				}
				kept++
				if i := slices.IndexFunc(was, func(o Core) bool { return o.ID == c.ID }); i < 0 || !was[i].same(c) || tick.End != end {
					rt.Fatalf("%v has the tick of %v", c, tick.Core)
				}
			}
		}
	})
	if kept == 0 || lost == 0 {
		t.Errorf("%d ticks kept, %d not", kept, lost)
	}
}

func TestPlanIsKeptByValue(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater())
	cores := CoresOf(planOf(t, j.State().Job("BTO").Document))
	wrote(t, j, Planned{Job: "BTO", Revision: "A", Cores: cores}, Removed{Job: "BTO", Object: "doors/gauge"})
	plans := j.State().Job("BTO").Plans
	if len(cores) < 50 || len(plans) != 1 || !slices.Equal(plans[0].Cores, cores) || j.State().Job("BTO").Revision() != "A" {
		t.Errorf("%d cores became %+v", len(cores), plans)
	}
}

// What was done at a door that is gone stays in the record and is told.
func TestWhatWasDoneAtADoorThatIsGoneIsTold(t *testing.T) {
	j := opened(t, NewMemory())
	wrote(t, j, brackwater(), Sighted{Job: "BTO", Sight: record.Sight{Door: "gauge", What: "rust", Act: act}},
		Tested{Job: "BTO", Test: record.Test{Door: "staff", Step: "T35", Outcome: "fail", Act: act}},
		Measured{Job: "BTO", Reading: record.Reading{Device: "gauge.lock1", Red: "plus", Black: "minus", Condition: "idle", Shows: volts(t, "12.847 V"), Act: act}})
	told := func() []string {
		st := j.State()
		return st.Strays(st.Job("BTO"), planOf(t, st.Job("BTO").Document))
	}
	if s := told(); len(s) > 0 && !strings.Contains(s[0], "terminal") {
		t.Errorf("before: %v", s)
	}
	wrote(t, j, Removed{Job: "BTO", Object: "doors/gauge"})
	st := j.State()
	rec, _ := st.Record(st.Job("BTO"), planOf(t, st.Job("BTO").Document))
	if s := told(); len(s) != 2 || len(rec.Seen) != 1 || len(rec.Read) != 1 {
		t.Errorf("after: %v, seen %v", s, rec.Seen)
	}
}

func volts(t *testing.T, text string) record.Value {
	var v record.Value
	if err := v.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return v
}

// A meter of five figures is believed all five.
func TestReadingKeepsEveryFigure(t *testing.T) {
	for _, text := range []string{"12.847 V", "123.456 kohm", "0.35171 ohm", "12.3456 mA", "over range", "0.61234 V diode", "over range diode"} {
		v := volts(t, text)
		raw, err := json.Marshal(v)
		var again record.Value
		if err == nil {
			err = json.Unmarshal(raw, &again)
		}
		if err != nil || again != v {
			t.Errorf("%s is kept as %s: %v", text, raw, err)
		}
	}
}

// An entry of an earlier version, whose kind had fewer fields, still reads; one with more does not.
func TestEntryOfAnEarlierVersionReads(t *testing.T) {
	const form = `{"log":"log-0","seq":0,"clock":1,"at":"2026-10-12T08:00:00Z","who":"mw","prev":"","kind":"edit","body":{"Job":"BTO","Field":"title","Value":"x"%s}}`
	e, err := readEntry(fmt.Appendf(nil, form, ""))
	if err != nil || e.Body.(Edited).Value != "x" {
		t.Errorf("%+v, %v", e, err)
	}
	if _, err := readEntry(fmt.Appendf(nil, form, `,"Later":1`)); err == nil {
		t.Error("a field that is not known was passed over")
	}
	if _, err := OpenPack(context.Background(), nil); err == nil {
		t.Error("nothing is a pack")
	}
}

func BenchmarkCompare(b *testing.B) {
	var cores []Core
	for i := range 25_000 {
		cores = append(cores, Core{ID: fmt.Sprintf("R%d/1", i), A: "C1", ATo: "x", B: "d", BTo: "y"})
	}
	for b.Loop() {
		if !Compare(cores, cores).None() {
			b.Fatal("a difference")
		}
	}
}
