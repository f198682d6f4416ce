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
	scale := 0
	for _, scale = range scales {
		if MM(e.width+e.wall)*1000/MM(scale)+hingeRoom <= half(elevationWide) && MM(e.ceiling)*1000/MM(scale) <= 125 {
			break
		}
	}
	title := fmt.Sprintf("Elevation of door %s: %s", d.ID, d.Title)
	pen := &pen{by: Point{margin, margin}}
	titleLines(pen, title, p.Job, elevationWide-42) // the scale stands beside them
	pen.text(Text{At: Point{elevationWide, 8.6}, Size: 2.4, Anchor: Right, Ink: Grey, Text: fmt.Sprintf("scale 1:%d at full size", scale)})
	bottom := e.plot(pen, elevationWide, 1000/MM(scale), MM(headHigh))
	bottom = e.lists(pen, elevationWide, bottom, 1000/MM(scale))
	bottom = e.notes(pen, elevationWide, bottom+4, rules.Caution)
	return &Sheet{Title: title, Width: elevationWide + 2*margin, Height: bottom + 2*margin, Items: pen.items}
}

// ElevationPart is the same for a part of a page that has a title and the cautions of its own: as wide as that part, to
// no round scale, and without the plan of the opening.
func ElevationPart(p *wiring.Plan, d *job.Door, wide MM) *Sheet {
	e := elevationOf(p, d)
	const highest, numbers, dimension MM = 62, 9, 5 // of a view; beside devices; from one dimension line to the next
	furthest, heights := e.onWall()
	room := half(wide) - hingeRoom
	perMetre := min((room-numbers-dimension*MM(heights))/MM(e.width+furthest), highest/MM(e.ceiling))
	e.wall = unit.Metre(room/perMetre) - e.width
	const rim MM = 0.5 // for half the width of a line
	pen := &pen{by: Point{rim, rim}}
	bottom := e.plot(pen, wide, perMetre, 0)
	bottom = e.together(pen, wide, bottom)
	bottom = e.notes(pen, wide, bottom+1)
	return &Sheet{Title: "Elevation of door " + d.ID, Width: wide + 2*rim, Height: bottom + 2*rim, Items: pen.items}
}

// hingeRoom is the room for the frame and the clear height beside the hinges; betweenViews that between the two sides.
const (
	hingeRoom    MM = 11
	betweenViews MM = 6
)

// half is the width of one side.

func half(wide MM) MM { return (wide - betweenViews) / 2 }

// OpeningPlan is the opening of a door from above, with its handing and swing, for a part of a page.
func OpeningPlan(p *wiring.Plan, d *job.Door, wide MM) *Sheet {
	e := elevationOf(p, d)
	const rim, high MM = 0.5, 16 // for half the width of a line; of a leaf that stands open
	pen := &pen{by: Point{rim, rim}}
	scale := min(wide*0.4/MM(e.width), high*MM(d.Leaves)/MM(e.width))
	bottom := e.plotPlan(pen, wide, listSize, scale)
	return &Sheet{Title: "Opening of door " + d.ID, Width: wide + 2*rim, Height: bottom + 2*rim, Items: pen.items}
}

// plot draws both sides from a height on, and returns how far down they reach.
func (e *elevation) plot(pen *pen, wide, perMetre, top MM) MM {
	floor := top + 8 + MM(e.ceiling)*perMetre
	bottom := floor
	for i, inside := range []bool{false, true} {
		from := MM(i) * (half(wide) + betweenViews)
		v := &view{elevation: e, pen: pen, inside: inside, scale: perMetre, floor: floor}
		spare := half(wide) - hingeRoom - MM(e.width+e.wall)*perMetre
		v.left = from + spare/2 + hingeRoom
		if !v.hingesLeft() {
			v.left = from + spare/2 + MM(e.wall)*perMetre
		}
		v.plot(half(wide), from, top)
		bottom = max(bottom, floor+10+4*v.rows())
	}
	return bottom
}

// x is where a distance from the left edge of the opening lies.
func (v *view) x(from unit.Metre) MM { return v.left + MM(from)*v.scale }

// y is where a height above the floor lies.
func (v *view) y(high unit.Metre) MM { return v.floor - MM(high)*v.scale }

// hingesLeft says that the hinges are seen on the left from this side.
func (v *view) hingesLeft() bool { return v.hingeLeft != v.inside }

// plot draws one side.
func (v *view) plot(wide, from, top MM) {
	side := "Unsecured side"
	if v.inside {
		side = "Secured side"
		if v.door.Secured != "" {
			side += ": " + v.door.Secured
		}
	}
	v.pen.text(Text{At: Point{from, top + 2}, Size: 2.8, Bold: true, Text: fit(side, wide, 2.8, true)})
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
	b, ok := v.reachBand()
	if !ok {
		return
	}
	v.pen.rect("", Stroke{}, Shade, Point{from, v.y(b.High)}, wide, v.y(b.Low)-v.y(b.High), 0)
}

// reachBand is the band that everybody reaches, by the rules of the door.
func (e *elevation) reachBand() (unit.Band[unit.Metre], bool) {
	limits := rules.Limits(rules.ItemButton, e.door.Families...)
	if len(limits) == 0 {
		return unit.Band[unit.Metre]{}, false
	}
	return limits[0].Band, true
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
		number = at.plus(-v.away()*(MM(0.09)*v.scale+2.8), 0)
	case rules.ItemMagnet:
		at.Y += MM(0.03) * v.scale
		box(0.25, 0.047, 0)
		number = at.plus(v.aside(m), 4)
	case rules.ItemContact:
		at.Y -= MM(frameStrip/2) * v.scale
		box(0.05, 0.03, 0)
		number = at.plus(v.aside(m), -4)
	case rules.ItemLock:
		box(0.04, 0.2, 0.3)
		number = at.plus(0, -MM(0.1)*v.scale-2.8)
		if m.fitted.Leaf == 2 {
			number = at.plus(0, MM(0.1)*v.scale+2.8)
		}
	}
	v.number(m, number)
}

// aside is how far the number of what is at the head stands from it, so that those of two leaves keep apart.
func (v *view) aside(m *mark) MM {
	if v.door.Leaves < 2 {
		return 0
	}
	away := MM(v.firstLeafBack()) * 2
	if m.fitted.Leaf == 2 {
		return -away
	}
	return away
}

// number draws the number of a device in a circle, and a warning beside it where it is outside a band.
func (v *view) number(m *mark, at Point) {
	v.pen.circle(m.fitted.ID, thin, Paper, at, 1.7)
	v.pen.text(Text{Of: Of(m.fitted.ID), At: at.plus(0, 0.75), Size: 2.1, Anchor: Middle, Bold: true, Text: fmt.Sprint(m.number)})
	if len(m.broken) > 0 {
		v.pen.warning(at.plus(0, -3.4), 1.5)
	}
}

// The words beside the plan of an opening.
const securedSide, unsecuredSide = "secured side", "unsecured side"

// plotPlan draws the opening from above with the swing of its leaves, and returns how far down it reaches.
func (e *elevation) plotPlan(p *pen, room, y, scale MM) MM {
	wide, middle := MM(e.width)*scale, room*0.58
	y = p.lines(Text{At: Point{0, y}, Size: listSize}, wrap("Plan, secured side on top, "+e.swingWords(), room, listSize, false))
	leafWide := wide / MM(e.door.Leaves)
	left, right := middle-wide/2, middle+wide/2
	swing := MM(1) // the unsecured side is drawn below
	wall := y + 4
	if e.door.Opening.Swing == "in" {
		swing = -1
		wall = y + leafWide + 2
	}
	stub := min(22, left, room-right)
	for _, edge := range []MM{left - stub, right} {
		p.rect("", thin, Shade, Point{edge, wall - 1.5}, stub, 3, 0)
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
	if Measure(unsecuredSide, 2, false) <= stub {
		p.text(Text{At: Point{left - stub, wall - 2.5}, Size: 2, Ink: Grey, Text: securedSide})
		p.text(Text{At: Point{left - stub, wall + 4}, Size: 2, Ink: Grey, Text: unsecuredSide})
	}
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

// notes write what was taken, what is elsewhere, and what else there is to say; they return how far down they reach.
func (e *elevation) notes(p *pen, wide, y MM, more ...string) MM {
	reach := ""
	if b, ok := e.reachBand(); ok {
		reach = fmt.Sprintf(" Shaded: within reach, %s to %s.", e.told(b.Low), e.told(b.High))
	}
	lines := []string{"Taken as usual, not stated in the job: figures in brackets" + strings.Join(append([]string{""}, e.taken...), "; ") +
		". Dotted: cable down from the ceiling. Full angle: the leaf swings towards the viewer; dashed: away." + reach}
	if len(e.elsewhere) > 0 {
		lines = append(lines, "Elsewhere: "+strings.Join(e.elsewhere, "; ")+".")
	}
	for _, l := range append(lines, more...) {
		y = p.lines(Text{At: Point{0, y}, Size: 2, Ink: Grey}, wrap(l, wide, 2, false))
	}
	return y
}
