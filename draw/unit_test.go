package draw

import (
	"strings"
	"testing"

	"doorwright/device"
)

// Every built-in model is drawn with each of its terminals, nothing outside the sheet.
func TestUnitShowsEveryTerminal(t *testing.T) {
	c := device.Builtin()
	if len(c.IDs()) == 0 {
		t.Fatal("no models")
	}
	for _, id := range c.IDs() {
		m, _ := c.Get(id)
		s := Unit(id, m)
		labels := map[string]int{}
		for _, item := range s.Items {
			b := item.Bounds()
			if b.Left < 0 || b.Top < 0 || b.Right > s.Width || b.Bottom > s.Height {
				t.Errorf("%s: %v lies outside", id, item)
			}
			if text, ok := item.(Text); ok {
				labels[text.Text]++
			}
		}
		for _, x := range m.Strip {
			if labels[x.Label] == 0 && !strings.Contains(x.Label, " ") {
				t.Errorf("%s: no terminal %s", id, x.Label)
			}
		}
	}
}
