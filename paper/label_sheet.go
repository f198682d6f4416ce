package paper

import (
	"slices"
	"strings"

	"doorwright/draw"
	"doorwright/job"
	"doorwright/record"
)

func feeds(s *job.Supply, d *job.Door) bool { return slices.Contains(record.SuppliesOf(d), s) }

// servedBy names the doors that hang on a supply; a count when they are many.
func (w *Work) servedBy(s *job.Supply) string {
	var all []string
	for _, d := range w.Job.Doors {
		if feeds(s, d) {
			all = append(all, d.ID)
		}
	}
	if len(all) > 6 {
		return counted(len(all), "door")
	}
	return strings.Join(all, ", ")
}

// sheetsOf lays labels on sheets, row by row.
func sheetsOf(s Stock, all []label) []*draw.Sheet {
	var pages []*draw.Sheet
	each := s.Columns * s.Rows
	for i, l := range all {
		if i%each == 0 {
			pages = append(pages, &draw.Sheet{Title: "Labels", Width: s.Page.Width, Height: s.Page.Height})
		}
		x := s.Left + s.Across*draw.MM(i%each%s.Columns)
		y := s.Top + s.Down*draw.MM(i%each/s.Columns)
		page := pages[len(pages)-1]
		page.Items = append(page.Items, labelItems(l, draw.Box{Left: x, Top: y, Right: x + s.Wide, Bottom: y +
			s.High})...)
	}
	return pages
}

// tapeOf gives each label a page of its own, as long as its text.
func tapeOf(s Stock, all []label) []*draw.Sheet {
	var pages []*draw.Sheet
	for _, l := range all {
		tag, line := tapeSizes(s, l)
		wide := measure(l.tag, tag, true)
		for _, t := range l.lines {
			wide = max(wide, measure(t, line, false))
		}
		times := draw.MM(1)
		if l.wrap {
			times = 2
		}
		page := &draw.Sheet{Title: l.tag, Width: times*(wide+4) + 2, Height: s.High}
		for i := range int(times) {
			x := 1 + draw.MM(i)*(wide+4)
			page.Items = append(page.Items, block(l, draw.Point{X: x + 2, Y: (s.High - blockOf(l, tag, line)) / 2},
				wide, tag, line)...)
		}
		pages = append(pages, page)
	}
	return pages
}

// tapeSizes are the sizes of type that fill the width of a tape, no larger than is of use.
func tapeSizes(s Stock, l label) (tag, line draw.MM) {
	room := s.High - 1.4
	unit := room / (1.25 + draw.MM(len(l.lines))*lineShare*leading)
	tag = min(unit, 5)
	return tag, tag * lineShare
}

func blockOf(l label, tag, line draw.MM) draw.MM {
	return tag*1.25 + draw.MM(len(l.lines))*line*leading
}

// labelItems set a label in a box, in the largest type that fits; the text of one that goes round a cable stands twice.
func labelItems(l label, b draw.Box) []draw.Item {
	const pad draw.MM = 1.5
	b = b.Grown(-pad)
	times := 1
	if l.wrap {
		times = 2
	}
	high := b.Height()/draw.MM(times) - 0.3
	l, tag := l.fitting(b.Width(), high)
	var all []draw.Item
	for i := range times {
		top := b.Top + b.Height()/draw.MM(times)*draw.MM(i) + (high-blockOf(l, tag, tag*lineShare))/2
		all = append(all, block(l, draw.Point{X: b.Left, Y: top}, b.Width(), tag, tag*lineShare)...)
	}
	return all
}

const (
	mostType  draw.MM = 6.5  // the largest tag on a label
	leastType draw.MM = 1.8  // the smallest
	lineShare draw.MM = 0.72 // of the tag, for the lines below it
)

// fitting breaks the lines of a label, and finds the largest size of its tag with which all fits.
func (l label) fitting(wide, high draw.MM) (label, draw.MM) {
	if l.wrap { // as wide as can be, since it stands there twice
		l.lines = []string{strings.Join(l.lines, " · ")}
	}
	for tag := mostType; tag > leastType; tag -= 0.2 {
		broken := label{tag: l.tag, wrap: l.wrap}
		for _, t := range l.lines {
			for _, line := range wrapped(t, wide, tag*lineShare, false) {
				broken.lines = append(broken.lines, strings.Trim(line, " ·"))
			}
		}
		if measure(l.tag, tag, true) <= wide && blockOf(broken, tag, tag*lineShare) <= high {
			return broken, tag
		}
	}
	return l, min(leastType, high/blockOf(l, 1, lineShare))
}

// block sets the tag and its lines from a point downwards; what is too wide is cut short.
func block(l label, at draw.Point, wide, tag, line draw.MM) []draw.Item {
	y := at.Y + tag
	all := []draw.Item{draw.Text{
		At: draw.Point{X: at.X, Y: y}, Size: tag, Bold: true, Text: shortened(l.tag, wide+hair, tag, true),
	}}
	y += tag * 0.25
	for _, t := range l.lines {
		all = append(all, draw.Text{At: draw.Point{X: at.X, Y: y + line}, Size: line, Text: shortened(t, wide+hair, line, false)})
		y += line * leading
	}
	return all
}
