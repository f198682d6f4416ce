package draw

import (
	"cmp"
	"slices"

	"doorwright/device"
	"doorwright/job"
	"doorwright/wiring"
)

// The wiring diagram stands in columns of devices with channels of wires between them. In the middle is the place of the
// controller; what is nearer to the public stands left of it, what is inside stands right. Terminals lie on a grid that
// is shifted by half a step from one column to the next, so that no two wires can come to lie on one line across a
// channel.

// pitch is the step of the grid: one landing.
const pitch MM = 2.9

// diagram is a wiring diagram on its way to paper.
type diagram struct {
	*subject
	plan     *wiring.Plan
	columns  []*column
	channels []*channel // one before each column, one after the last
	wires    []*wire
	cables   []*sheath
	twists   []*twist
	boxes    map[*wiring.Device]*box
}

// column holds the places that stand one below the other.
type column struct {
	index  int
	middle bool
	groups []*group
	x      MM
	wide   MM
}

// group is what is at one place.
type group struct {
	column *column
	place  *job.Place
	boxes  []*box
	steps  int // where it begins, in steps of the grid
	high   int // in steps
	head   int // steps for the name of the place
	title  []string
}

// box is one device.
type box struct {
	group    *group
	device   *wiring.Device
	id       []string
	title    []string
	together bool // id and title on one line
	rows     []*row
	torn     bool // only the terminals that this drawing needs are shown
	steps    int  // where it begins in its group
	head     int  // steps before the first row
}

// row is one terminal.
type row struct {
	box      *box
	terminal device.Terminal
	role     string
	pins     [2][]*pin // on the left, on the right
	steps    int       // where it begins in its box
}

// high is how many steps the row takes.
func (r *row) high() int { return max(1, len(r.pins[left]), len(r.pins[right])) }

// The sides of a row.
const (
	left  = 0
	right = 1
)

// pin is one end of one wire on a terminal.
type pin struct {
	wire *wire
	row  *row
	side int
	slot int // place among the pins of its row and side
}

// step is where the pin lies, in steps of the grid.
func (p *pin) step() int {
	b := p.row.box
	return b.group.steps + b.steps + p.row.steps + p.slot
}

// y is where the pin lies on the sheet.
func (p *pin) y() MM { return p.row.box.group.column.y(p.step()) + pitch/2 }

// y is where a step of the grid begins in the column.
func (c *column) y(step int) MM {
	y := MM(step) * pitch
	if c.index%2 != 0 {
		y += pitch / 2
	}
	return y
}

// x is where the pin lies on the sheet: on the edge of its box.
func (p *pin) x() MM {
	c := p.row.box.group.column
	if p.side == left {
		return c.x
	}
	return c.x + c.wide
}

// channel is the number of the channel that the pin looks into.
func (p *pin) channel() int { return p.row.box.group.column.index + p.side }

// wire is one conductor.
type wire struct {
	conductor *wiring.Conductor
	a, b      *pin // b is nil for a screen that ends insulated
	stub      MM   // length of one that ends insulated
	lane      int  // above all columns, from 1; 0 for a wire that stays in one channel
	tracks    []*track
	path      []Point
}

// diagramOf gathers what belongs on the drawing of a subject.
func diagramOf(p *wiring.Plan, of *subject) *diagram {
	g := &diagram{subject: of, plan: p, boxes: map[*wiring.Device]*box{}}
	var conductors []*wiring.Conductor
	for _, c := range p.Conductors {
		if of.serves(c) {
			conductors = append(conductors, c)
		}
	}
	g.place(conductors)
	for _, c := range conductors {
		g.wire(c)
	}
	return g
}

// place puts devices into boxes, boxes into groups, groups into columns.
func (g *diagram) place(conductors []*wiring.Conductor) {
	wanted := map[*wiring.Device]bool{}
	landed := map[wiring.End]bool{}
	for _, c := range conductors {
		for _, e := range []wiring.End{c.A, c.B} {
			if e.Device != nil {
				wanted[e.Device], landed[e] = true, true
			}
		}
	}
	var devices []*wiring.Device
	for _, d := range g.plan.Devices {
		if wanted[d] || g.own(d) {
			devices = append(devices, d)
		}
	}
	groups := map[*job.Place]*group{}
	index := g.columnIndexes(devices)
	g.balance(devices, index)
	for _, d := range devices {
		at := groups[d.Place]
		if at == nil {
			at = &group{place: d.Place, column: g.columnAt(index[d.Place])}
			at.column.groups = append(at.column.groups, at)
			groups[d.Place] = at
		}
		b := g.box(at, d, landed)
		at.boxes = append(at.boxes, b)
		g.boxes[d] = b
	}
	slices.SortFunc(g.columns, func(a, b *column) int { return cmp.Compare(a.index, b.index) })
	for i, c := range g.columns {
		c.index = i
	}
}

// columnAt finds or opens the column of that number; the middle one is 0.
func (g *diagram) columnAt(index int) *column {
	for _, c := range g.columns {
		if c.index == index {
			return c
		}
	}
	c := &column{index: index, middle: index == 0}
	g.columns = append(g.columns, c)
	return c
}

// columnIndexes gives each place its column: as many steps from the middle as there are runs on the way, to the left for
// what is outside or feeds the door, to the right for the frame and the inside.
func (g *diagram) columnIndexes(devices []*wiring.Device) map[*job.Place]int {
	index := map[*job.Place]int{g.middle: 0}
	queue := []*job.Place{g.middle}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, r := range g.plan.Job.Runs {
			to := r.To
			if r.To == at {
				to = r.From
			} else if r.From != at {
				continue
			}
			if _, seen := index[to]; seen {
				continue
			}
			switch {
			case index[at] < 0 || at == g.middle && g.left(to):
				index[to] = index[at] - 1
			default:
				index[to] = index[at] + 1
			}
			queue = append(queue, to)
		}
	}
	for _, d := range devices {
		if _, known := index[d.Place]; !known {
			index[d.Place] = 1
		}
	}
	return index
}

// balance takes the frame to the left where the right would be higher than what stands left with the frame.
func (g *diagram) balance(devices []*wiring.Device, index map[*job.Place]int) {
	var frame *job.Place
	high := map[int]int{}
	frameHigh := 0
	for _, d := range devices {
		n := len(d.Model.Strip) + 3
		if d.Place.ID == g.id+".head" {
			frame, frameHigh = d.Place, frameHigh+n
			continue
		}
		if !g.own(d) && index[d.Place] != 0 {
			n = 6 // a shared device shows few terminals
		}
		high[index[d.Place]] += n
	}
	if frame != nil && index[frame] == 1 && high[1]+frameHigh > high[0] && high[-1] < high[1] {
		index[frame] = -1
	}
}

// box makes the box of a device with its rows.
func (g *diagram) box(at *group, d *wiring.Device, landed map[wiring.End]bool) *box {
	b := &box{group: at, device: d}
	for _, t := range d.Model.Strip {
		if g.hidden(d, t.Pin) && !landed[wiring.End{Device: d, Pin: t.Pin}] {
			b.torn = true
			continue
		}
		b.rows = append(b.rows, &row{box: b, terminal: t, role: roleOf(d.Model, t.Pin, g.channel == 0)})
	}
	return b
}

// wire enters a conductor between the rows of its terminals.
func (g *diagram) wire(c *wiring.Conductor) {
	w := &wire{conductor: c}
	w.a = &pin{wire: w, row: g.row(c.A)}
	if c.B.Device != nil {
		w.b = &pin{wire: w, row: g.row(c.B)}
	}
	g.wires = append(g.wires, w)
}

func (g *diagram) row(e wiring.End) *row {
	b := g.boxes[e.Device]
	if i := slices.IndexFunc(b.rows, func(r *row) bool { return r.terminal.Pin == e.Pin }); i >= 0 {
		return b.rows[i]
	}
	// A pin without a terminal of its own is reached at the terminal that is joined to it inside.
	if t := e.Device.Model.Reach(e.Pin); t != nil {
		if i := slices.IndexFunc(b.rows, func(r *row) bool { return r.terminal.Pin == t.Pin }); i >= 0 {
			return b.rows[i]
		}
	}
	r := &row{box: b, terminal: device.Terminal{Label: e.Label(), Pin: e.Pin}}
	b.rows = append(b.rows, r)
	return r
}
