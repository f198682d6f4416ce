package draw

import (
	"fmt"
	"slices"
	"strings"

	"doorwright/device"
	"doorwright/job"
	"doorwright/rules"
	"doorwright/unit"
	"doorwright/wiring"
)

// What an elevation takes where the job says nothing; each is said on the drawing.
const (
	usualWidth  unit.Metre = 0.9 // clear width of a leaf (common practice)
	usualHigh   unit.Metre = 2.1 // clear height (common practice)
	aboveDoor   unit.Metre = 0.5 // from the opening to the ceiling (common practice)
	sideBySide  unit.Metre = 0.25
	leverHigh   unit.Metre = 1.0
	besideWall  unit.Metre = 0.95 // wall shown beside the opening, at the latch
	frameStrip  unit.Metre = 0.05
	leafToFloor unit.Metre = 0.01
)

// elevation is what is seen of a door.
type elevation struct {
	plan      *wiring.Plan
	door      *job.Door
	width     unit.Metre
	high      unit.Metre
	wall      unit.Metre // shown beside the opening, at the latch
	ceiling   unit.Metre
	hingeLeft bool // seen from the unsecured side
	taken     []string
	marks     []*mark
	elsewhere []string
}

// mark is one device on the elevation.
type mark struct {
	number int
	fitted *job.Fitted
	item   rules.Item
	inside bool       // drawn on the secured side
	height unit.Metre // of its middle
	beside unit.Metre // on the wall from the opening, at the head and in the leaf from the leading edge
	onWall bool
	taken  bool          // height or distance taken, not stated
	broken []rules.Limit // bands that a stated figure is outside of
	open   []rules.Limit // bands that a figure taken here is outside of: nobody has decided it yet
}

// elevationOf gathers what is mounted at a door and where.
func elevationOf(p *wiring.Plan, d *job.Door) *elevation {
	e := &elevation{plan: p, door: d, width: d.Opening.Width, high: d.Opening.Height, hingeLeft: d.Opening.Handing != "right"}
	if e.width == 0 {
		e.width = usualWidth * unit.Metre(max(1, d.Leaves))
		e.taken = append(e.taken, fmt.Sprintf("clear width %s", e.told(e.width)))
	}
	if e.high == 0 {
		e.high = usualHigh
		e.taken = append(e.taken, fmt.Sprintf("clear height %s", e.told(e.high)))
	}
	if d.Opening.Handing == "" {
		e.taken = append(e.taken, "hinges on the left, seen from the unsecured side")
	}
	if d.Opening.Swing == "" {
		e.taken = append(e.taken, "swings out, towards the unsecured side")
	}
	for _, f := range d.Fitted() {
		e.mark(f)
	}
	slices.SortStableFunc(e.marks, func(a, b *mark) int { // numbered as they are listed, the unsecured side first
		switch {
		case a.inside == b.inside:
			return 0
		case b.inside:
			return -1
		}
		return 1
	})
	for i, m := range e.marks {
		m.number = i + 1
	}
	e.frameIt()
	return e
}

// frameIt makes the wall so wide and the ceiling so high that everything has room, dimension lines included.
func (e *elevation) frameIt() {
	const aDimension unit.Metre = 0.2 // room for a dimension line, at the smallest of the usual scales
	furthest, heights := e.onWall()
	e.wall, e.ceiling = max(besideWall, furthest+0.35+aDimension*unit.Metre(heights)), e.high+aboveDoor
	for _, m := range e.marks {
		e.ceiling = max(e.ceiling, m.height+0.2)
	}
}

// onWall says how far from the opening devices stand on the wall, and at how many heights.
func (e *elevation) onWall() (furthest unit.Metre, heights int) {
	seen := map[unit.Metre]bool{}
	for _, m := range e.marks {
		if m.onWall {
			furthest = max(furthest, m.beside)
			seen[m.height] = true
		}
	}
	return furthest, len(seen)
}

// told writes a length in the measures of the job.
func (e *elevation) told(v unit.Metre) string { return e.plan.Job.Measures.Mounted(v) }

// itemOf is the item that a device is mounted as; empty for what is in a box.
func itemOf(f *job.Fitted) rules.Item {
	switch f.Role {
	case job.RoleEntry, job.RoleExitReader:
		return rules.ItemReader
	case job.RoleExit:
		if f.Model.Kind == "exit-sensor" {
			return rules.ItemSensor
		}
		return rules.ItemButton
	case job.RoleRelease:
		return rules.ItemRelease
	case job.RoleContact:
		return rules.ItemContact
	case job.RoleSounder:
		return rules.ItemSounder
	case job.RoleLock:
		if f.Model.Kind == "magnet" {
			return rules.ItemMagnet
		}
		return rules.ItemLock
	}
	return ""
}

// mark enters a device at its place: as stated, else as usual, beside what is there already.
func (e *elevation) mark(f *job.Fitted) {
	item := itemOf(f)
	end, ofDoor := strings.CutPrefix(f.Place.ID, e.door.ID+".")
	if item == "" || !ofDoor || end == "box" {
		if item != "" || f.Role == job.RoleAux {
			e.elsewhere = append(e.elsewhere, fmt.Sprintf("%s: %s, at %s", f.ID, f.Title, f.Place.Title))
		}
		return
	}
	usual := rules.MountingOf(item)
	m := &mark{
		fitted: f, item: item, inside: end != "out", height: f.Height, beside: f.Beside,
		onWall: !usual.AtHead && item != rules.ItemLock && item != rules.ItemSensor,
	}
	if m.height == 0 {
		m.height, m.taken = e.usualHeight(usual), true
	}
	if m.beside == 0 && usual.Beside.Value > 0 {
		m.beside, m.taken = usual.Beside.Value, true
		for m.onWall && slices.ContainsFunc(e.marks, m.meets) {
			m.beside += sideBySide
		}
	}
	for _, l := range rules.Limits(item, e.door.Families...) {
		v, stated := m.height, f.Height != 0
		if l.Distance {
			v, stated = m.beside, f.Beside != 0
		}
		const rounding = 0.0005 // half a millimetre
		switch within := v >= l.Band.Low-rounding && v <= l.Band.High+rounding; {
		case within:
		case stated:
			m.broken = append(m.broken, l)
		default:
			m.open = append(m.open, l)
		}
	}
	e.marks = append(e.marks, m)
}

// usualHeight is the default of an item, moved into the band that the first of the door's families asks of a release, and
// above the door for what is there.
func (e *elevation) usualHeight(usual rules.Mounting) unit.Metre {
	switch {
	case usual.AtHead:
		return e.high
	case usual.Item == rules.ItemSensor, usual.Item == rules.ItemSounder:
		return max(usual.Height.Value, e.high+0.15)
	case usual.Item == rules.ItemRelease && len(e.door.Families) > 0:
		if band := e.door.Families[0].Height.Value; !band.IsZero() {
			return min(max(usual.Height.Value, band.Low), band.High)
		}
	}
	return usual.Height.Value
}

// meets says that two devices would lie over each other.
func (m *mark) meets(o *mark) bool {
	return o.onWall && o.inside == m.inside && max(m.height-o.height, o.height-m.height) < 0.2 &&
		max(m.beside-o.beside, o.beside-m.beside) < sideBySide-0.001
}

// words are the line of the list below the drawing.
func (e *elevation) words(m *mark) string {
	var where []string
	usual := rules.MountingOf(m.item)
	if !usual.AtHead {
		where = append(where, fmt.Sprintf("middle %s high", e.bracketed(m.height, m.fitted.Height)))
	} else {
		where = append(where, "at the head")
	}
	if m.beside > 0 {
		from := "from the leading edge"
		if m.onWall {
			from = "from the opening"
		}
		where = append(where, fmt.Sprintf("%s %s", e.bracketed(m.beside, m.fitted.Beside), from))
	}
	return fmt.Sprintf("%s: %s", InLine(m.fitted.Title), strings.Join(where, ", "))
}

// faults are the lines about the bands that a device is outside of where it is stated to be.
func (e *elevation) faults(m *mark) []string {
	var all []string
	for _, l := range m.broken {
		all = append(all, fmt.Sprintf("%s outside %s to %s: %s", measureOf(l), e.told(l.Band.Low), e.told(l.Band.High), l.Source))
	}
	return all
}

// undecided are the lines about the bands that a device would be outside of where it is taken to be: no mistake of anybody, but
// to be decided.
func (e *elevation) undecided(m *mark) []string {
	var all []string
	for _, l := range m.open {
		all = append(all, fmt.Sprintf("%s to be decided: outside %s to %s: %s", measureOf(l), e.told(l.Band.Low), e.told(l.Band.High), l.Source))
	}
	return all
}

// measureOf is what a limit is of.
func measureOf(l rules.Limit) string {
	if l.Distance {
		return "distance"
	}
	return "height"
}

// runsAt lists the runs that end at some places of the door.
func (e *elevation) runsAt(ends ...string) []string {
	var all []string
	for _, r := range e.plan.Job.Runs {
		for _, end := range ends {
			if id := e.door.ID + "." + end; r.From.ID == id || r.To.ID == id {
				all = append(all, fmt.Sprintf("%s %s", runTag(r, e.door.ID), r.TypeID))
			}
		}
	}
	return all
}

// hasLever says that a device in the leaf has a handle or works with one.
func (e *elevation) hasLever() bool {
	return slices.ContainsFunc(e.door.Locks, func(l *job.Lock) bool {
		return l.Model.Kind != "magnet" || l.Model.Lock.Inside != device.InsideNever
	})
}
