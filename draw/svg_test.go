package draw

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// every is a sheet with one of every kind of item.
func every() *Sheet {
	thick := Stroke{Width: 0.7, Ink: "GN", Stripe: "YE", Edged: true}
	return &Sheet{Title: "All <items>", Width: 100, Height: 50, Items: []Item{
		Line{Of: "W1.1", Stroke: thick, Points: []Point{{0, 0}, {10, 0}, {10, 10}, {20, 20}}},
		Line{Stroke: Stroke{Width: 0.2, Ink: Black}, Fill: Shade, Closed: true, Points: []Point{{1, 1}, {2, 1}, {2, 2}}},
		Rect{Of: "lock", Stroke: Stroke{Width: 0.3, Ink: Black, Dash: Dashed}, At: Point{5, 5}, Width: 10, Height: 5, Radius: 1},
		Circle{Stroke: Stroke{Width: 0.2, Ink: Warn}, Fill: Paper, Centre: Point{50, 25}, Radius: 3},
		Arc{Stroke: Stroke{Width: 0.2, Ink: Grey}, Centre: Point{50, 25}, Radius: 10, From: 0, Sweep: -90},
		Text{Of: "lock.A1", At: Point{60, 10}, Size: 2.5, Anchor: Right, Bold: true, Turn: -90, Text: "A1 & “é” دخول"},
	}}
}

func TestSVGIsWellFormedAndNamesItsParts(t *testing.T) {
	out := string(SVG(every()))
	d := xml.NewDecoder(strings.NewReader(out))
	elements := map[string]int{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, is := token.(xml.StartElement); is {
			elements[e.Name.Local]++
			names := map[string]bool{}
			for _, a := range e.Attr {
				if names[a.Name.Local] {
					t.Errorf("<%s> has %s twice", e.Name.Local, a.Name.Local)
				}
				names[a.Name.Local] = true
			}
		}
	}
	for name, want := range map[string]int{"path": 5, "rect": 1, "circle": 1, "text": 1, "title": 1} {
		if elements[name] != want {
			t.Errorf("%d elements %s, want %d", elements[name], name, want)
		}
	}
	for _, part := range []string{
		`viewBox="0 0 100 50"`, "All &lt;items&gt;", `data-of="W1.1"`, `d="M0 0H10V10L20 20"`, `d="M60 25A10 10 0 0 0 50 15"`,
		`stroke="currentColor"`, "rotate(-90 60 10)", "prefers-color-scheme:dark", "A1 &amp; “é” دخول",
	} {
		if !strings.Contains(out, part) {
			t.Errorf("no %s in\n%s", part, out)
		}
	}
}

func TestCoreInks(t *testing.T) {
	for _, c := range []struct {
		colour       string
		base, stripe Ink
	}{{"RD", "RD", NoInk}, {"RDBU", "RD", "BU"}, {"GNYE", "GN", "YE"}, {"black 3", Black, NoInk}, {"", Black, NoInk}} {
		if base, stripe := CoreInks(c.colour); base != c.base || stripe != c.stripe {
			t.Errorf("%q is %q with %q", c.colour, base, stripe)
		}
	}
}

func TestBoundsOfTurnedAndCurvedItems(t *testing.T) {
	arc := Arc{Centre: Point{0, 0}, Radius: 10, From: 45, Sweep: 90}
	if b := arc.Bounds(); b.Bottom < 9.99 || b.Left > -7.07 || b.Right < 7.07 || b.Top > 7.08 {
		t.Errorf("a bow over the bottom lies in %v", b)
	}
	up := Text{At: Point{0, 0}, Size: 3, Turn: -90, Text: "upwards"}
	if b := up.Bounds(); b.Height() <= b.Width() || b.Top > -5 {
		t.Errorf("a text that reads upwards lies in %v", b)
	}
	if (Box{0, 0, 1, 1}).Overlaps(Box{1, 0, 2, 1}) || !(Box{0, 0, 1, 1}).Overlaps(Box{0.5, 0.5, 2, 2}) {
		t.Error("boxes that touch overlap, or those that overlap do not")
	}
}
