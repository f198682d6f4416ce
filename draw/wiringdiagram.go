package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// Wiring is the wiring diagram of a door: every device with its terminals in the order of the strip, every conductor
// between its two terminals, in its colour and with its letters.
func Wiring(p *wiring.Plan, d *job.Door) *Sheet {
	s, _ := wiringSheet(p, doorSubject(d))
	return s
}

// SupplyWiring is the wiring diagram of a supply with its battery and board, as far as the first terminal of what it
// feeds.
func SupplyWiring(p *wiring.Plan, s *job.Supply) *Sheet {
	sheet, _ := wiringSheet(p, supplySubject(s))
	return sheet
}

// wiringSheet also gives the diagram, for the judgement of its layout.
func wiringSheet(p *wiring.Plan, of *subject) (*Sheet, *diagram) {
	g := diagramOf(p, of)
	return g.plot(max(g.lay(), narrowest), true), g
}

// lay gives everything its place, and returns the width.
func (g *diagram) lay() MM {
	g.sized()
	return g.placed()
}

// sized says how wide and how high what stands in a box is.
func (g *diagram) sized() {
	g.sides()
	g.widths()
	g.heads()
}

// placed puts the boxes and the wires in their places, and gives the width of it all.
func (g *diagram) placed() MM {
	g.order()
	g.tried()
	g.route()
	wide := g.spread()
	g.paths()
	return wide
}

// Widths inside a box.
const (
	inset      MM = 1.5 // from the edge to a label
	symbolRoom MM = 7   // for one symbol beside the labels
	widest     MM = 56
	narrowest  MM = 150 // of the whole drawing, so that its words have room
)

// widths makes each column as wide as its widest row.
func (g *diagram) widths() {
	for _, c := range g.columns {
		c.wide = 30.2
		for _, gr := range c.groups {
			for _, b := range gr.boxes {
				c.wide = max(c.wide, min(widest, b.wide()))
			}
		}
	}
}

// wide is how wide a box must be for its rows.
func (b *box) wide() MM {
	texts := MM(0)
	for _, r := range b.rows {
		texts = max(texts, r.textWide())
	}
	return texts + 2*inset + MM(b.lanes())*symbolRoom
}

// textWide is how wide the label and the role of a row are.
func (r *row) textWide() MM {
	wide := Measure(r.terminal.Label, terminalSize, true)
	if r.role != "" {
		wide += 1.2 + Measure(r.role, roleSize, false)
	}
	return wide
}

// heads wraps the names of devices and places, and makes room for them.
func (g *diagram) heads() {
	for _, c := range g.columns {
		for _, gr := range c.groups {
			gr.title = wrap(gr.place.Title, c.wide, placeSize, true)
			gr.head = stepsFor(placeSize * lineHigh * MM(len(gr.title)))
			for _, b := range gr.boxes {
				b.id, b.title, b.together = b.names(c.wide, g.subject)
				b.head = stepsFor(b.headHigh())
			}
		}
	}
}

// stepsFor is how many steps of the grid text of that height takes.
func stepsFor(high MM) int { return int((high + 0.1 + pitch - 0.01) / pitch) }

// lineHigh is the distance of base lines, as a share of the size.
const lineHigh MM = 1.25

// names gives the lines at the head of a box: its id without that of the subject, and what it is, on one line if they fit.
func (b *box) names(wide MM, of *subject) (id, title []string, together bool) {
	room := wide - 2*inset
	short := strings.TrimPrefix(b.device.ID, of.id+".")
	what := b.device.Title
	if what == "" {
		what = b.device.Model.Title
	}
	if of.channel > 0 && b.device.Model.Channels() > 1 {
		what += fmt.Sprintf(", its door %d", of.channel)
	}
	if Measure(short, titleSize, true)+idGap+Measure(what, roleSize, false) <= room {
		return []string{short}, []string{what}, true
	}
	return wrap(short, room, titleSize, true), wrap(what, room, roleSize, false), false
}

// idGap is what stands between id and title on one line.
const idGap MM = 1.4

// headHigh is how high the names are.
func (b *box) headHigh() MM {
	high := titleSize * lineHigh * MM(len(b.id))
	if !b.together {
		high += roleSize * lineHigh * MM(len(b.title))
	}
	return high
}

// symbols lists the ports of a box that have a symbol, each with the rows of its pins.
func (b *box) symbols() []portSymbol {
	var all []portSymbol
	for _, e := range b.device.Model.Ports {
		s := portSymbol{name: e.Key, port: &e.Value, rows: map[string]*row{}}
		for _, r := range b.rows {
			if port, pin := device.SplitPin(r.terminal.Pin); port == e.Key {
				s.rows[pin] = r
				s.pins = append(s.pins, pin)
			}
		}
		elsewhere := s.port.Is == device.Battery && s.port.From != "" // terminals for a battery, not the battery
		if len(s.pins) > 1 && drawer(s.port.Is) != nil && !elsewhere {
			all = append(all, s)
		}
	}
	assignLanes(all)
	return all
}

// lanes is how many symbols lie beside each other in the box.
func (b *box) lanes() int {
	n := 0
	for _, s := range b.symbols() {
		n = max(n, s.lane+1)
	}
	return n
}

// portSymbol is the symbol of a port between the rows of its pins.
type portSymbol struct {
	name string
	port *device.Port
	pins []string // in the order of the strip
	rows map[string]*row
	lane int
}

// assignLanes puts symbols beside each other whose rows mix.
func assignLanes(all []portSymbol) {
	index := func(s portSymbol) (first, last int) {
		rows := s.rows[s.pins[0]].box.rows
		return slices.Index(rows, s.rows[s.pins[0]]), slices.Index(rows, s.rows[s.pins[len(s.pins)-1]])
	}
	for i := range all {
		first, last := index(all[i])
		for j := range all[:i] {
			if f, l := index(all[j]); f <= last && first <= l && all[j].lane == all[i].lane {
				all[i].lane++
			}
		}
	}
}
