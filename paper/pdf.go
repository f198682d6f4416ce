package paper

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"

	"doorwright/draw"
	"doorwright/record"
)

// Paper is one document: its pages in order, and what a reader shows about it.
type Paper struct {
	Title  string
	Issued record.Date // its date of making, too; none is the first day of the calendar that PDF knows
	Pages  []*draw.Sheet
}

// family is the name of the one family of fonts.
const family = "DejaVuSans"

// PDF writes the paper: one page for each sheet, in its size. Fonts are embedded, only the letters that are used. The
// same paper gives the same bytes. It errs on what the writer of PDF refuses.
func (p *Paper) PDF() ([]byte, error) {
	f := fpdf.New("P", "mm", "A4", "")
	f.SetCatalogSort(true)
	f.SetAutoPageBreak(false, 0)
	f.SetTitle(clean(p.Title), true)
	f.SetCreator("Doorwright", true)
	f.SetProducer("Doorwright", true)
	p.date(f)
	f.AddUTF8FontFromBytes(family, "", dejavusans.TTF)
	f.AddUTF8FontFromBytes(family, "B", dejavusansbold.TTF)
	w := pen{f: f}
	for _, s := range p.Pages {
		f.AddPageFormat("P", fpdf.SizeType{Wd: float64(s.Width), Ht: float64(s.Height)})
		w.forget()
		for _, item := range s.Items {
			w.item(item)
		}
	}
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return nil, fmt.Errorf("the PDF could not be written: %w", err)
	}
	return b.Bytes(), nil
}

// date sets both dates of the document. The writer would else ask the clock.
func (p *Paper) date(f *fpdf.Fpdf) {
	d := p.Issued
	if d.IsZero() {
		d = record.Date{Year: 1900, Month: 1, Day: 1}
	}
	dawn := f.GetCreationDate() // the zero time: the first of January of the year 1
	made := dawn.AddDate(d.Year-1, d.Month-1, d.Day-1)
	f.SetCreationDate(made)
	f.SetModificationDate(made)
}

// clean takes out what the writer cannot set: control characters, and letters beyond the basic plane.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < ' ' || r == 0x7f:
			return ' '
		case r > 0xffff:
			return '\ufffd'
		}
		return r
	}, text)
}

// pen draws items on a page. It remembers what it has set, since most items are alike.
type pen struct {
	f     *fpdf.Fpdf
	style string
	size  draw.MM
}

// forget says that a new page has begun.
func (w *pen) forget() { w.style, w.size = "?", 0 }

func (w *pen) item(item draw.Item) {
	switch i := item.(type) {
	case draw.Line:
		w.shape(i.Stroke, i.Fill, func() { w.line(i) })
	case draw.Rect:
		w.shape(i.Stroke, i.Fill, func() { w.rect(i) })
	case draw.Circle:
		w.shape(i.Stroke, i.Fill, func() { w.arc(i.Centre, i.Radius, 0, 360) })
	case draw.Arc:
		w.shape(i.Stroke, draw.NoInk, func() { w.arc(i.Centre, i.Radius, i.From, i.Sweep) })
	case draw.Text:
		w.text(i)
	}
}

// shape fills a path, then draws each pass of its stroke.
func (w *pen) shape(s draw.Stroke, fill draw.Ink, path func()) {
	if fill != draw.NoInk {
		c := fill.Light()
		w.f.SetFillColor(int(c.R), int(c.G), int(c.B))
		path()
		w.f.DrawPath("F")
	}
	for _, p := range s.Passes() {
		c := p.Ink.Light()
		w.f.SetDrawColor(int(c.R), int(c.G), int(c.B))
		w.f.SetLineWidth(float64(p.Width))
		var dashes []float64
		for _, d := range p.Lengths {
			dashes = append(dashes, float64(d))
		}
		w.f.SetDashPattern(dashes, 0)
		path()
		w.f.DrawPath("D")
	}
}

func (w *pen) line(l draw.Line) {
	for i, p := range l.Points {
		if i == 0 {
			w.f.MoveTo(float64(p.X), float64(p.Y))
			continue
		}
		w.f.LineTo(float64(p.X), float64(p.Y))
	}
	if l.Closed {
		w.f.ClosePath()
	}
}

func (w *pen) rect(r draw.Rect) {
	left, top, right, bottom := float64(r.At.X), float64(r.At.Y), float64(r.At.X+r.Width), float64(r.At.Y+r.Height)
	round := float64(min(r.Radius, r.Width/2, r.Height/2))
	if round <= 0 {
		w.f.MoveTo(left, top)
		w.f.LineTo(right, top)
		w.f.LineTo(right, bottom)
		w.f.LineTo(left, bottom)
		w.f.ClosePath()
		return
	}
	in := round * (1 - kappa)
	w.f.MoveTo((left+right)/2, top) // far from a bend: the writer rounds where a path starts, and joints show it
	w.f.LineTo(right-round, top)
	w.f.CurveBezierCubicTo(right-in, top, right, top+in, right, top+round)
	w.f.LineTo(right, bottom-round)
	w.f.CurveBezierCubicTo(right, bottom-in, right-in, bottom, right-round, bottom)
	w.f.LineTo(left+round, bottom)
	w.f.CurveBezierCubicTo(left+in, bottom, left, bottom-in, left, bottom-round)
	w.f.LineTo(left, top+round)
	w.f.CurveBezierCubicTo(left, top+in, left+in, top, left+round, top)
	w.f.ClosePath()
}

// kappa is how far the handles of a cubic lie that stands for a quarter of a circle: 4/3 tan(pi/8) = 4/3 (sqrt 2 - 1).
const kappa = 4.0 / 3 * (math.Sqrt2 - 1)

// arc draws a part of a circle in cubics of at most a quarter each.
func (w *pen) arc(centre draw.Point, radius draw.MM, from, sweep float64) {
	x, y, r := float64(centre.X), float64(centre.Y), float64(radius)
	parts := max(1, int(math.Ceil(math.Abs(sweep)/90-1e-9)))
	each := sweep / float64(parts) * math.Pi / 180
	handle := 4.0 / 3 * math.Tan(each/4) * r
	sin, cos := math.Sincos(from * math.Pi / 180)
	w.f.MoveTo(x+r*cos, y+r*sin)
	for i := range parts {
		endSin, endCos := math.Sincos(from*math.Pi/180 + each*float64(i+1))
		w.f.CurveBezierCubicTo(x+r*cos-handle*sin, y+r*sin+handle*cos, x+r*endCos+handle*endSin,
			y+r*endSin-handle*endCos,
			x+r*endCos, y+r*endSin)
		sin, cos = endSin, endCos
	}
}

func (w *pen) text(t draw.Text) {
	words := clean(shown(t.Text))
	if words == "" {
		return
	}
	style := ""
	if t.Bold {
		style = "B"
	}
	if style != w.style || t.Size != w.size {
		w.f.SetFont(family, style, 1)
		w.f.SetFontUnitSize(float64(t.Size))
		w.style, w.size = style, t.Size
	}
	ink := t.Ink
	if ink == draw.NoInk {
		ink = draw.Black
	}
	c := ink.Light()
	w.f.SetTextColor(int(c.R), int(c.G), int(c.B))
	x, y := float64(t.At.X), float64(t.At.Y)
	switch t.Anchor {
	case draw.Middle:
		x -= float64(draw.Measure(words, t.Size, t.Bold)) / 2
	case draw.Right:
		x -= float64(draw.Measure(words, t.Size, t.Bold))
	}
	if t.Turn == 0 {
		w.f.Text(x, y, words)
		return
	}
	w.f.TransformBegin()
	w.f.TransformRotate(-t.Turn, float64(t.At.X), float64(t.At.Y))
	w.f.Text(x, y, words)
	w.f.TransformEnd()
}
