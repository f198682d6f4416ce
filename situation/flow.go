package situation

import "doorwright/unit"

// PartAmps is the current through a part of a unit ("cells.cells") from its first pin to its second. What a battery or
// a source gives is negative. False when the unit has no such part.
func (b *Bench) PartAmps(u *Unit, part string) (unit.Ampere, bool) {
	for _, p := range u.parts {
		if p.part.Name == part {
			return b.sys.Current(p.element), true
		}
	}
	return 0, false
}
