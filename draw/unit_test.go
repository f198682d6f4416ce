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

// Every kind has a shape, which lies within the frame of its picture, above the terminals.
func TestPictureShowsTheShapeOfEveryKind(t *testing.T) {
	for _, k := range device.Kinds() {
		shape := shapeOf(k.Name)
		if shape == nil {
			t.Errorf("%s has no shape", k.Name)
			continue
		}
		p := &pen{}
		shape(p)
		for _, item := range p.items {
			if b := item.Bounds(); b.Left < -15 || b.Right > 15 || b.Top < 0 || b.Bottom > shapeHigh {
				t.Errorf("%s: %v reaches out of its shape", k.Name, item)
			}
		}
	}
	c := device.Builtin()
	for _, id := range c.IDs() {
		m, _ := c.Get(id)
		s := Picture(id, m)
		words := 0
		for _, item := range s.Items {
			b := item.Bounds()
			if b.Left < 0 || b.Top < 0 || b.Right > s.Width || b.Bottom > s.Height {
				t.Errorf("%s: %v lies outside", id, item)
			}
			if text, ok := item.(Text); ok {
				words++
				if b.Top < shapeHigh || text.Text == m.Title {
					t.Errorf("%s: %q stands at its head", id, text.Text)
				}
			}
		}
		if (words > 0) != (len(m.Strip) <= mostStrip) {
			t.Errorf("%s: %d words of %d terminals", id, words, len(m.Strip))
		}
	}
}
