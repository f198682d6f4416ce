package fault

import "slices"

// Both is two faults at once. It is at the place of the first.
func Both(a, b *Fault) *Fault {
	return &Fault{
		ID: a.ID + "," + b.ID, Class: a.Class, Door: a.Door, Place: a.Place,
		Name: a.Name + ", and " + b.Name, Where: a.Where + "; " + b.Where, Repair: a.Repair + " " + b.Repair,
		Edits: slices.Concat(a.Edits, b.Edits), At: slices.Concat(a.At, b.At), Of: slices.Concat(a.Of, b.Of),
	}
}
