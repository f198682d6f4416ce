package paper

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"doorwright/draw"
)

// box is a drawing of a height, with a name in it.
func box(name string, high draw.MM) *draw.Sheet {
	return &draw.Sheet{Width: 100, Height: high, Items: []draw.Item{
		draw.Rect{Stroke: thin, Width: 100, Height: high},
		draw.Text{At: draw.Point{X: 5, Y: high / 2}, Size: 3, Text: name},
	}}
}

// list is a part of a paper: a heading and a table of so many rows.
func list(name string, rows int) func(*flow) {
	return func(f *flow) {
		f.head("part " + name)
		t := table{columns: []column{{title: "row"}}}
		for i := range rows {
			t.add(fmt.Sprint("row ", name, i))
		}
		f.table(t)
	}
}

// order is what stands on the pages of a paper, from top to bottom, of parts, rows and drawings.
func order(p *Paper) []string {
	var all []string
	for _, page := range p.Pages {
		for _, x := range texts(page) {
			if kind, _, named := strings.Cut(x, " "); named && (kind == "part" || kind == "row" || kind == "drawing") {
				all = append(all, x)
			}
		}
	}
	return all
}

// Whatever the sizes, nothing is lost or twice there, parts and drawings keep their order, and a drawing stands behind the
// last row of one part and before the heading of another.
func TestADrawingNeverStandsInsideATable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []func(*flow)
		var drawings []*draw.Sheet
		var want []string
		for i, rows := range rapid.SliceOfN(rapid.IntRange(1, 150), 1, 4).Draw(t, "rows") {
			name := string(rune('a' + i))
			parts, want = append(parts, list(name, rows)), append(want, "part "+name)
			for r := range rows {
				want = append(want, fmt.Sprint("row ", name, r))
			}
		}
		for i, high := range rapid.SliceOfN(rapid.IntRange(20, 400), 0, 3).Draw(t, "heights") {
			drawings = append(drawings, box(fmt.Sprint("drawing ", i), draw.MM(high)))
		}
		f := testFlow()
		f.among(drawings, parts...)
		var written []string
		last, drawn := "", 0
		for _, x := range append(order(f.paper()), "part") {
			if is := fmt.Sprint("drawing ", drawn); x == is {
				drawn++
			} else if x != "part" {
				written = append(written, x)
			}
			if strings.HasPrefix(last, "drawing") && strings.HasPrefix(x, "row") {
				t.Errorf("%s stands before %s", last, x)
			}
			last = x
		}
		if drawn != len(drawings) {
			t.Errorf("%d of %d drawings", drawn, len(drawings))
		}
		if strings.Join(written, ", ") != strings.Join(want, ", ") {
			t.Errorf("got %v", written)
		}
	})
}

// A drawing goes where the paper becomes shortest by it: here on the page on which the first part leaves room.
func TestADrawingGoesWhereThereIsRoom(t *testing.T) {
	f := testFlow()
	f.among([]*draw.Sheet{box("drawing", 150)}, list("a", 10), list("b", 60))
	p := f.paper()
	if len(p.Pages) != 2 {
		t.Fatalf("%d pages", len(p.Pages))
	}
	if all := texts(p.Pages[0]); !slices.Contains(all, "drawing") {
		t.Errorf("the drawing is not on the first page, with %q", all)
	}
}

// What follows a drawing goes on below it where there is room.
func TestTextFillsThePageBelowADrawing(t *testing.T) {
	f := testFlow()
	f.among([]*draw.Sheet{box("drawing 0", 150), box("drawing 1", 150)}, list("a", 5), list("b", 5))
	f.say("behind")
	p := f.paper()
	if len(p.Pages) != 2 {
		t.Fatalf("%d pages", len(p.Pages))
	}
	if all := strings.Join(texts(p.Pages[1]), "\n"); !strings.Contains(all, "drawing 1") || !strings.Contains(all, "behind") {
		t.Errorf("the second page has %q", all)
	}
}
