// Package draw makes the drawings of a job: the wiring diagram of a door, its elevation, the supply tree, the blocks of
// a site. They are made from the plan, never by hand.
//
// A drawing is a Sheet: a flat list of lines, rectangles, circles, arcs and texts in millimetres, with x to the right and
// y downwards from the upper left corner. Whoever shows it, on a page or on paper, draws the items in their order and
// decides nothing. Letters always say what a colour says.
package draw

// MM is a length on the sheet, in millimetres.
type MM float64

// Point is a place on the sheet.
type Point struct{ X, Y MM }

// plus is the point moved.
func (p Point) plus(x, y MM) Point { return Point{p.X + x, p.Y + y} }

// Sheet is a drawing.
type Sheet struct {
	Title         string
	Width, Height MM
	Items         []Item // the first is drawn first
}

// Item is a Line, a Rect, a Circle, an Arc or a Text.
type Item interface {
	// Object is the id of what the item shows, such as "staff.lock", "staff.lock.A1" or "W3.1"; empty for decoration.
	Object() string
	// Bounds is the box round the item, with half the width of its stroke.
	Bounds() Box
}

// Of carries the id of what an item shows.
type Of string

// Object is the id.
func (o Of) Object() string { return string(o) }

// Line is a polyline, or a polygon where it is closed. Fill is only for closed ones.
type Line struct {
	Of
	Stroke Stroke
	Fill   Ink // empty for none
	Points []Point
	Closed bool
}

// Rect is a rectangle with its upper left corner at At.
type Rect struct {
	Of
	Stroke        Stroke
	Fill          Ink
	At            Point
	Width, Height MM
	Radius        MM // of the corners
}

// Circle is a circle.
type Circle struct {
	Of
	Stroke Stroke
	Fill   Ink
	Centre Point
	Radius MM
}

// Arc is a part of a circle, never filled. Angles are in degrees, from the direction of x towards that of y: clockwise
// as seen. A negative sweep goes the other way.
type Arc struct {
	Of
	Stroke      Stroke
	Centre      Point
	Radius      MM
	From, Sweep float64
}

// Text is one line of text. At is on its base line. Size is the size of the type (one em). The inks of texts are Black,
// Grey, Warn and Paper.
type Text struct {
	Of
	At     Point
	Size   MM
	Anchor Anchor
	Bold   bool
	Turn   float64 // degrees about At, clockwise as seen: -90 reads upwards
	Ink    Ink
	Text   string
}

// Anchor says which part of a text stands at its point.
type Anchor string

// The anchors. The left is that of the sheet, whatever way the text reads.
const (
	Left   Anchor = ""
	Middle Anchor = "middle"
	Right  Anchor = "end"
)
