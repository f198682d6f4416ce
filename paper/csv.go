package paper

import (
	"bytes"
	"encoding/csv"
	"strconv"
)

// CSV writes the schedule with all its columns; figures in full, in the unit of the heading.
func (s Schedule) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	var head []string
	for _, c := range s.Columns {
		head = append(head, c.Head())
	}
	w.Write(head) //nolint:errcheck // a buffer takes everything
	for _, r := range s.Rows {
		var cells []string
		for _, x := range r {
			text := x.Text
			if x.Is {
				text = strconv.FormatFloat(x.Number, 'g', 10, 64)
			}
			cells = append(cells, text)
		}
		w.Write(cells) //nolint:errcheck // a buffer takes everything
	}
	w.Flush()
	return b.Bytes()
}
