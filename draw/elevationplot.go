package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/job"
	"doorwright/rules"
	"doorwright/unit"
	"doorwright/wiring"
)

// view is one side of the door on the sheet.
type view struct {
	*elevation
	pen    *pen
	inside bool
	scale  MM // millimetres on the sheet for one metre
	left   MM // left edge of the opening
	floor  MM
}

// scales are those of building drawings, from large to small.
var scales = []int{20, 25, 30, 40, 50, 75, 100}

// Measures of an elevation.
const (
	elevationWide MM         = 277 // room on A4 across, within its margins
	listSize      MM         = 2.1
	plate         unit.Metre = 0.087 // a square unit on the wall
)

// Elevation draws both sides of a door with its devices at their heights, its plan, and a list. What the job does not
// state is taken as usual and said so; a warning stands where a device is outside a published or usual band.
func Elevation(p *wiring.Plan, d *job.Door) *Sheet {
	e := elevationOf(p, d)
	const between MM = 8
	half := (elevationWide - between) / 2
	scale := 0
	for _, scale = range scales {
		if MM(e.width+2*e.wall)*1000/MM(scale) <= half && MM(e.ceiling)*1000/MM(scale) <= 125 {
			break
		}
	}
	perMetre := 1000 / MM(scale)
	title := fmt.Sprintf("Elevation of door %s: %s", d.ID, d.Title)
	pen := &pen{by: Point{margin, margin}}
	titleLines(pen, title, p.Job, elevationWide-42) // the scale stands beside them
	pen.text(Text{At: Point{elevationWide, 8.6}, Size: 2.4, Anchor: Right, Ink: Grey, Text: fmt.Sprintf("scale 1:%d at full size", scale)})
	floor := MM(headHigh) + 8 + MM(e.ceiling)*perMetre
	bottom := floor
	for i, inside := range []bool{false, true} {
		from := MM(i) * (half + between)
		v := &view{e, pen, inside, perMetre, from + (half-MM(e.width)*perMetre)/2, floor}
		v.plot(half, from)
		under := v.list(from, half, floor+14+4*v.rows())
		if !inside {
			under = e.plotPlan(pen, half, under+5, perMetre*0.6)
		}
		bottom = max(bottom, under)
	}
	bottom = e.notes(pen, bottom+4)
	return &Sheet{Title: title, Width: elevationWide + 2*margin, Height: bottom + 2*margin, Items: pen.items}
}

// x is where a distance from the left edge of the opening lies.
func (v *view) x(from unit.Metre) MM { return v.left + MM(from)*v.scale }

// y is where a height above the floor lies.
func (v *view) y(high unit.Metre) MM { return v.floor - MM(high)*v.scale }

// hingesLeft says that the hinges are seen on the left from this side.
func (v *view) hingesLeft() bool { return v.hingeLeft != v.inside }

// plot draws one side.
func (v *view) plot(wide, from MM) {
	side := "Unsecured side"
	if v.inside {
		side = "Secured side"
		if v.door.Secured != "" {
			side += ": " + v.door.Secured
		}
	}
	v.pen.text(Text{At: Point{from, MM(headHigh) + 2}, Size: 2.8, Bold: true, Text: fit(side, wide, 2.8, true)})
	ceiling := v.y(v.ceiling)
	v.pen.line("", medium, Point{from, v.floor}, Point{from + wide, v.floor})
	v.pen.line("", Stroke{Width: 0.25, Ink: Grey, Dash: Dashed}, Point{from, ceiling}, Point{from + wide, ceiling})
	v.pen.text(Text{At: Point{from, ceiling - 0.8}, Size: 1.8, Ink: Grey, Text: "ceiling"})
	v.reach(from, wide)
	v.frame()
	for _, m := range v.marks {
		if m.inside == v.inside {
			v.drop(m, ceiling)
		}
	}
	for _, m := range v.marks {
		if m.inside == v.inside {
			v.device(m)
		}
	}
	v.dimensions()
}

// reach shows the band that everybody reaches, behind all else.
func (v *view) reach(from, wide MM) {
	limits := rules.Limits(rules.ItemButton, v.door.Families...)
	if len(limits) == 0 {
		return
	}
	b := limits[0].Band
	v.pen.rect("", Stroke{}, Shade, Point{from, v.y(b.High)}, wide, v.y(b.Low)-v.y(b.High), 0)
	label := func(high unit.Metre, word string, below MM) {
		x, anchor := from+1, Left
		if !v.hingesLeft() {
			x, anchor = from+wide-1, Right
		}
		v.pen.text(Text{At: Point{x, v.y(high) + below}, Size: 1.8, Anchor: anchor, Ink: Grey, Text: word + " " + mm(high)})
	}
	label(b.High, "reach to", 2)
	label(b.Low, "reach from", -0.6)
}

// frame draws the frame, the leaves, hinges and handles.
func (v *view) frame() {
	f := MM(frameStrip) * v.scale
	v.pen.rect(v.door.ID, medium, Paper, Point{v.x(0) - f, v.y(v.high) - f}, MM(v.width)*v.scale+2*f, MM(v.high)*v.scale+f, 0)
	wide := v.width / unit.Metre(v.door.Leaves)
	for i := range v.door.Leaves {
		at := wide * unit.Metre(i)
		v.pen.rect(v.door.ID, thin, Paper, Point{v.x(at), v.y(v.high)}, MM(wide)*v.scale, MM(v.high-leafToFloor)*v.scale, 0)
		hinge, free := at, at+wide
		if v.door.Leaves == 2 && i == 1 || v.door.Leaves == 1 && !v.hingesLeft() {
			hinge, free = free, hinge
		}
		v.leaf(hinge, free)
	}
}

// leaf draws how a leaf swings, with the point of the angle at the hinges, its hinges and its handle. Full lines swing
// towards the viewer, dashed ones away.
func (v *view) leaf(hinge, free unit.Metre) {
	s := Stroke{Width: 0.18, Ink: Grey}
	if (v.door.Opening.Swing == "in") != v.inside {
		s.Dash = Dashed
	}
	v.pen.line("", s, Point{v.x(free), v.y(v.high)}, Point{v.x(hinge), v.y(v.high / 2)}, Point{v.x(free), v.y(leafToFloor)})
	for _, share := range []unit.Metre{0.12, 0.5, 0.88} {
		v.pen.rect("", thin, Black, Point{v.x(hinge) - 0.4, v.y(v.high*share) - 1.5}, 0.8, 3, 0)
	}
	if v.hasLever() {
		towards := MM(1)
		if hinge < free {
			towards = -1
		}
		at := Point{v.x(free) + towards*2.4, v.y(leverHigh)}
		v.pen.circle("", thin, Paper, at, 0.7)
		v.pen.line("", Stroke{Width: 0.6, Ink: Black}, at, at.plus(towards*4, 0))
	}
}

// away is the direction from the opening to the devices on the wall: away from the hinges, 1 to the right.
func (v *view) away() MM {
	if v.hingesLeft() {
		return 1
	}
	return -1
}

// rows is how many rows of dimensions stand below the floor.
func (v *view) rows() MM {
	n := 0
	var seen []unit.Metre
	for _, m := range v.marks {
		if m.inside == v.inside && m.onWall && !slices.Contains(seen, m.beside) {
			seen = append(seen, m.beside)
			n++
		}
	}
	return MM(n)
}

// place is where a device is drawn.
func (v *view) place(m *mark) Point {
	latch := v.width // the edge of the opening at the latch, or at the far side of two leaves
	away := unit.Metre(1)
	if !v.hingesLeft() {
		latch, away = 0, -1
	}
	switch {
	case m.onWall:
		return Point{v.x(latch + away*m.beside), v.y(m.height)}
	case m.item == rules.ItemSensor:
		return Point{v.x(v.width / 2), v.y(m.height)}
	}
	edge, back := latch, -away
	if v.door.Leaves == 2 {
		edge, back = v.width/2, v.firstLeafBack()
		if m.fitted.Leaf == 2 {
			back = -back
		}
	}
	if m.item == rules.ItemLock {
		return Point{v.x(edge), v.y(m.height)}
	}
	return Point{v.x(edge + back*m.beside), v.y(m.height)}
}

// firstLeafBack is the direction from the meeting edge to the hinges of the first of two leaves, which is the one at the
// side that the handing names.
func (v *view) firstLeafBack() unit.Metre {
	if v.hingesLeft() {
		return -1
	}
	return 1
}

// drop draws the cable from a device to the ceiling.
func (v *view) drop(m *mark, ceiling MM) {
	at := v.place(m)
	dots := Stroke{Width: 0.3, Ink: Black, Dash: Dotted}
	if loop := v.door.Loop; loop != nil && m.item == rules.ItemLock && m.fitted.Leaf == loop.Leaf {
		hinge := v.x(0)
		if v.away() < 0 {
			hinge = v.x(v.width)
		}
		over := v.y(v.high * 0.8)
		v.pen.line(m.fitted.ID, dots, at, Point{hinge + v.away()*2, at.Y}, Point{hinge + v.away()*2, over})
		v.pen.arc(loop.ID, medium, Point{hinge, over}, 2, 180, 180)
		v.pen.line(m.fitted.ID, dots, Point{hinge - v.away()*2, over}, Point{hinge - v.away()*2, ceiling})
		return
	}
	v.pen.line(m.fitted.ID, dots, at, Point{at.X, ceiling})
}

// device draws one device with its number.
func (v *view) device(m *mark) {
	at, id := v.place(m), m.fitted.ID
	box := func(w, h unit.Metre, r MM) {
		wide, high := MM(w)*v.scale, MM(h)*v.scale
		v.pen.rect(id, medium, Paper, at.plus(-wide/2, -high/2), wide, high, r)
	}
	number := at.plus(v.away()*(MM(plate)*v.scale/2+2.8), 0)
	switch m.item {
	case rules.ItemReader:
		box(0.08, 0.12, 0.6)
		for _, r := range []MM{0.6, 1.1} {
			v.pen.arc(id, thin, at.plus(-0.5, 0), r, -50, 100)
		}
	case rules.ItemButton:
		box(plate, plate, 0.3)
		v.pen.circle(id, thin, Paper, at, 1)
	case rules.ItemRelease:
		box(plate, plate, 0.3)
		v.pen.line(id, thin, at.plus(-1.2, -1.2), at.plus(1.2, 1.2))
		v.pen.line(id, thin, at.plus(-1.2, 1.2), at.plus(1.2, -1.2))
	case rules.ItemSounder:
		v.pen.circle(id, medium, Paper, at, MM(plate)*v.scale/2)
		v.pen.circle(id, thin, Paper, at, 0.6)
	case rules.ItemSensor:
		box(0.18, 0.05, 0.6)
		number = at.plus(MM(0.09)*v.scale+2.8, 0)
	case rules.ItemMagnet:
		at.Y += MM(0.03) * v.scale
		box(0.25, 0.047, 0)
		number = at.plus(0, 4)
	case rules.ItemContact:
		at.Y -= MM(frameStrip/2) * v.scale
		box(0.05, 0.03, 0)
		number = at.plus(0, -4)
	case rules.ItemLock:
		box(0.04, 0.2, 0.3)
		number = at.plus(0, -MM(0.1)*v.scale-2.8)
		if m.fitted.Leaf == 2 {
			number = at.plus(0, MM(0.1)*v.scale+2.8)
		}
	}
	v.number(m, number)
}

// number draws the number of a device in a circle, and a warning beside it where it is outside a band.
func (v *view) number(m *mark, at Point) {
	v.pen.circle(m.fitted.ID, thin, Paper, at, 1.7)
	v.pen.text(Text{Of: Of(m.fitted.ID), At: at.plus(0, 0.75), Size: 2.1, Anchor: Middle, Bold: true, Text: fmt.Sprint(m.number)})
	if len(m.broken) > 0 {
		v.pen.warning(at.plus(0, -3.4), 1.5)
	}
}

// list writes what is drawn on this side, and returns how far down it reaches.
func (v *view) list(from, wide, y MM) MM {
	line := func(ink Ink, indent MM, text string) {
		for _, l := range wrap(text, wide-indent, listSize, false) {
			v.pen.text(Text{At: Point{from + indent, y}, Size: listSize, Ink: ink, Text: l})
			y += listSize * lineHigh
		}
	}
	for _, m := range v.marks {
		if m.inside != v.inside {
			continue
		}
		v.pen.text(Text{Of: Of(m.fitted.ID), At: Point{from, y}, Size: listSize, Bold: true, Text: fmt.Sprint(m.number)})
		line(Black, 5, m.words())
		for _, f := range m.faults() {
			v.pen.warning(Point{from + 6.5, y - 0.7}, 1.1)
			line(Warn, 8.5, f)
		}
	}
	ends := []string{"out"}
	if loop := v.door.Loop; loop != nil && v.inside {
		line(Black, 0, loop.Title+": between frame and leaf at the hinges")
	}
	if v.inside {
		ends = []string{"in", "head"}
	}
	if runs := v.runsAt(ends...); len(runs) > 0 {
		line(Grey, 0, "Cables that come down here: "+strings.Join(runs, ", "))
	}
	return y
}

// plotPlan draws the opening from above with the swing of its leaves, and returns how far down it reaches.
func (e *elevation) plotPlan(p *pen, room, y, scale MM) MM {
	wide, middle := MM(e.width)*scale, room*0.55
	p.lines(Text{At: Point{0, y}, Size: listSize}, wrap("Plan, "+e.swingWords(), room, listSize, false))
	leafWide := wide / MM(e.door.Leaves)
	left, right := middle-wide/2, middle+wide/2
	swing := MM(1) // the unsecured side is drawn below
	wall := y + 8
	if e.door.Opening.Swing == "in" {
		swing = -1
		wall = y + leafWide + 6
	}
	for _, edge := range []MM{left - 22, right} {
		p.rect("", thin, Shade, Point{edge, wall - 1.5}, 22, 3, 0)
	}
	leaf := func(hinge, away MM) {
		p.line(e.door.ID, Stroke{Width: 0.7, Ink: Black}, Point{hinge, wall}, Point{hinge, wall + swing*leafWide})
		from, sweep := 0.0, 90.0
		if away < 0 {
			from, sweep = 180, -90
		}
		p.arc(e.door.ID, Stroke{Width: 0.2, Ink: Black, Dash: Dashed}, Point{hinge, wall}, leafWide, from, sweep*float64(swing))
	}
	switch {
	case e.door.Leaves == 2:
		leaf(left, 1)
		leaf(right, -1)
	case e.hingeLeft:
		leaf(left, 1)
	default:
		leaf(right, -1)
	}
	p.text(Text{At: Point{left - 24, wall - 3}, Size: 2, Anchor: Right, Ink: Grey, Text: "secured side"})
	p.text(Text{At: Point{left - 24, wall + 4.5}, Size: 2, Anchor: Right, Ink: Grey, Text: "unsecured side"})
	if swing > 0 {
		return wall + leafWide + 2
	}
	return wall + 7
}

// swingWords say how the door is handed and swings.
func (e *elevation) swingWords() string {
	words := "seen from above; hinges right"
	if e.hingeLeft {
		words = "seen from above; hinges left"
	}
	if e.door.Leaves == 2 {
		words = "seen from above; two leaves, the first hinged"
		if e.hingeLeft {
			words += " left"
		} else {
			words += " right"
		}
	}
	if e.door.Opening.Swing == "in" {
		return words + " as seen from the unsecured side, swings in"
	}
	return words + " as seen from the unsecured side, swings out"
}

// notes write what was taken, what is elsewhere, and the caution; they return how far down they reach.
func (e *elevation) notes(p *pen, y MM) MM {
	lines := []string{"Taken as usual, not stated in the job: figures in brackets" + strings.Join(append([]string{""}, e.taken...), "; ") +
		". Dotted: cable down from the ceiling. Full angle: the leaf swings towards the viewer; dashed: away. Shaded: within reach."}
	if len(e.elsewhere) > 0 {
		lines = append(lines, "Elsewhere: "+strings.Join(e.elsewhere, "; ")+".")
	}
	lines = append(lines, rules.Caution)
	for _, l := range lines {
		y = p.lines(Text{At: Point{0, y}, Size: 2, Ink: Grey}, wrap(l, elevationWide, 2, false))
	}
	return y
}
