package mend_test

import (
	"reflect"
	"testing"

	"doorwright/demo"
	"doorwright/mend"
	"doorwright/proof"
)

// What is said of a door that is examined with only what shares copper with it, mends included, is what the examination of
// the whole job says of it.
func TestADoorExaminedAloneIsAsInTheWhole(t *testing.T) {
	x := mend.NewExaminer()
	j := read(t, string(demo.Flawed))
	whole := x.Examine(j)
	x.All(j, whole)
	of := func(e *mend.Examination, door string) (all []proof.Finding) {
		for _, f := range e.Findings {
			if f.Door == door {
				all = append(all, f)
			}
		}
		return all
	}
	partial := false
	for i := range whole.Doors {
		d := whole.Doors[i].Door
		around := x.ExamineAround(j, []string{d.ID})
		x.All(j, around)
		partial = partial || around.Partial()
		found := 0
		for k := range around.Doors {
			if around.Doors[k].Door != d {
				continue
			}
			found++
			if !reflect.DeepEqual(around.Doors[k], whole.Doors[i]) {
				t.Errorf("%s: effects or rules differ from those in the whole", d.ID)
			}
		}
		if found != 1 {
			t.Fatalf("%s is there %d times", d.ID, found)
		}
		if a, b := of(around, d.ID), of(whole, d.ID); !reflect.DeepEqual(a, b) {
			t.Errorf("%s: around it\n%+v\nin the whole\n%+v", d.ID, a, b)
		}
		for _, l := range around.Loads {
			for _, m := range whole.Loads {
				if l.Supply == m.Supply && !reflect.DeepEqual(l, m) {
					t.Errorf("%s: %s gives otherwise than in the whole", d.ID, l.Supply.ID)
				}
			}
		}
	}
	if !partial {
		t.Error("no door of the demo is examined without another")
	}
}
