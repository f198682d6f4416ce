package draw

// Stroke is how a line is drawn. The zero Stroke is none.
type Stroke struct {
	Width  MM
	Ink    Ink
	Dash   Dash
	Edged  bool // with a thin black edge on both sides, so that every colour stands out on every page
	Stripe Ink  // second colour in dashes over the first; NoInk for none
}

// Dash is a pattern of a line.
type Dash string

// The patterns.
const (
	Solid    Dash = ""
	Dashed   Dash = "dashed"
	Dotted   Dash = "dotted"
	DashDots Dash = "dash-dots"
)

// Lengths are those of the strokes and gaps of the pattern by turns; nil for a solid line.
func (d Dash) Lengths() []MM {
	switch d {
	case Dashed:
		return []MM{2, 1.2}
	case Dotted:
		return []MM{0.4, 0.9}
	case DashDots:
		return []MM{4, 1, 0.6, 1}
	}
	return nil
}

// Pass is one drawing of a line; a coloured core takes up to three, one over the other.
type Pass struct {
	Width   MM
	Ink     Ink
	Lengths []MM // strokes and gaps by turns; nil for a solid line
}

// edge is the width of the black edge on each side of a coloured core.
const edge MM = 0.18

// stripes are the stroke and the gap of the second colour of a core: between 30 % and 70 % each, as IEC 60445:2021 wants
// it of green and yellow.
var stripes = []MM{1.3, 1.3}

// Passes lists how the line is drawn, the first one undermost; nil for no line. Ends are butt, corners mitred.
func (s Stroke) Passes() []Pass {
	if s.Width <= 0 || s.Ink == NoInk {
		return nil
	}
	var all []Pass
	if s.Edged {
		all = append(all, Pass{s.Width, Black, s.Dash.Lengths()})
		s.Width -= 2 * edge
	}
	all = append(all, Pass{s.Width, s.Ink, s.Dash.Lengths()})
	if s.Stripe != NoInk {
		all = append(all, Pass{s.Width, s.Stripe, stripes})
	}
	return all
}
