package draw

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"
)

// SVG writes the drawing for a page. It scales by its view box, its text is text, and it is light or dark as the page
// asks: black is the page's own colour where the drawing stands in a page. Parts that show something carry its id as
// data-of. Texts keep their measured length in any font, so that nothing runs into anything.
func SVG(s *Sheet) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="dw" role="img" viewBox="0 0 %[1]s %[2]s" `+
		`width="%[1]smm" height="%[2]smm" font-family="DejaVu Sans, Verdana, sans-serif">`+"\n", num(s.Width), num(s.Height))
	fmt.Fprintf(&b, "<title>%s</title>\n<style>%s</style>\n", html.EscapeString(s.Title), styles())
	w := svgWriter{&b, func(string) string { return "" }}
	for _, item := range s.Items {
		w.item(item)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// Inline writes the drawing to stand in a page whose style sheet has Rules and Styles, so that the page needs none of its
// own in the text. Class gives further classes for what shows the object of an id; empty for none.
func Inline(s *Sheet, class func(id string) string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="dw" role="img" viewBox="0 0 %[1]s %[2]s" aria-label="%[3]s">`+"\n",
		num(s.Width), num(s.Height), html.EscapeString(s.Title))
	w := svgWriter{&b, class}
	for _, item := range s.Items {
		w.item(item)
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// Symbol writes the drawing as a symbol of a drawing in a page, to be shown there by its id as often as is needed.
func Symbol(id string, s *Sheet) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<symbol id="%s" viewBox="0 0 %s %s">`+"\n", html.EscapeString(id), num(s.Width), num(s.Height))
	w := svgWriter{&b, func(string) string { return "" }}
	for _, item := range s.Items {
		w.item(item)
	}
	b.WriteString("</symbol>\n")
	return b.Bytes()
}

// Styles are the values that a page with drawings inline needs under a selector: the inks that differ between light and
// dark pages.
func Styles(under string, dark bool) string {
	shade := Ink.Light
	if dark {
		shade = Ink.Dark
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s .dw{color:%s", under, shade(Black).Hex())
	for _, ink := range pageInks {
		fmt.Fprintf(&b, ";--ink-%s:%s", ink, shade(ink).Hex())
	}
	return b.String() + "}\n"
}

// Rules are what such a page needs once, to make use of the values. Their selectors are simple: those with ancestors do
// not reach into a symbol that is shown by its id.
func Rules() string {
	var b strings.Builder
	for _, ink := range pageInks {
		fmt.Fprintf(&b, ".s-%[1]s{stroke:var(--ink-%[1]s)}.f-%[1]s{fill:var(--ink-%[1]s)}\n", ink)
	}
	return b.String()
}

// pageInks are the inks that differ between light and dark pages, in the order of their styles.
var pageInks = []Ink{Grey, Shade, Paper, Warn}

// styles are those of the page inks. Paper is always light.
func styles() string {
	var light, dark strings.Builder
	fmt.Fprintf(&light, ".dw{color:%s;background:%s;max-width:100%%;height:auto}", Black.Light().Hex(), Paper.Light().Hex())
	fmt.Fprintf(&dark, ".dw{color:%s;background:%s}", Black.Dark().Hex(), Paper.Dark().Hex())
	for _, ink := range pageInks {
		fmt.Fprintf(&light, ".dw .s-%[1]s{stroke:%[2]s}.dw .f-%[1]s{fill:%[2]s}", ink, ink.Light().Hex())
		fmt.Fprintf(&dark, ".dw .s-%[1]s{stroke:%[2]s}.dw .f-%[1]s{fill:%[2]s}", ink, ink.Dark().Hex())
	}
	return light.String() + "@media screen and (prefers-color-scheme:dark){" + dark.String() + "}"
}

type svgWriter struct {
	b     *bytes.Buffer
	class func(id string) string
}

func (w svgWriter) item(item Item) {
	switch i := item.(type) {
	case Line:
		w.shape(i.Of, i.Stroke, i.Fill, `<path d="`+path(i)+`"`)
	case Rect:
		shape := fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s"`, num(i.At.X), num(i.At.Y), num(i.Width), num(i.Height))
		if i.Radius > 0 {
			shape += fmt.Sprintf(` rx="%s"`, num(i.Radius))
		}
		w.shape(i.Of, i.Stroke, i.Fill, shape)
	case Circle:
		w.shape(i.Of, i.Stroke, i.Fill, fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s"`, num(i.Centre.X), num(i.Centre.Y), num(i.Radius)))
	case Arc:
		w.shape(i.Of, i.Stroke, NoInk, `<path d="`+bow(i)+`"`)
	case Text:
		w.text(i)
	}
}

// shape writes an element for the fill and the first pass, and one for each further pass.
func (w svgWriter) shape(of Of, s Stroke, fill Ink, open string) {
	passes := s.Passes()
	if len(passes) == 0 {
		passes = []Pass{{}}
	}
	for _, p := range passes {
		w.b.WriteString(open + object(of) + paint(fill, p.Ink, w.classOf(of)))
		if p.Width > 0 {
			fmt.Fprintf(w.b, ` stroke-width="%s"`, num(p.Width))
		}
		if len(p.Lengths) > 0 {
			fmt.Fprintf(w.b, ` stroke-dasharray="%s"`, nums(p.Lengths))
		}
		w.b.WriteString("/>\n")
		fill = NoInk
	}
}

func (w svgWriter) text(t Text) {
	fmt.Fprintf(w.b, `<text x="%s" y="%s" font-size="%s"`, num(t.At.X), num(t.At.Y), num(t.Size))
	if t.Anchor != Left {
		fmt.Fprintf(w.b, ` text-anchor="%s"`, t.Anchor)
	}
	if t.Bold {
		w.b.WriteString(` font-weight="bold"`)
	}
	if t.Turn != 0 {
		fmt.Fprintf(w.b, ` transform="rotate(%s %s %s)"`, num(MM(t.Turn)), num(t.At.X), num(t.At.Y))
	}
	ink := t.Ink
	if ink == NoInk {
		ink = Black
	}
	w.b.WriteString(object(t.Of) + paint(ink, NoInk, w.classOf(t.Of)))
	if !joins(t.Text) {
		fmt.Fprintf(w.b, ` textLength="%s" lengthAdjust="spacingAndGlyphs"`, num(Measure(t.Text, t.Size, t.Bold)))
	}
	w.b.WriteString(">" + html.EscapeString(t.Text) + "</text>\n")
}

// joins says that a text has letters that change when they stand together, as in Arabic. They come out narrower than
// measured, never wider, and must not be stretched.
func joins(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return r >= 0x0590 && r < 0x1100 })
}

// classOf are the classes that the page asks for.
func (w svgWriter) classOf(of Of) string {
	if of == "" {
		return ""
	}
	return w.class(string(of))
}

func object(of Of) string {
	if of == "" {
		return ""
	}
	return ` data-of="` + html.EscapeString(string(of)) + `"`
}

// paint gives a shape its inks, by classes where the page decides, and more classes. Fill is black in SVG when nothing is said.
func paint(fill, stroke Ink, more string) string {
	var classes []string
	if more != "" {
		classes = append(classes, html.EscapeString(more))
	}
	text := ""
	for _, i := range []struct {
		ink             Ink
		name, otherwise string
	}{{fill, "fill", ` fill="none"`}, {stroke, "stroke", ""}} {
		switch i.ink {
		case NoInk:
			text += i.otherwise
		case Black:
			text += " " + i.name + `="currentColor"`
		case Grey, Shade, Paper, Warn:
			classes = append(classes, i.name[:1]+"-"+string(i.ink))
		default:
			text += fmt.Sprintf(` %s="%s"`, i.name, i.ink.Light().Hex())
		}
	}
	if len(classes) > 0 {
		text += ` class="` + strings.Join(classes, " ") + `"`
	}
	return text
}

// path is the line in the letters of SVG: moves along one axis are shorter to write.
func path(l Line) string {
	var b strings.Builder
	for i, p := range l.Points {
		switch {
		case i == 0:
			b.WriteString("M" + num(p.X) + " " + num(p.Y))
		case p.Y == l.Points[i-1].Y:
			b.WriteString("H" + num(p.X))
		case p.X == l.Points[i-1].X:
			b.WriteString("V" + num(p.Y))
		default:
			b.WriteString("L" + num(p.X) + " " + num(p.Y))
		}
	}
	if l.Closed {
		b.WriteString("Z")
	}
	return b.String()
}

// bow is the arc in the letters of SVG.
func bow(a Arc) string {
	from, to := a.at(a.From), a.at(a.From+a.Sweep)
	large, clockwise := 0, 0
	if math.Abs(a.Sweep) > 180 {
		large = 1
	}
	if a.Sweep > 0 {
		clockwise = 1
	}
	return fmt.Sprintf("M%s %sA%s %s 0 %d %d %s %s", num(from.X), num(from.Y), num(a.Radius), num(a.Radius), large, clockwise,
		num(to.X), num(to.Y))
}

// num writes a length to a hundredth of a millimetre.
func num(v MM) string {
	return strconv.FormatFloat(math.Round(float64(v)*100)/100+0, 'f', -1, 64)
}

func nums(all []MM) string {
	texts := make([]string, len(all))
	for i, v := range all {
		texts[i] = num(v)
	}
	return strings.Join(texts, " ")
}
