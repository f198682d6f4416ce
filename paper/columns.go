package paper

import "doorwright/draw"

// columnGap is the room between the columns of a table that is set in several.
const columnGap draw.MM = 4

// columns writes a table in several columns beside each other, each with its headings. They are as low as they can be,
// so that what follows comes close; one that is too high for the page goes on in the next.
func (w *flow) columns(t table, n int) {
	if len(t.rows) == 0 {
		return
	}
	t = t.sized()
	wide := (w.width() - columnGap*draw.MM(n-1)) / draw.MM(n)
	widths := t.fit(wide)
	w.gap(0.8)
	w.room(t.headHigh(widths) + 8)
	for rows := t.rows; len(rows) > 0; {
		high := t.lowest(rows, widths, n, w.left())
		cols, rest := t.dealt(rows, widths, n, high)
		if len(rest) == len(rows) { // not one row fits: this page is full
			w.turn()
			continue
		}
		w.beside(t, cols, widths, wide)
		if rows = rest; len(rows) > 0 {
			w.turn()
		}
	}
	w.at += 0.6
}

// beside writes the columns of a table from the present height on.
func (w *flow) beside(t table, cols [][]tableRow, widths []draw.MM, wide draw.MM) {
	top, low, area := w.at, w.at, w.area
	for i, rows := range cols {
		if len(rows) == 0 {
			continue
		}
		w.at, w.area.Left = top, area.Left+draw.MM(i)*(wide+columnGap)
		w.columnHeads(t, widths)
		for _, r := range rows {
			w.tableRow(t, r, widths)
		}
		low = max(low, w.at)
	}
	w.at, w.area = low, area
}

// lowest is the least height of columns that hold all rows; the room where none does.
func (t table) lowest(rows []tableRow, widths []draw.MM, n int, room draw.MM) draw.MM {
	if _, rest := t.dealt(rows, widths, n, room); len(rest) > 0 {
		return room
	}
	low, high := draw.MM(0), room
	for range 12 { // to a hundredth of a millimetre or two
		middle := (low + high) / 2
		if _, rest := t.dealt(rows, widths, n, middle); len(rest) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// dealt puts rows into columns of a height, and says which are left. The heading of a part stands on the column of its
// first row, and again where the part goes on in another column.
func (t table) dealt(rows []tableRow, widths []draw.MM, n int, high draw.MM) (cols [][]tableRow, rest []tableRow) {
	part := tableRow{}
	for range n {
		var col []tableRow
		at := t.headHigh(widths)
		if part.band && len(rows) > 0 && !rows[0].band {
			col = append(col, part)
			at += t.rowHigh(part, widths)
		}
		took := 0
		for len(rows) > took {
			r := rows[took]
			need := t.rowHigh(r, widths)
			if r.band && len(rows) > took+1 {
				need += t.rowHigh(rows[took+1], widths)
			}
			if at+need > high {
				break
			}
			at += t.rowHigh(r, widths)
			col = append(col, r)
			took++
			if r.band {
				part = again(r)
			}
		}
		if took == 0 {
			col = nil
		}
		cols, rows = append(cols, col), rows[took:]
	}
	if len(rows) > 0 && part.band && !rows[0].band {
		// The rest is dealt anew: the heading goes with it, unless nothing was taken.
		if cols[0] != nil {
			rows = append([]tableRow{part}, rows...)
		}
	}
	return cols, rows
}

// again is the heading of a part that goes on.
func again(r tableRow) tableRow {
	const more = " (continued)"
	if n := len(r.cells[0]); n > len(more) && r.cells[0][n-len(more):] == more {
		return r
	}
	r.cells = []string{r.cells[0] + more}
	return r
}
