package proof_test

import (
	"bytes"
	"fmt"
	"testing"

	"doorwright/demo"
	"doorwright/fault"
	"doorwright/proof"
	"doorwright/wiring"
)

// Where the print of a door is the same before and after a change, trying its faults anew finds what it found before; and
// a change leaves the prints of doors that it does not touch as they are.
func TestFaultPrintTellsWhatHasToBeTriedAnew(t *testing.T) {
	sound := proof.Prove(wiring.Make(readSite(t, demo.Brackwater)))
	was := printsOf(sound)
	before := toldByDoor(sound)
	for _, c := range []struct {
		name, old, new string
		changed        int // doors at least
		same           int // doors at least
	}{
		{"another revision", "revision: A", "revision: B", 0, 8},
		{"a longer cable", "cable-length: 9 m", "cable-length: 12 m", 4, 3},
		{"another name of a place", "Riser on the ground floor", "Riser", 1, 1},
		{"a place that is not outside", "building: hut, side: unsecured", "building: hut", 1, 7},
		{"another rating of a door", "fire-rated: no\n    opening: {width: 900 mm, height: 2050 mm, handing: right, swing: in}\n    controller: C2/2", "fire-rated: yes\n    opening: {width: 900 mm, height: 2050 mm, handing: right, swing: in}\n    controller: C2/2", 1, 3},
		{"a resistor for another supervision", "watch: relay-24\n    supervision: double", "watch: relay-24\n    supervision: single", 1, 3},
	} {
		text := bytes.Replace(demo.Brackwater, []byte(c.old), []byte(c.new), 1)
		if bytes.Equal(text, demo.Brackwater) {
			t.Fatalf("%s: the demo has no %q", c.name, c.old)
		}
		r := proof.Prove(wiring.Make(readSite(t, text)))
		is := printsOf(r)
		var now map[string]string
		same := 0
		for i := range r.Doors {
			if was[i] != is[i] {
				continue
			}
			same++
			if c.changed == 0 {
				continue // the same bytes but for the revision
			}
			if now == nil {
				now = toldByDoor(r)
			}
			if id := r.Doors[i].Door.ID; now[id] != before[id] {
				t.Errorf("%s: %s has the print it had, and its faults come to something else", c.name, id)
			}
		}
		if changed := len(r.Doors) - same; changed < c.changed || same < c.same {
			t.Errorf("%s: %d doors have another print, %d the same; want at least %d and %d", c.name, changed, same, c.changed, c.same)
		}
	}
}

func printsOf(r *proof.Result) (prints [][32]byte) {
	p := r.FaultPrints()
	for i := range r.Doors {
		prints = append(prints, p.Of(i))
	}
	return prints
}

// toldByDoor is everything that trying the faults of each door tells, in writing.
func toldByDoor(r *proof.Result) map[string]string {
	told := map[string]string{}
	report := proof.TryFaults(r, proof.SingleFaults, nil, nil)
	name := func(f *fault.Fault) string { return fmt.Sprint(f.ID, f.Name, f.Where, f.Place, f.Repair) }
	for i := range report.Doors {
		d := &report.Doors[i]
		var b bytes.Buffer
		fmt.Fprintln(&b, d.Tried)
		for _, s := range d.Seen {
			fmt.Fprintln(&b, name(s.Fault), s.Idle, s.Lost, s.Notice, s.Shows, s.Tested, s.Accepted, s.Broken)
			if s.Beside != nil {
				fmt.Fprintln(&b, *s.Beside)
			}
		}
		for _, a := range d.Attacks {
			for _, f := range a.Faults {
				fmt.Fprint(&b, name(f))
			}
			fmt.Fprintln(&b, a.Effect, a.Cause, a.Accepted)
		}
		told[d.Door.ID] = b.String()
	}
	for _, f := range report.Findings {
		told[f.Door] += fmt.Sprintln(f.Requirement, f.Where, f.What, f.Severity, f.Subject)
	}
	return told
}
