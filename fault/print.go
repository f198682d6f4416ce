package fault

import (
	"fmt"
	"io"
)

// Print writes everything there is of a fault, figures with every digit: it is the same for two faults that are the same,
// in whatever plans they are. W must not fail.
func (f *Fault) Print(w io.Writer) {
	fmt.Fprintf(w, "%s %s %s %q %q %q %q\n", f.ID, f.Class, f.Door, f.Name, f.Place, f.Where, f.Repair)
	for i := range f.Edits {
		f.Edits[i].print(w)
	}
	for _, c := range f.At {
		fmt.Fprintln(w, c.ID, c.Door)
	}
	for _, d := range f.Of {
		fmt.Fprintln(w, d.ID, d.Door)
	}
}

func (e *Edit) print(w io.Writer) {
	fmt.Fprintf(w, "%d %q %q %q %q ", e.Op, e.Part, e.Signal, e.A, e.B)
	fmt.Fprintln(w, float64(e.Ohms), float64(e.Volts), float64(e.Limit), e.Factor, e.On)
	if e.Conductor != nil {
		fmt.Fprintln(w, e.Conductor.ID)
	}
	if e.Device != nil {
		fmt.Fprintln(w, e.Device.ID)
	}
	if e.Settings != nil {
		fmt.Fprintf(w, "%#v\n", *e.Settings)
	}
}
