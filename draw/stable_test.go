package draw

import (
	"slices"
	"strings"
	"testing"

	"doorwright/demo"
)

// orders lists the devices of a door's diagram, column by column from the top.
func orders(t *testing.T, text, door string) [][]string {
	t.Helper()
	p := planOf(t, []byte(text))
	for _, d := range p.Job.Doors {
		if d.ID != door {
			continue
		}
		_, g := wiringSheet(p, doorSubject(d))
		var all [][]string
		for _, c := range g.columns {
			var ids []string
			for _, gr := range c.groups {
				for _, b := range gr.boxes {
					ids = append(ids, b.device.ID)
				}
			}
			all = append(all, ids)
		}
		return all
	}
	t.Fatal("no such door")
	return nil
}

// A detail that changes leaves every device where it was among the others.
func TestADetailLeavesTheRestInPlace(t *testing.T) {
	text := string(demo.Brackwater)
	for _, c := range []struct{ door, from, to string }{
		{"plant", "length: 85 m", "length: 60 m"},
		{"plant", "title: Plant room\n", "title: Plant room of the tidal turbine and its converters\n"},
		{
			"plant", "exit: [exit-button]\n    contacts: [contact-surface]\n    releases: [release-2]\n    watch: relay-24\n    supervision: double",
			"exit: [exit-button]\n    contacts: [contact-surface]\n    releases: [release-2]\n    watch: relay-24\n    supervision: double\n    resistor: 2.2 kohm",
		},
		{"staff", "sounder: sounder-12\n    cable-length: 9 m", "cable-length: 9 m"},
		{"gauge", "reader-serial, speed", "reader-serial, title: Leser, speed"},
	} {
		changed := strings.Replace(text, c.from, c.to, 1)
		if changed == text {
			t.Fatalf("%q is not in the demo", c.from)
		}
		before, after := orders(t, text, c.door), orders(t, changed, c.door)
		for i := range before {
			both := slices.DeleteFunc(before[i], func(id string) bool { return !slices.Contains(after[i], id) })
			if !slices.Equal(both, after[i]) {
				t.Errorf("%s, %q: was %v, is %v", c.door, c.to, both, after[i])
			}
		}
	}
}
