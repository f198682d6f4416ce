package paper

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"doorwright/draw"
)

func testFlow() *flow {
	return newFlow(Frame{Size: Sizes()[0], Title: "Site", Kind: "Sheet", Number: "S"})
}

// texts are the texts of a page in their order.
func texts(s *draw.Sheet) []string {
	var all []string
	for _, i := range s.Items {
		if t, is := i.(draw.Text); is {
			all = append(all, t.Text)
		}
	}
	return all
}

func TestATableBreaksBetweenRowsAndRepeatsItsHeadings(t *testing.T) {
	f := testFlow()
	tb := table{columns: []column{{title: "number", right: true}, {title: "word"}}}
	tb.part("First part")
	for i := range 200 {
		tb.add(fmt.Sprint(i), fmt.Sprintf("row%d", i))
	}
	f.table(tb)
	p := f.paper()
	if len(p.Pages) < 3 {
		t.Fatalf("%d pages", len(p.Pages))
	}
	seen := map[string]int{}
	for n, page := range p.Pages {
		all := strings.Join(texts(page), "\n")
		if strings.Count(all, "number\nword\n") != 1 {
			t.Errorf("page %d does not have the headings once", n+1)
		}
		if (n > 0) != strings.Contains(all, "First part (continued)") {
			t.Errorf("page %d does not tell which part goes on", n+1)
		}
		if !strings.Contains(all, fmt.Sprintf("%d of %d", n+1, len(p.Pages))) {
			t.Errorf("page %d does not count itself", n+1)
		}
		for _, x := range texts(page) {
			seen[x]++
		}
	}
	for i := range 200 {
		if seen[fmt.Sprintf("row%d", i)] != 1 {
			t.Errorf("row %d stands %d times", i, seen[fmt.Sprintf("row%d", i)])
		}
	}
}

// A law: whatever stands in a table, its columns fill the width, none is lost, and no line is wider than its column.
func TestColumnsFillTheWidth(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(r, "columns")
		tb := table{size: body}
		for range n {
			tb.columns = append(tb.columns, column{
				title: rapid.StringN(0, 20, -1).Draw(r, "title"), right: rapid.Bool().Draw(r, "right"), boxed: rapid.Bool().Draw(r, "boxed"),
			})
		}
		for range rapid.IntRange(0, 4).Draw(r, "rows") {
			var cells []string
			for range n {
				cells = append(cells, rapid.StringN(0, 120, -1).Draw(r, "cell"))
			}
			tb.add(cells...)
		}
		wide := tb.fit(180)
		if len(wide) != n || sum(wide) > 180.01 {
			r.Fatalf("%d columns of %v mm for %d", len(wide), sum(wide), n)
		}
		for i, w := range wide {
			if !(w > 0) {
				r.Fatalf("column %d is %v wide", i, w)
			}
		}
	})
}

// A law: wrapping loses no letter but blanks, and no line is wider than asked unless it is a single letter.
func TestWrappingLosesNothing(t *testing.T) {
	bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.StringMatching(`[a-zA-Z0-9 ./_\-äß→Ω]{0,200}`).Draw(r, "text")
		wide := draw.MM(rapid.Float64Range(3, 60).Draw(r, "wide"))
		lines := wrapped(text, wide, body, false)
		if bare(strings.Join(lines, " ")) != bare(text) {
			r.Fatalf("%q became %q", text, lines)
		}
		for _, l := range lines {
			if measure(l, body, false) > wide+0.01 && len([]rune(l)) > 1 {
				r.Fatalf("%q is wider than %v mm", l, wide)
			}
		}
	})
}

// Every primitive comes out, with the cubics of a circle within a thousandth of its radius (the usual bound of four arcs
// is 0.0273 %).
func TestEveryPrimitiveIsWritten(t *testing.T) {
	s := &draw.Sheet{Width: 100, Height: 100, Items: []draw.Item{
		draw.Line{Stroke: thin, Fill: draw.Shade, Closed: true, Points: []draw.Point{{X: 1, Y: 1}, {X: 9, Y: 1}, {X: 5, Y: 9}}},
		draw.Rect{Stroke: thick, At: draw.Point{X: 10, Y: 10}, Width: 20, Height: 10, Radius: 2},
		draw.Circle{Stroke: draw.Stroke{Width: 1, Ink: "GN", Stripe: "YE", Edged: true}, Centre: draw.Point{X: 50, Y: 50}, Radius: 10},
		draw.Arc{Stroke: draw.Stroke{Width: 0.3, Ink: draw.Warn, Dash: draw.Dashed}, Centre: draw.Point{X: 50, Y: 50}, Radius: 20, From: 30, Sweep: -200},
		draw.Text{At: draw.Point{X: 60, Y: 60}, Size: 4, Turn: -90, Anchor: draw.Middle, Text: "upwards\u0007\U0001F6AA"},
	}}
	one, err := (&Paper{Title: "t", Pages: []*draw.Sheet{s}}).PDF()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(one, []byte("%PDF-")) || !bytes.Contains(one, []byte("D:19000101")) {
		t.Error("no PDF, or one with a date of its own")
	}
	each := 90 * math.Pi / 180
	handle := 4.0 / 3 * math.Tan(each/4)
	for i := range 101 {
		u := float64(i) / 100
		x := cubic(1, 1, handle, 0, u)
		y := cubic(0, handle, 1, 1, u)
		if math.Abs(math.Hypot(x, y)-1) > 0.001 {
			t.Errorf("at %v the arc is %v from its centre", u, math.Hypot(x, y))
		}
	}
}

func cubic(a, b, c, d, u float64) float64 {
	v := 1 - u
	return a*v*v*v + 3*b*v*v*u + 3*c*v*u*u + d*u*u*u
}

// A drawing that is turned keeps its boxes: each is as wide as it was high, and none leaves the sheet.
func TestATurnedDrawingIsTheSameDrawing(t *testing.T) {
	s := &draw.Sheet{Width: 200, Height: 80, Items: []draw.Item{
		draw.Line{Stroke: thin, Points: []draw.Point{{X: 10, Y: 20}, {X: 190, Y: 20}}},
		draw.Rect{Stroke: thin, At: draw.Point{X: 150, Y: 60}, Width: 40, Height: 10},
		draw.Circle{Stroke: thin, Centre: draw.Point{X: 30, Y: 30}, Radius: 5},
		draw.Arc{Stroke: thin, Centre: draw.Point{X: 100, Y: 40}, Radius: 20, From: 0, Sweep: 90},
		draw.Text{At: draw.Point{X: 20, Y: 70}, Size: 4, Text: "reads upwards"},
	}}
	u := turned(s)
	if u.Width != s.Height || u.Height != s.Width || len(u.Items) != len(s.Items) {
		t.Fatalf("%v by %v with %d items", u.Width, u.Height, len(u.Items))
	}
	for i := range s.Items {
		a, b := s.Items[i].Bounds(), u.Items[i].Bounds()
		want := draw.Box{Left: a.Top, Top: s.Width - a.Right, Right: a.Bottom, Bottom: s.Width - a.Left}
		for _, d := range []draw.MM{b.Left - want.Left, b.Top - want.Top, b.Right - want.Right, b.Bottom - want.Bottom} {
			if math.Abs(float64(d)) > 1e-6 {
				t.Errorf("item %d is at %+v, want %+v", i, b, want)
			}
		}
	}
}

// A high drawing is cut between its boxes; nothing is lost, and the line along its side goes on in every piece.
func TestAHighDrawingIsCutBetweenItsBoxes(t *testing.T) {
	s := &draw.Sheet{Width: 100, Height: 1000, Items: []draw.Item{
		draw.Line{Stroke: thin, Points: []draw.Point{{X: 5, Y: 2}, {X: 5, Y: 990}, {X: 20, Y: 990}}},
		draw.Line{Stroke: thin, Points: []draw.Point{{X: 30, Y: 500}, {X: 70, Y: 500}}}, // it must not show at any cut
	}}
	for i := range 30 {
		y := draw.MM(i) * 33
		s.Items = append(s.Items, draw.Rect{Stroke: thin, At: draw.Point{X: 20, Y: y + 1}, Width: 60, Height: 20},
			draw.Text{At: draw.Point{X: 22, Y: y + 10}, Size: 3, Text: fmt.Sprint("box ", i)})
	}
	parts := bands(s, 240)
	if len(parts) < 5 {
		t.Fatalf("%d pieces", len(parts))
	}
	boxes, names, lines := 0, 0, draw.MM(0)
	for _, p := range parts {
		if p.Height > 240 {
			t.Errorf("a piece of %v mm", p.Height)
		}
		for _, item := range p.Items {
			if b := item.Bounds(); b.Top < -0.2 || b.Bottom > p.Height+0.2 {
				t.Errorf("%+v leaves its piece", item)
			}
			switch i := item.(type) {
			case draw.Rect:
				boxes++
			case draw.Text:
				names++
			case draw.Line:
				for k := range i.Points[1:] {
					lines += draw.MM(math.Hypot(float64(i.Points[k+1].X-i.Points[k].X), float64(i.Points[k+1].Y-i.Points[k].Y)))
				}
			}
		}
	}
	if boxes != 30 || names != 30 || math.Abs(float64(lines-988-15-40)) > 0.5 {
		t.Errorf("%d boxes, %d names, %v mm of line", boxes, names, lines)
	}
	if whole := bands(&draw.Sheet{Width: 10, Height: 500, Items: []draw.Item{draw.Rect{Width: 10, Height: 500}}}, 240); len(whole) != 1 {
		t.Errorf("a box was cut into %d", len(whole))
	}
}

// A text that reads upwards in a drawing would stand on its head when that is turned: it is set upright in the same place.
func TestNoTextOfATurnedDrawingStandsOnItsHead(t *testing.T) {
	s := &draw.Sheet{Width: 60, Height: 20}
	for _, a := range []draw.Anchor{draw.Left, draw.Middle, draw.Right} {
		for _, turn := range []float64{0, -90} {
			s.Items = []draw.Item{draw.Text{At: draw.Point{X: 30, Y: 10}, Size: 2, Anchor: a, Turn: turn, Text: "2100 mm"}}
			b := s.Items[0].Bounds()
			got := turned(s).Items[0].(draw.Text)
			if want := map[float64]float64{0: -90, -90: 0}[turn]; got.Turn != want {
				t.Errorf("%q turned by %v is turned by %v, not %v", a, turn, got.Turn, want)
			}
			want := draw.Box{Left: b.Top, Top: s.Width - b.Right, Right: b.Bottom, Bottom: s.Width - b.Left}
			if o := got.Bounds().Grown(-0.5); o.Left < want.Left || o.Right > want.Right || o.Top < want.Top || o.Bottom > want.Bottom {
				t.Errorf("%q turned by %v went from %v to %v", a, turn, want, got.Bounds())
			}
		}
	}
}
