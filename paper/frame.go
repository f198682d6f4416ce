package paper

import (
	"fmt"

	"doorwright/draw"
	"doorwright/record"
)

// Frame is what stands on every page of a paper. Its foot is a title block with the data fields of ISO 7200 (their
// names
// from memory): legal owner, identification number, revision index, date of issue, sheet number, title, creator, person
// who approved, document type.
type Frame struct {
	Size     Size
	Owner    string // whose paper it is; empty leaves room to write
	Number   string // job, and door where the paper is about one
	Revision string // of the job
	Title    string // of the job
	Part     string // door, supply or whatever of the job the paper is about
	Kind     string // door sheet, job set ...
	Made     string // by whom
	Approved string
	Issued   record.Date
}

// The margins of a page, and the heights of what stands at its head and foot. The left margin takes the holes of a
// binder (ISO 5457 wants 20 mm for filing; these papers use 15 mm to have room).
const (
	marginLeft  draw.MM = 15
	marginRight draw.MM = 10
	marginTop   draw.MM = 7
	marginFoot  draw.MM = 7
	headHigh    draw.MM = 6.2
	blockHigh   draw.MM = 15 // of the title block, on the first page
	legendHigh  draw.MM = 3.4
)

// thin and thick are the two widths of rules on a page.
var (
	thin  = draw.Stroke{Width: 0.13, Ink: draw.Black}
	thick = draw.Stroke{Width: 0.35, Ink: draw.Black}
	faint = draw.Stroke{Width: 0.1, Ink: draw.Grey}
)

// The marks of what was calculated, measured and witnessed. They survive a copy in grey, and each stands in the legend.
const (
	markMeasured  = "●"
	markWitnessed = "◆"
	markTodo      = "☐"
	markDone      = "☑"
	markFail      = "☒"
	markLife      = "▲"
)

// legend is what the marks mean, at the foot of every page that has a title block.
const legend = "[figure] calculated, not measured   " + markMeasured + " measured   " + markWitnessed +
	" witnessed   " + markTodo + " not done   " + markDone + " done   " + markFail + " failed   " + markLife + " " +
	"bears on life: at every door, witnessed"

// calculated puts a figure in the brackets of what was calculated.
func calculated(figure string) string {
	if figure == "" {
		return ""
	}
	return "[" + figure + "]"
}

// area is the room between head and foot, of the first page or of another.
func (f Frame) area(first bool) draw.Box {
	b := draw.Box{
		Left: marginLeft, Top: marginTop + headHigh, Right: f.Size.Width - marginRight,
		Bottom: f.Size.Height - marginFoot - legendHigh,
	}
	if first { // it has a title block and a large title instead of a head
		b.Top, b.Bottom = marginTop, b.Bottom-blockHigh
	}
	return b
}

// page is an empty page.
func (f Frame) page() *draw.Sheet {
	return &draw.Sheet{Title: f.Kind, Width: f.Size.Width, Height: f.Size.Height}
}

// finish puts head and foot on all pages, now that their number is known.
func (f Frame) finish(pages []*draw.Sheet) {
	for i, p := range pages {
		count := fmt.Sprintf("%d of %d", i+1, len(pages))
		if i == 0 {
			f.block(p, count)
		} else {
			f.head(p, count)
		}
		f.legend(p, f.area(i == 0).Bottom+legendHigh-1.2)
	}
}

// head writes the head of a page that goes on, which has no title block: what tells it apart.
func (f Frame) head(p *draw.Sheet, count string) {
	right, base := f.Size.Width-marginRight, marginTop+lead
	kind := joined(" · ", f.Kind, f.Number, prefixed("rev ", f.Revision), f.Issued.String(), "sheet "+count)
	room := right - marginLeft - 4
	kind = shortened(kind, 0.75*room, lead, false)
	p.Items = append(p.Items,
		draw.Text{
			At: draw.Point{X: marginLeft, Y: base}, Size: lead, Bold: true,
			Text: shortened(f.Title, room-measure(kind, lead, false), lead, true),
		},
		draw.Text{
			At: draw.Point{X: right, Y: base}, Size: lead, Anchor: draw.Right,
			Text: kind,
		},
		draw.Line{Stroke: thick, Points: []draw.Point{{X: marginLeft, Y: base + 1.6}, {X: right, Y: base + 1.6}}})
}

// field is one box of the title block.
type field struct {
	label, value string
	wide         draw.MM // share of the width
}

// prefixed is text behind what it needs before it; nothing for nothing.
func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

// legend says what the marks mean.
func (f Frame) legend(p *draw.Sheet, base draw.MM) {
	p.Items = append(p.Items, draw.Text{
		At: draw.Point{X: marginLeft, Y: base}, Size: small, Ink: draw.Grey,
		Text: shortened(legend, f.Size.Width-marginRight-marginLeft, small, false),
	})
}

// block writes the title block.
func (f Frame) block(p *draw.Sheet, count string) {
	left, right := marginLeft, f.Size.Width-marginRight
	top := f.Size.Height - marginFoot - blockHigh
	row := func(at draw.MM, fields ...field) {
		x := left
		for _, b := range fields {
			wide := (right - left) * b.wide
			size := lead
			for _, less := range []draw.MM{body, small} { // a long name is set smaller before it is cut
				if measure(b.value, size, true) > wide-2 {
					size = less
				}
			}
			p.Items = append(p.Items,
				draw.Rect{Stroke: thin, At: draw.Point{X: x, Y: at}, Width: wide, Height: blockHigh / 2},
				draw.Text{At: draw.Point{X: x + 1, Y: at + 2.4}, Size: small, Ink: draw.Grey, Text: b.label},
				draw.Text{
					At: draw.Point{X: x + 1, Y: at + 6}, Size: size, Bold: true,
					Text: shortened(b.value, wide-2, size, true),
				})
			x += wide
		}
	}
	row(top, field{"Legal owner", f.Owner, 0.24}, field{"Title", f.Title, 0.46},
		field{"Identification number", f.Number, 0.3})
	row(top+blockHigh/2, field{"Document type", f.Kind, 0.24}, field{"Made by", f.Made, 0.15},
		field{"Approved by", f.Approved, 0.15}, field{"Date of issue", f.Issued.String(), 0.16},
		field{"Revision", f.Revision, 0.12}, field{"Sheet", count, 0.18})
}
