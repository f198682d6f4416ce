package paper

import (
	"slices"
	"strings"

	"doorwright/draw"
)

// table is rows under headings. The columns are as wide as what stands in them; where that is too much, each
// gives way by its share. It breaks over pages between rows, and the headings stand again on each page.
type table struct {
	columns []column
	rows    []tableRow
	size    draw.MM // of the type; 0 is body
	plain   bool    // no headings and no rules
	sparse  bool    // a column in which nothing stands is left out
}

// column is one column.
type column struct {
	title string
	least draw.MM // no narrower than this: room to write in
	most  draw.MM // no wider than this; 0 for no limit
	right bool    // figures, flush right
	boxed bool    // a box to write in
}

// tableRow is one row, or a heading across all columns when it has but one cell.
type tableRow struct {
	cells []string
	bold  bool
	band  bool // a heading across the table
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, tableRow{cells: cells}) }

// part begins a part of the table.
func (t *table) part(text string) {
	t.rows = append(t.rows, tableRow{cells: []string{text}, bold: true, band: true})
}

const (
	padX draw.MM = 0.9
	hair draw.MM = 0.01 // what rounding may take from a column
	padY draw.MM = 0.25
)

// table writes a table.
func (w *flow) table(t table) {
	if len(t.rows) == 0 {
		return
	}
	t = t.sized()
	widths := t.fit(w.width())
	w.gap(0.8)
	high := t.headHigh(widths)
	w.room(high + t.rowHigh(t.rows[0], widths) + 4)
	w.columnHeads(t, widths)
	for i, r := range t.rows {
		need := t.rowHigh(r, widths)
		if r.band && i+1 < len(t.rows) {
			need += t.rowHigh(t.rows[i+1], widths)
		}
		if w.left() < need && w.at > w.area.Top+high+1 {
			w.turn()
			w.columnHeads(t, widths)
			if over := t.partOf(i); over != "" && !r.band {
				w.tableRow(t, tableRow{cells: []string{over + " (continued)"}, bold: true, band: true}, widths)
			}
		}
		w.tableRow(t, r, widths)
	}
	w.at += 0.6
}

// sized is the table with the size of its type, and without the columns that are to be left out.
func (t table) sized() table {
	if t.size == 0 {
		t.size = body
	}
	if t.sparse {
		for i := len(t.columns) - 1; i >= 0; i-- {
			if !slices.ContainsFunc(t.rows, func(r tableRow) bool { return !r.band && r.cells[i] != "" }) {
				t = t.without(i)
			}
		}
	}
	return t
}

// without is the table without a column.
func (t table) without(i int) table {
	t.columns = slices.Delete(slices.Clone(t.columns), i, i+1)
	t.rows = slices.Clone(t.rows)
	for k, r := range t.rows {
		if !r.band {
			t.rows[k].cells = slices.Delete(slices.Clone(r.cells), i, i+1)
		}
	}
	return t
}

// partOf is the heading of the part that row i stands in.
func (t table) partOf(i int) string {
	for ; i >= 0; i-- {
		if t.rows[i].band {
			return t.rows[i].cells[0]
		}
	}
	return ""
}

func (t table) lines(text string, wide draw.MM, bold bool) []string {
	if text == "" {
		return nil
	}
	return wrapped(text, wide-2*padX+hair, t.size, bold || marked(text))
}

func (t table) headHigh(widths []draw.MM) draw.MM {
	if t.plain {
		return 0
	}
	n := 0
	for i, c := range t.columns {
		n = max(n, len(t.lines(c.title, widths[i], true)))
	}
	return draw.MM(n)*t.size*leading + 2*padY
}

// padY is the room above and below the text of a row.
func (t table) padY() draw.MM {
	if t.plain {
		return padY / 3
	}
	return padY
}

func (t table) rowHigh(r tableRow, widths []draw.MM) draw.MM {
	n := 1
	if r.band {
		n = len(t.lines(r.cells[0], sum(widths), true))
	} else {
		for i, c := range r.cells {
			if prompt, open := strings.CutPrefix(c, markPrompt); open {
				n = max(n, len(promptLines(prompt, widths[i])))
			} else {
				n = max(n, len(t.lines(c, widths[i], r.bold)))
			}
		}
	}
	return draw.MM(n)*t.size*leading + 2*t.padY()
}

func (w *flow) columnHeads(t table, widths []draw.MM) {
	if t.plain {
		return
	}
	high := t.headHigh(widths)
	w.put(draw.Rect{Fill: draw.Shade, At: draw.Point{X: w.area.Left, Y: w.at}, Width: sum(widths), Height: high})
	x := w.area.Left
	for i, c := range t.columns {
		w.cell(t, x, w.at, widths[i], t.lines(c.title, widths[i], true), true, c.right)
		x += widths[i]
	}
	w.at += high
	w.put(draw.Line{Stroke: thin, Points: []draw.Point{{X: w.area.Left, Y: w.at}, {X: x, Y: w.at}}})
}

func (w *flow) tableRow(t table, r tableRow, widths []draw.MM) {
	high := t.rowHigh(r, widths)
	x := w.area.Left
	if r.band {
		w.cell(t, x, w.at, sum(widths), t.lines(r.cells[0], sum(widths), true), true, false)
	} else {
		for i, c := range r.cells {
			if prompt, open := strings.CutPrefix(c, markPrompt); t.columns[i].boxed && (c == "" || open) {
				w.box(draw.Point{X: x, Y: w.at}, widths[i], high, prompt)
				c = ""
			}
			w.cell(t, x, w.at, widths[i], t.lines(c, widths[i], r.bold), r.bold || marked(c), t.columns[i].right)
			x += widths[i]
		}
	}
	w.at += high
	if t.plain {
		return
	}
	w.put(draw.Line{Stroke: faint, Points: []draw.Point{
		{X: w.area.Left, Y: w.at},
		{X: w.area.Left + sum(widths), Y: w.at},
	}})
}

// markPrompt begins a cell that is a box to write in: what follows says what belongs there.
const markPrompt = "?"

// box is a box to write in, with what belongs there in its corner.
func (w *flow) box(at draw.Point, wide, high draw.MM, prompt string) {
	w.put(draw.Rect{Stroke: faint, At: draw.Point{X: at.X + 0.4, Y: at.Y + 0.3}, Width: wide - 0.8, Height: high - 0.6})
	lines := promptLines(prompt, wide)
	for i, l := range lines {
		above := draw.MM(len(lines)-1-i) * small * leading
		w.put(draw.Text{
			At: draw.Point{X: at.X + wide - 1, Y: at.Y + high - 0.9 - above}, Size: small, Anchor: draw.Right, Ink: draw.Grey, Text: l,
		})
	}
}

// promptLines are the lines in which a box says what belongs there.
func promptLines(prompt string, wide draw.MM) []string {
	if prompt == "" {
		return nil
	}
	return wrapped(prompt, wide-2, small, false)
}

func (w *flow) cell(t table, x, y, wide draw.MM, lines []string, bold, right bool) {
	for i, l := range lines {
		at := draw.Text{
			At: draw.Point{X: x + padX, Y: y + t.padY() +
				t.size*(0.98+draw.MM(i)*leading)}, Size: t.size, Bold: bold, Text: l,
		}
		if right {
			at.At.X, at.Anchor = x+wide-padX, draw.Right
		}
		w.put(at)
	}
}

// marked says that a text begins with the mark of what somebody did on site: it stands out by its weight as well.
func marked(text string) bool {
	for _, m := range []string{markMeasured, markWitnessed, markLife, markFail} {
		if strings.HasPrefix(text, m) {
			return true
		}
	}
	return false
}

// fit gives the columns their widths, which fill the whole width.
func (t table) fit(total draw.MM) []draw.MM {
	wide, least := make([]draw.MM, len(t.columns)), make([]draw.MM, len(t.columns))
	for i, c := range t.columns {
		wide[i] = max(measure(c.title, t.size, true), c.least)
		least[i] = max(longest(c.title, t.size, true), c.least)
	}
	for _, r := range t.rows {
		if r.band {
			continue
		}
		for i, c := range r.cells {
			if strings.HasPrefix(c, markPrompt) {
				continue
			}
			bold := r.bold || marked(c)
			wide[i] = max(wide[i], measure(c, t.size, bold))
			least[i] = max(least[i], min(longest(c, t.size, bold), total/4))
		}
	}
	for i, c := range t.columns {
		if c.most > 0 {
			wide[i] = min(wide[i], max(c.most, least[i]))
		}
		wide[i], least[i] = wide[i]+2*padX, min(least[i], wide[i])+2*padX
	}
	squeeze(wide, least, total)
	t.stretch(wide, total)
	return wide
}

// squeeze makes columns narrower until all fit. Short columns are left alone as long as there is room for the others;
// each keeps its longest word, and what is left is shared out in the measure of what each would like beyond that. Where
// even the longest words are too much, all give way alike.
func squeeze(wide, least []draw.MM, total draw.MM) {
	if sum(wide) <= total {
		return
	}
	wanted := slices.Clone(wide)
	for i := range wide {
		wide[i] = min(wide[i], max(0.5*total, least[i])) // a very long text says nothing of how much it needs
	}
	if rest := total - sum(wide); rest >= 0 {
		lack := sum(wanted) - sum(wide)
		for i := range wide {
			wide[i] += (wanted[i] - wide[i]) * rest / lack
		}
		return
	}
	for _, short := range []draw.MM{34, 24, 16, 0} {
		floor, want := floors(wide, least, short)
		rest := total - sum(floor)
		if rest < 0 || rest < min(0.35*want, 0.3*total) && short > 0 {
			continue
		}
		for i := range wide {
			if floor[i] < wide[i] {
				wide[i] = floor[i] + (wide[i]-floor[i])*min(1, rest/want)
			}
		}
		return
	}
	for i := range wide {
		wide[i] = least[i] * total / sum(least)
	}
}

// floors are how narrow each column may become when those that are short stay as they are, and what all of them would
// like beyond that.
func floors(wide, least []draw.MM, short draw.MM) (floor []draw.MM, want draw.MM) {
	for i, w := range wide {
		if w > short {
			floor = append(floor, least[i])
			want += w - least[i]
			continue
		}
		floor = append(floor, w)
	}
	return floor, want
}

// stretch spreads what is left over: half of it to the boxes to write in, where there are any, the rest to all columns
// of
// text in the measure of their widths.
func (t table) stretch(wide []draw.MM, total draw.MM) {
	rest := total - sum(wide)
	if rest <= 0 {
		return
	}
	boxes, text := 0, draw.MM(0)
	for i, c := range t.columns {
		if c.boxed {
			boxes++
		} else if !c.right {
			text += wide[i]
		}
	}
	each := draw.MM(0)
	if boxes > 0 {
		each = min(rest/2/draw.MM(boxes), 14)
	}
	rest -= each * draw.MM(boxes)
	for i, c := range t.columns {
		switch {
		case c.boxed:
			wide[i] += each
		case !c.right && text > 0:
			wide[i] += rest * wide[i] / text
		}
	}
}

func sum(all []draw.MM) draw.MM {
	var total draw.MM
	for _, v := range all {
		total += v
	}
	return total
}
