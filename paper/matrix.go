package paper

import (
	"fmt"
	"slices"

	"doorwright/proof"
)

// doorsAcross is how many doors stand side by side in the matrix.
const doorsAcross = 5

// matrix is the cause-and-effect matrix with places to sign.
func (w *Work) matrix(f *flow) {
	f.fresh()
	f.head("Cause-and-effect matrix")
	f.say(`What each door does in the course of each cause, calculated. "released, then held" is one after the other; "!" says that ` +
		`the controller raises an alarm; "differs" that limit cases come to different ends; "restless" that something keeps ` +
		`restarting (see the findings); "-" that the cause cannot happen there.`)
	for _, c := range []struct{ with, title string }{
		{"", "Alone"}, {"fire", "While a fire signal is there"}, {
			"release",
			"While the manual release of the door stands operated",
		},
	} {
		doors := slices.DeleteFunc(slices.Clone(w.Examination.Doors), func(d proof.DoorResult) bool {
			return !slices.ContainsFunc(d.Matrix, func(r proof.Row) bool { return r.With == c.with })
		})
		for from := 0; from < len(doors); from += doorsAcross {
			to := min(from+doorsAcross, len(doors))
			name := c.title
			if len(doors) > doorsAcross {
				name += fmt.Sprintf(": doors %d to %d of %d", from+1, to, len(doors))
			}
			w.matrixBlock(f, c.with, name, doors[from:to])
		}
	}
	f.sub("Agreed")
	f.signatures([]string{"Fire", "Security", "Client"})
}

func (w *Work) matrixBlock(f *flow, with, name string, doors []proof.DoorResult) {
	t := table{columns: []column{{title: "cause", least: 30}}}
	cells := map[string][]string{}
	var order []string
	for i, d := range doors {
		t.columns = append(t.columns, column{title: d.Door.ID, least: 20})
		for _, r := range d.Matrix {
			if r.With != with {
				continue
			}
			if cells[r.Title] == nil {
				order = append(order, r.Title)
				cells[r.Title] = make([]string, len(doors))
			}
			cells[r.Title][i] = says(r)
		}
	}
	for _, cause := range order {
		row := []string{cause}
		for _, c := range cells[cause] {
			if c == "" {
				c = "-"
			}
			row = append(row, c)
		}
		t.add(row...)
	}
	if len(t.rows) > 0 {
		f.sub(name)
		f.table(t)
	}
}

func says(r proof.Row) string {
	if r.Alarm != "" {
		return r.Says + " !"
	}
	return r.Says
}
