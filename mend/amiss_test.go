package mend_test

import (
	"strings"
	"testing"

	"doorwright/demo"
	"doorwright/mend"
)

// What keeps a door from working is told; a door that works, or is a little short on an old battery, has nothing amiss.
func TestWhatKeepsADoorFromWorkingIsTold(t *testing.T) {
	x := mend.NewExaminer()
	sound := x.Examine(read(t, string(demo.Brackwater)))
	flawed := x.Examine(read(t, string(demo.Flawed)))
	for i := range sound.Doors {
		if all := sound.Amiss(sound.Doors[i].Door.ID); len(all) > 0 {
			t.Errorf("%s: %v", sound.Doors[i].Door.ID, all)
		}
	}
	for door, says := range map[string]string{"gauge": "no resting state", "plant": "plant.entry is for 12 V, and its supply PS2 gives 24 V; this alone may be what is wrong"} {
		if all := strings.Join(flawed.Amiss(door), "; "); !strings.Contains(all, says) {
			t.Errorf("%s: %q does not say %q", door, all, says)
		}
	}
	if all := flawed.Amiss("plant"); !strings.HasPrefix(all[0], "plant.entry is for") || strings.Count(strings.Join(all, "; "), "plant.entry") != 1 {
		t.Errorf("the voltage does not stand first, and once: %q", all)
	}
	if all := flawed.Amiss("visitor"); len(all) > 0 {
		t.Errorf("visitor: %v", all)
	}
}
