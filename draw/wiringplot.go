package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// Margins of every drawing.
const (
	margin   MM = 8
	headHigh MM = 14
)

// plot puts the diagram on its sheet, with a title and a list of runs where it is to stand alone.
func (g *diagram) plot(wide MM, alone bool) *Sheet {
	above := MM(0)
	if alone {
		above = headHigh
	}
	lanes := MM(0)
	for _, w := range g.wires {
		lanes = max(lanes, -laneY(w.lane))
	}
	p := &pen{by: Point{margin, margin + above + lanes}}
	bottom := MM(0)
	for _, c := range g.columns {
		for _, gr := range c.groups {
			g.plotGroup(p, gr)
			bottom = max(bottom, c.y(gr.steps+gr.high))
		}
	}
	for _, w := range g.wires {
		g.plotWire(p, w)
	}
	for _, s := range g.cables {
		s.plot(p)
	}
	for _, t := range g.twists {
		t.plot(p)
	}
	g.plotPins(p)
	foot, title := &pen{by: Point{margin, margin + above + lanes + bottom + 4}}, &pen{by: Point{margin, margin}}
	under := g.plotFoot(foot, wide, alone)
	if alone {
		titleLines(title, g.heading, g.plan.Job, wide)
	}
	return &Sheet{
		Title: g.heading, Width: wide + 2*margin, Height: foot.by.Y + under + margin,
		Items: append(append(title.items, p.items...), foot.items...),
	}
}

// titleLines writes what the drawing is and of which job. A long title is set smaller before it is cut; where
// there is too little room for the name of the job, that it is calculated still stands there.
func titleLines(p *pen, title string, j *job.Job, wide MM) {
	size := MM(4)
	for _, less := range []MM{3.3, 2.7} {
		if Measure(title, size, true) > wide {
			size = less
		}
	}
	p.text(Text{At: Point{0, 4}, Size: size, Bold: true, Text: fit(title, wide, size, true)})
	of := fmt.Sprintf("%s %s", j.ID, j.Title)
	if j.Revision != "" {
		of += ", revision " + j.Revision
	}
	const small MM = 2.4
	const caution = ". Made from the plan; calculated, not measured."
	p.text(Text{At: Point{0, 8.6}, Size: small, Ink: Grey, Text: fit(of, wide-Measure(caution, small, false), small, false) + caution})
}

// plotGroup draws a place with its devices.
func (g *diagram) plotGroup(p *pen, gr *group) {
	c := gr.column
	const edge MM = 0.9 // labels of wires begin beyond it
	top, bottom := c.y(gr.steps), c.y(gr.steps+gr.high)
	p.rect(gr.place.ID, Stroke{}, Shade, Point{c.x - edge, top - edge}, c.wide+2*edge, bottom-top+edge-pitch/2, 1.5)
	p.lines(Text{Of: Of(gr.place.ID), At: Point{c.x, top + placeSize*ascent}, Size: placeSize, Bold: true, Ink: Grey}, gr.title)
	for _, b := range gr.boxes {
		g.plotBox(p, b)
	}
}

// faces is the side on which the labels of a box stand.
func (b *box) faces() int {
	for _, r := range b.rows {
		if len(r.pins[left]) > 0 {
			return left
		}
	}
	for _, r := range b.rows {
		if len(r.pins[right]) > 0 {
			return right
		}
	}
	return left
}

// y is the middle of a row.
func (r *row) y() MM {
	b := r.box
	return b.group.column.y(b.group.steps+b.steps+r.steps) + MM(r.high())*pitch/2
}

func (g *diagram) plotBox(p *pen, b *box) {
	c := b.group.column
	top := c.y(b.group.steps + b.steps)
	high := b.bounds().Height()
	p.rect(b.device.ID, medium, Paper, Point{c.x, top}, c.wide, high, 0.8)
	b.plotNames(p, Point{c.x + inset, top + 0.5 + titleSize*ascent})
	if b.torn {
		tear(p, b.device.ID, c.x, top+high, c.wide)
	}
	face := b.faces()
	for _, r := range b.rows {
		r.plot(p, face)
	}
	symbols := b.symbols()
	for _, s := range symbols {
		b.plotSymbol(p, s, face)
	}
	b.plotLink(p, symbols, face)
}

// plotNames writes the head of a box from the base line of its id on.
func (b *box) plotNames(p *pen, at Point) {
	of := Of(b.device.ID)
	next := p.lines(Text{Of: of, At: at, Size: titleSize, Bold: true}, b.id)
	if b.together {
		p.text(Text{Of: of, At: at.plus(Measure(b.id[0], titleSize, true)+idGap, 0), Size: roleSize, Text: b.title[0]})
		return
	}
	p.lines(Text{Of: of, At: Point{at.X, next - (titleSize-roleSize)*lineHigh}, Size: roleSize}, b.title)
}

// tear is the edge of a box that has more terminals than are shown.
func tear(p *pen, of string, x, y, wide MM) {
	points := []Point{}
	const teeth = 12
	for i := range teeth + 1 {
		points = append(points, Point{x + wide*MM(i)/teeth, y + 0.5*MM(1-2*(i%2))})
	}
	p.line(of, Stroke{Width: 0.9, Ink: Paper}, points...)
	p.line(of, thin, points...)
}

// plot writes the label and the role of a row, and a rule above it.
func (r *row) plot(p *pen, face int) {
	c := r.box.group.column
	of := r.box.device.ID + "." + r.terminal.Pin
	top := r.y() - MM(r.high())*pitch/2
	p.line("", Stroke{Width: 0.1, Ink: Grey}, Point{c.x, top}, Point{c.x + c.wide, top})
	base := r.y() + terminalSize*0.36
	label := Measure(r.terminal.Label, terminalSize, true)
	x, anchor, beside := c.x+inset, Left, c.x+inset+label+1.2
	if face == right {
		x, anchor, beside = c.x+c.wide-inset, Right, c.x+c.wide-inset-label-1.2
	}
	p.text(Text{Of: Of(of), At: Point{x, base}, Size: terminalSize, Bold: true, Anchor: anchor, Text: r.terminal.Label})
	p.text(Text{Of: Of(of), At: Point{beside, base}, Size: roleSize, Anchor: anchor, Ink: Grey, Text: r.role})
}

// plotSymbol draws the symbol of a port and the taps from its pins to labels and edges.
func (b *box) plotSymbol(p *pen, s portSymbol, face int) {
	c := b.group.column
	x := b.symbolX(s, face)
	y := map[string]MM{}
	for _, pin := range s.pins {
		y[pin] = s.rows[pin].y()
	}
	for _, pin := range s.pins {
		r := s.rows[pin]
		foot := x
		if s.port.Is == device.Changeover && pin == "common" {
			foot = x - 3
		}
		of := b.device.ID + "." + r.terminal.Pin
		near, far := c.x+inset+r.textWide()+0.8, c.x+c.wide
		if face == right {
			near, far = c.x+c.wide-inset-r.textWide()-0.8, c.x
		}
		p.line(of, thin, Point{near, y[pin]}, Point{foot, y[pin]})
		if len(r.pins[1-face]) > 0 {
			p.line(of, thin, Point{foot, y[pin]}, Point{far, y[pin]})
		}
	}
	drawer(s.port.Is)(p, b.device.ID, x, y, s)
	if b.device.Model.Kind == "exit-button" {
		towards := MM(1)
		if face == right {
			towards = -1
		}
		at := s.blade(x, y)
		buttonHead(p, b.device.ID, at, towards, x+towards*2.6)
	}
}

// symbolX is where a symbol stands: at the side of the box away from its labels.
func (b *box) symbolX(s portSymbol, face int) MM {
	c := b.group.column
	if face == right {
		return c.x + inset + symbolRoom*(MM(s.lane)+0.58)
	}
	return c.x + c.wide - inset - symbolRoom*(MM(s.lane)+0.42)
}

// plotLink joins the coil of a relay with the blades of its contacts by a dashed line, where they stand in one lane.
func (b *box) plotLink(p *pen, symbols []portSymbol, face int) {
	coil := slices.IndexFunc(symbols, func(s portSymbol) bool { return s.port.Is == device.Coil })
	if coil < 0 {
		return
	}
	from, to := symbols[coil].middle(), MM(0)
	x := b.symbolX(symbols[coil], face) - 1.5
	for _, s := range symbols {
		if s.port.Is != device.Changeover || s.lane != symbols[coil].lane {
			continue
		}
		y := map[string]MM{}
		for _, pin := range s.pins {
			y[pin] = s.rows[pin].y()
		}
		to = max(to, s.blade(x+1.5, y).Y)
	}
	if to > from {
		p.line(b.device.ID, mechanical, Point{x, from + 0.9}, Point{x, to})
	}
}

// plotWire draws one conductor with its letters at both ends.
func (g *diagram) plotWire(p *pen, w *wire) {
	c := w.conductor
	p.line(c.ID, strokeOf(c), w.path...)
	for _, q := range w.pins() {
		anchor := Left
		if q.side == left {
			anchor = Right
		}
		p.text(Text{Of: Of(c.ID), At: Point{q.out(labelAt), q.y() - labelBase}, Size: labelSize, Anchor: anchor, Text: labelOf(q, g.id)})
	}
	if w.b == nil {
		middle := w.a.out(w.stub + 0.5)
		p.rect(c.ID, thin, NoInk, Point{middle - 0.5, w.a.y() - sheathBeyond}, 1, 2*sheathBeyond, 0.5)
	}
}

// strokeOf is how a conductor is drawn: cores in their colour between black edges, the rest in black.
func strokeOf(c *wiring.Conductor) Stroke {
	switch c.Kind {
	case wiring.Core:
		base, stripe := CoreInks(c.Core.Colour)
		if base == Black {
			base = "BK"
		}
		return Stroke{Width: 0.7, Ink: base, Stripe: stripe, Edged: true}
	case wiring.Link:
		return Stroke{Width: 0.6, Ink: Black}
	case wiring.Screen:
		return Stroke{Width: 0.3, Ink: Black, Dash: Dashed}
	case wiring.Leg:
		return Stroke{Width: 0.22, Ink: Black}
	}
	return Stroke{Width: 0.35, Ink: Black}
}

// plotPins draws a circle for each landing, over the wires. A terminal without a landing has an empty one in grey.
func (g *diagram) plotPins(p *pen) {
	for _, c := range g.columns {
		for _, gr := range c.groups {
			for _, b := range gr.boxes {
				for _, r := range b.rows {
					of := b.device.ID + "." + r.terminal.Pin
					if len(r.pins[left])+len(r.pins[right]) == 0 {
						x := c.x
						if b.faces() == right {
							x = c.x + c.wide
						}
						p.circle(of, hair, Paper, Point{x, r.y()}, 0.55)
					}
					for _, pins := range r.pins {
						for _, q := range pins {
							p.circle(of, thin, Paper, Point{q.x(), q.y()}, 0.65)
						}
					}
				}
			}
		}
	}
}

// plotFoot says what the lines mean, below the list of runs where the drawing stands alone, and returns how high that is.
func (g *diagram) plotFoot(p *pen, wide MM, alone bool) MM {
	const size MM = 2.15
	y := MM(0)
	lines := []string{strings.TrimSpace(g.part + " " + g.legend() + " " + g.twistWords())}
	if alone {
		lines = append(g.runLines(), lines...)
	}
	for _, line := range lines {
		y = p.lines(Text{At: Point{0, y}, Size: size}, wrap(line, wide, size, false))
	}
	return y
}

// runLines are the runs of the drawing in words.
func (g *diagram) runLines() []string {
	var lines []string
	used := map[*job.Run]int{}
	for _, w := range g.wires {
		if w.conductor.Run != nil && w.conductor.Kind == wiring.Core {
			used[w.conductor.Run]++
		}
	}
	for _, r := range g.plan.Job.Runs {
		if n := used[r]; n > 0 {
			length := r.Designed
			if r.Pulled > 0 {
				length = r.Pulled
			}
			lines = append(lines, fmt.Sprintf("%s: %s, %s, %d of its cores here; from %s to %s", runTag(r, g.id), r.TypeID, length,
				n, r.From.Title, r.To.Title))
		}
	}
	return lines
}

// legend says what the lines mean.
func (g *diagram) legend() string {
	return "At each core: run/core and colour (IEC 60757). Thick black: link. Thin black: lead. Hairline: leg of a " +
		"component. Oval across cores: one cable; dashed: a screened one. Dashed line: the screen of the cable that it names, to earth; a bar under the oval at its other end, where it is insulated. A torn edge: only the terminals needed here are shown. " +
		"Contacts as at rest, without power. Ids of devices and runs stand without " + g.id + " where they begin with it."
}
