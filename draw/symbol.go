package draw

import (
	"strings"

	"doorwright/device"
)

// Symbols after IEC 60617, as far as their shapes are remembered: resistor, winding and fuse as rectangles, contacts as
// blades, diodes as triangle and bar. They stand upright between the rows of their pins, at x.

// drawer is what draws the symbol of a port; nil for ports without one.
func drawer(is device.PortType) func(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	switch is {
	case device.Resistor:
		return resistorSymbol
	case device.Coil, device.LockCoil:
		return windingSymbol
	case device.Fuse:
		return fuseSymbol
	case device.Diode:
		return diodeSymbol
	case device.Clamp:
		return clampSymbol
	case device.Contact:
		return contactSymbol
	case device.Changeover:
		return changeoverSymbol
	case device.Bar:
		return barSymbol
	case device.Through:
		return throughSymbol
	case device.Battery:
		return batterySymbol
	}
	return nil
}

// ends gives the heights of the first and the last pin.
func (s portSymbol) ends(y map[string]MM) (first, last MM) {
	return y[s.pins[0]], y[s.pins[len(s.pins)-1]]
}

func upright(p *pen, of string, x, from, to MM) { p.line(of, thin, Point{x, from}, Point{x, to}) }

// boxed is a rectangle in the middle of an upright line.
func boxed(p *pen, of string, x, from, to, wide, high MM) {
	mid := (from + to) / 2
	high = min(high, to-from-0.6)
	upright(p, of, x, from, mid-high/2)
	upright(p, of, x, mid+high/2, to)
	p.rect(of, thin, Paper, Point{x - wide/2, mid - high/2}, wide, high, 0)
}

func resistorSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	from, to := s.ends(y)
	boxed(p, of, x, from, to, 1.2, 2.4)
}

func windingSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	from, to := s.ends(y)
	boxed(p, of, x, from, to, 3.6, 1.8)
}

func fuseSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	resistorSymbol(p, of, x, y, s)
	from, to := s.ends(y)
	upright(p, of, x, from, to)
}

// diodeSymbol points from anode to cathode.
func diodeSymbol(p *pen, of string, x MM, y map[string]MM, _ portSymbol) {
	from, to := y["anode"], y["cathode"]
	mid, half := (from+to)/2, MM(0.8)
	if to < from {
		half = -half
	}
	p.line(of, thin, Point{x, from}, Point{x, to})
	p.shape(of, thin, Black, true, Point{x - 0.9, mid - half}, Point{x + 0.9, mid - half}, Point{x, mid + half})
	p.line(of, thin, Point{x - 0.9, mid + half}, Point{x + 0.9, mid + half})
}

// clampSymbol is two triangles that face each other over a bent bar.
func clampSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	from, to := s.ends(y)
	mid := (from + to) / 2
	upright(p, of, x, from, to)
	p.shape(of, thin, Black, true, Point{x - 0.8, mid - 1.1}, Point{x + 0.8, mid - 1.1}, Point{x, mid})
	p.shape(of, thin, Black, true, Point{x - 0.8, mid + 1.1}, Point{x + 0.8, mid + 1.1}, Point{x, mid})
	p.line(of, thin, Point{x - 1.2, mid + 0.5}, Point{x - 0.9, mid}, Point{x + 0.9, mid}, Point{x + 1.2, mid - 0.5})
}

// contactSymbol is a blade: standing off for a contact that is open at rest, touching for one that is closed.
func contactSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	from, to := s.ends(y)
	gap := min((to-from)/4, 0.8)
	upright(p, of, x, from, from+gap)
	upright(p, of, x, to-gap, to)
	if s.port.Rest == "closed" {
		p.line(of, thin, Point{x, from + gap}, Point{x + 1.3, from + gap})
		p.line(of, medium, Point{x, to - gap}, Point{x + 1.1, from + gap - 0.25})
		return
	}
	p.line(of, medium, Point{x, to - gap}, Point{x - 1.3, from + gap + 0.1})
}

// changeoverSymbol has its blade on the side that is closed at rest.
func changeoverSymbol(p *pen, of string, x MM, y map[string]MM, _ portSymbol) {
	for _, pin := range []string{"nc", "no"} {
		if at, has := y[pin]; has {
			p.circle(of, thin, Paper, Point{x, at}, 0.35)
		}
	}
	common, has := y["common"]
	closed, rests := y["nc"]
	if !rests {
		closed = (common + y["no"]) / 2
	}
	if has {
		p.circle(of, thin, Black, Point{x - 3, common}, 0.3)
		p.line(of, medium, Point{x - 3, common}, Point{x, closed})
	}
}

// mechanical is the line of a mechanical link (IEC 60617, dashed, from memory).
var mechanical = Stroke{Width: 0.18, Ink: Black, Dash: Dashed}

// blade is the middle of the blade of a contact.
func (s portSymbol) blade(x MM, y map[string]MM) Point {
	if s.port.Is != device.Changeover {
		from, to := s.ends(y)
		return Point{x, (from + to) / 2}
	}
	closed, rests := y["nc"]
	if !rests {
		closed = (y["common"] + y["no"]) / 2
	}
	return Point{x - 1.5, (y["common"] + closed) / 2}
}

// middle is half-way between the first and the last row of a symbol.
func (s portSymbol) middle() MM {
	return (s.rows[s.pins[0]].y() + s.rows[s.pins[len(s.pins)-1]].y()) / 2
}

// buttonHead is the head of a push-button with its link to the blade: a bracket that opens towards it.
func buttonHead(p *pen, of string, blade Point, towards, x MM) {
	p.line(of, mechanical, blade, Point{x, blade.Y})
	p.line(of, thin, Point{x - towards*0.6, blade.Y - 0.9}, Point{x, blade.Y - 0.9}, Point{x, blade.Y + 0.9}, Point{x - towards*0.6, blade.Y + 0.9})
}

// barSymbol joins all its pins.
func barSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	from, to := s.ends(y)
	p.line(of, medium, Point{x, from}, Point{x, to})
	for _, pin := range s.pins {
		p.circle(of, thin, Black, Point{x, y[pin]}, 0.4)
	}
}

// throughSymbol is a bow from the frame's end of each way to that of the leaf.
func throughSymbol(p *pen, of string, x MM, y map[string]MM, s portSymbol) {
	for _, pin := range s.pins {
		way, isFrame := strings.CutSuffix(pin, "a")
		to, has := y[way+"b"]
		if !isFrame || !has {
			continue
		}
		from := y[pin]
		p.arc(of, thin, Point{x, (from + to) / 2}, (to-from)/2, -90, 180)
	}
}

// batterySymbol has its long stroke at plus.
func batterySymbol(p *pen, of string, x MM, y map[string]MM, _ portSymbol) {
	from, to := y["plus"], y["minus"]
	mid, half := (from+to)/2, MM(0.35)
	if to < from {
		half = -half
	}
	upright(p, of, x, from, mid-half)
	upright(p, of, x, mid+half, to)
	p.line(of, thin, Point{x - 1.8, mid - half}, Point{x + 1.8, mid - half})
	p.line(of, medium, Point{x - 0.9, mid + half}, Point{x + 0.9, mid + half})
}
