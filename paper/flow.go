package paper

import (
	"strings"

	"doorwright/draw"
)

// flow fills pages from top to bottom.
type flow struct {
	frame Frame
	area  draw.Box
	pages []*draw.Sheet
	at    draw.MM // where the next thing goes on the last page
}

func newFlow(f Frame) *flow {
	w := &flow{frame: f}
	w.turn()
	return w
}

// turn begins a new page.
func (w *flow) turn() {
	w.area = w.frame.area(len(w.pages) == 0)
	w.pages = append(w.pages, w.frame.page())
	w.at = w.area.Top
}

// legible is how large the smallest text of a drawing must be for it to stay whole on a page: 5.7 points. A figure of our
// own choice.
const legible draw.MM = 2

// pieces are a drawing as it goes on pages: a wide one is turned where that makes it a good deal larger, one too high to be
// legible on a page is cut over several.
func (w *flow) pieces(s *draw.Sheet) []*draw.Sheet {
	s = trimmed(s)
	const worth = 1.2
	high := w.frame.area(false).Height()
	if t := turned(s); w.scaleOf(t, high) > worth*w.scaleOf(s, high) {
		s = t
	}
	if cut := min(1, w.width()/s.Width); w.scaleOf(s, high) < cut && !w.fits(s) {
		return bands(s, high/cut)
	}
	return []*draw.Sheet{s}
}

// fits says that a drawing is legible on one page.
func (w *flow) fits(s *draw.Sheet) bool {
	s = trimmed(s)
	return w.scaleOf(s, w.frame.area(false).Height())*smallest(s) >= legible
}

// smallest is the size of the smallest text of a drawing.
func smallest(s *draw.Sheet) draw.MM {
	least := title
	for _, item := range s.Items {
		if t, is := item.(draw.Text); is {
			least = min(least, t.Size)
		}
	}
	return least
}

// fresh begins a new page unless the last one is empty.
func (w *flow) fresh() {
	if w.at > w.area.Top {
		w.turn()
	}
}

// paper is what was written, with head and foot on every page.
func (w *flow) paper() *Paper {
	if last := w.pages[len(w.pages)-1]; len(last.Items) == 0 && len(w.pages) > 1 {
		w.pages = w.pages[:len(w.pages)-1]
	}
	w.frame.finish(w.pages)
	name := strings.TrimSpace(w.frame.Kind + " " + w.frame.Part)
	return &Paper{Title: w.frame.Number + " " + w.frame.Title + ": " + name, Issued: w.frame.Issued, Pages: w.pages}
}

func (w *flow) width() draw.MM { return w.area.Width() }

func (w *flow) left() draw.MM { return w.area.Bottom - w.at }

// room turns the page unless so much is left on it.
func (w *flow) room(high draw.MM) {
	if w.left() < high && w.at > w.area.Top {
		w.turn()
	}
}

func (w *flow) put(items ...draw.Item) {
	p := w.pages[len(w.pages)-1]
	p.Items = append(p.Items, items...)
}

// gap leaves room, but none at the top of a page.
func (w *flow) gap(high draw.MM) {
	if w.at > w.area.Top {
		w.at += high
	}
}

// line writes one line of text.
func (w *flow) line(text string, x, size draw.MM, bold bool, ink draw.Ink) {
	w.put(draw.Text{
		At: draw.Point{X: x, Y: w.at + size}, Size: size, Bold: bold, Ink: ink, Text: text,
		Anchor: draw.Left,
	})
	w.at += size * leading
}

// name writes the large title of a paper, with room to its right for a code.
func (w *flow) name(text string, beside draw.MM) {
	for _, l := range wrapped(text, w.width()-beside, title, true) {
		w.line(l, w.area.Left, title, true, draw.NoInk)
	}
	w.at += 1
}

// head writes a heading, on the page of what follows it.
func (w *flow) head(text string) {
	w.room(22)
	w.gap(1.8)
	for _, l := range wrapped(text, w.width(), heading, true) {
		w.line(l, w.area.Left, heading, true, draw.NoInk)
	}
	w.put(draw.Line{Stroke: thin, Points: []draw.Point{
		{X: w.area.Left, Y: w.at + 0.1},
		{X: w.area.Right, Y: w.at + 0.1},
	}})
	w.at += 0.8
}

// sub writes a small heading.
func (w *flow) sub(text string) {
	w.room(18)
	w.gap(1)
	for _, l := range wrapped(text, w.width(), lead, true) {
		w.line(l, w.area.Left, lead, true, draw.NoInk)
	}
	w.at += 0.4
}

// say writes a paragraph.
func (w *flow) say(text string) { w.hang("", text, draw.NoInk, false) }

// fact writes what something is behind its name, within a width.
func (w *flow) fact(name, text string, wide draw.MM) {
	indent := measure(name+"  ", body, false)
	w.put(draw.Text{At: draw.Point{X: w.area.Left, Y: w.at + body}, Size: body, Ink: draw.Grey, Text: name})
	first, rest := text, ""
	if lines := wrapped(text, wide-indent, body, false); len(lines) > 1 {
		first = lines[0]
		rest = strings.TrimSpace(strings.TrimPrefix(text, first))
	}
	w.line(first, w.area.Left+indent, body, false, draw.NoInk)
	if rest == "" {
		return
	}
	for _, l := range wrapped(rest, wide-2, body, false) {
		w.line(l, w.area.Left+2, body, false, draw.NoInk)
	}
}

// note writes a paragraph that steps back.
func (w *flow) note(text string) { w.hang("", text, draw.Grey, false) }

// item writes a paragraph behind a mark.
func (w *flow) item(mark, text string) { w.hang(mark, text, draw.NoInk, false) }

func (w *flow) hang(mark, text string, ink draw.Ink, bold bool) {
	indent := draw.MM(0)
	if mark != "" {
		indent = max(4, measure(mark, body, true)+1.4)
	}
	for i, l := range wrapped(text, w.width()-indent, body, bold) {
		w.room(body * leading)
		if i == 0 && mark != "" {
			w.put(draw.Text{At: draw.Point{X: w.area.Left, Y: w.at + body}, Size: body, Bold: true, Text: mark})
		}
		w.line(l, w.area.Left+indent, body, bold, ink)
	}
	w.at += 0.5
}

// caution writes cautions in a box with a warning sign (triangle with a mark, ISO 7010 W001 in outline).
func (w *flow) cautions(all []string) {
	const pad, sign draw.MM = 1.1, 7
	var lines []string
	starts := map[int]bool{}
	for _, c := range all {
		starts[len(lines)] = true
		lines = append(lines, wrapped(c, w.width()-sign-3*pad-3, body, false)...)
	}
	high := draw.MM(len(lines))*body*leading + 2*pad
	w.room(high + 2)
	w.gap(1)
	top, x := w.at, w.area.Left
	w.put(draw.Rect{Stroke: thick, At: draw.Point{X: x, Y: top}, Width: w.width(), Height: high})
	w.put(warning(draw.Point{X: x + pad + sign/2, Y: top + high/2}, sign)...)
	w.at = top + pad
	for i, l := range lines {
		if starts[i] {
			w.put(draw.Text{At: draw.Point{X: x + sign + 2*pad, Y: w.at + body}, Size: body, Bold: true, Text: "•"})
		}
		w.line(l, x+sign+2*pad+3, body, false, draw.NoInk)
	}
	w.at = top + high + 1
}

// warning is the sign of a warning.
func warning(centre draw.Point, size draw.MM) []draw.Item {
	half, high := size/2, size*0.87
	top := centre.Y - high/2
	return []draw.Item{
		draw.Line{Stroke: draw.Stroke{Width: 0.5, Ink: draw.Black}, Closed: true, Points: []draw.Point{
			{X: centre.X, Y: top}, {X: centre.X + half, Y: top + high}, {X: centre.X - half, Y: top + high},
		}},
		draw.Text{
			At: draw.Point{X: centre.X, Y: top + high*0.86}, Size: size * 0.6, Bold: true, Anchor: draw.Middle,
			Text: "!",
		},
	}
}

// drawing puts a drawing on the page, made smaller where it is wider or higher than the room. One that would become too
// small for the rest of the page gets a new one.
func (w *flow) drawing(s *draw.Sheet) {
	if !w.holds(s) {
		w.turn()
	}
	w.gap(overDrawing)
	scale := w.scaleOf(s, w.left())
	at := draw.Point{X: w.area.Left + (w.width()-s.Width*scale)/2, Y: w.at}
	w.put(placed(s, at, scale)...)
	w.at += s.Height*scale + 2
}

// overDrawing is the room left above a drawing.
const overDrawing draw.MM = 2

// holds says that the rest of the page shows a drawing as large as a whole page would; an empty page always does.
func (w *flow) holds(s *draw.Sheet) bool {
	return w.at == w.area.Top || w.scaleOf(s, w.left()-overDrawing) >= w.scaleOf(s, w.area.Height())*0.98
}

// scaleOf is by how much a drawing must be made smaller for a height; 1 at most.
func (w *flow) scaleOf(s *draw.Sheet, high draw.MM) draw.MM {
	return min(1, w.width()/s.Width, high/s.Height)
}

// above turns the page unless so much, and the whole drawing below it, is left on this one. A drawing that no page
// has room for changes nothing.
func (w *flow) above(high draw.MM, s *draw.Sheet) {
	if need := high + s.Height*w.scaleOf(s, w.area.Height()); need < w.area.Height() {
		w.room(need)
	}
}

// signatures writes places to sign: a label, and room above a line.
func (w *flow) signatures(labels []string) {
	const high draw.MM = 14
	w.room(high + 2)
	w.gap(2)
	wide := w.width() / draw.MM(len(labels))
	for i, l := range labels {
		x := w.area.Left + draw.MM(i)*wide
		w.put(draw.Rect{Stroke: thin, At: draw.Point{X: x, Y: w.at}, Width: wide, Height: high},
			draw.Text{At: draw.Point{X: x + 1.2, Y: w.at + body + 0.4}, Size: body, Bold: true, Text: l},
			draw.Text{
				At: draw.Point{X: x + 1.2, Y: w.at + high - 1.2}, Size: small, Ink: draw.Grey,
				Text: "name, signature, date",
			})
	}
	w.at += high + 1
}
