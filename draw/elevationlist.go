package draw

import (
	"fmt"
	"slices"
	"strings"
)

// lists write what is on each side below it, and draw the plan below the first; they return how far down they reach.
func (e *elevation) lists(pen *pen, wide, top, perMetre MM) MM {
	bottom := top
	for i, inside := range []bool{false, true} {
		l := &list{pen: pen, wide: half(wide), at: Point{MM(i) * (half(wide) + betweenViews), top}}
		l.side(e, inside)
		under := l.at.Y
		if !inside {
			under = e.plotPlan(pen, half(wide), under+4, perMetre*0.6)
		}
		bottom = max(bottom, under)
	}
	return bottom
}

// together writes both lists one after the other in two columns of about one height, and returns how far down they
// reach.
func (e *elevation) together(p *pen, wide, top MM) MM {
	tried := &list{pen: &pen{}, wide: half(wide), named: true}
	tried.side(e, false)
	tried.side(e, true)
	l := &list{pen: p, wide: half(wide), named: true, at: Point{0, top}, top: top, cut: top + tried.at.Y/2 - listSize}
	l.side(e, false)
	l.side(e, true)
	return max(l.at.Y, l.low)
}

// list is lines in a column, and in a second one beside it for those from a height on.
type list struct {
	pen   *pen
	wide  MM
	at    Point
	top   MM   // where the columns begin
	cut   MM   // from where on lines stand in the second column; 0 for none
	low   MM   // where the first column ended
	named bool // each side is named, since it does not stand below its view
}

// turn begins the second column where it is time, or will be after so much more.
func (l *list) turn(ahead MM) {
	if l.cut > 0 && l.at.Y+ahead >= l.cut {
		l.low, l.cut = l.at.Y, 0
		l.at = Point{l.at.X + l.wide + betweenViews, l.top}
	}
}

func (l *list) line(ink Ink, indent MM, text string) {
	for _, words := range wrap(text, l.wide-indent, listSize, false) {
		l.pen.text(Text{At: l.at.plus(indent, 0), Size: listSize, Ink: ink, Text: words})
		l.at.Y += listSize * lineHigh
	}
}

// side writes what is drawn on one side of a door, entry by entry.
func (l *list) side(e *elevation, inside bool) {
	ends := []string{"out"}
	if inside {
		ends = []string{"in", "head"}
	}
	runs := e.runsAt(ends...)
	shows := len(runs) > 0 || slices.ContainsFunc(e.marks, func(m *mark) bool { return m.inside == inside })
	if l.named && shows {
		l.turn(listSize * lineHigh) // no name stands alone at the foot of a column
		l.pen.text(Text{At: l.at, Size: listSize, Ink: Grey, Bold: true, Text: map[bool]string{false: "Unsecured side", true: "Secured side"}[inside]})
		l.at.Y += listSize * lineHigh
	}
	for _, m := range e.marks {
		if m.inside != inside {
			continue
		}
		l.turn(0)
		l.pen.text(Text{Of: Of(m.fitted.ID), At: l.at, Size: listSize, Bold: true, Text: fmt.Sprint(m.number)})
		l.line(Black, 5, e.words(m))
		for _, f := range e.faults(m) {
			l.pen.warning(l.at.plus(6.5, -0.7), 1.1)
			l.line(Warn, 8.5, f)
		}
		for _, u := range e.undecided(m) {
			l.line(Black, 8.5, u)
		}
	}
	l.turn(0)
	if loop := e.door.Loop; inside && loop != nil {
		l.line(Black, 0, InLine(loop.Title)+": between frame and leaf at the hinges")
	}
	if len(runs) > 0 {
		l.line(Grey, 0, "Cables down here: "+strings.Join(runs, ", "))
	}
}
