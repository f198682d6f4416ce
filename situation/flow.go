package situation

import (
	"doorwright/device"
	"doorwright/unit"
	"doorwright/wiring"
)

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

// OhmsBetween is the small-signal resistance between two pins of a unit now: what an ohmmeter shows there when all
// sources are off, and what a load between them works against when they are on.
func (b *Bench) OhmsBetween(u *Unit, pin, against string) unit.Ohm {
	from, ok := b.net.Find(u.Device.ID + "." + pin)
	to, ok2 := b.net.Find(u.Device.ID + "." + against)
	if !ok || !ok2 {
		return 0
	}
	b.present()
	return b.sys.Impedance(from, to)
}

// CellVolts is the voltage of a lead-acid cell under a small load, full and at the end of its discharge.
func CellVolts() (full, end unit.Volt) { return cellFull, cellEnd }

// SetCells gives every cell of a battery this voltage behind its resistance and settles. It stays until it is set
// again; a Step that makes batteries flat, and going back over one, set all batteries anew.
func (b *Bench) SetCells(battery *Unit, each unit.Volt) {
	for _, p := range battery.parts {
		if p.part.Is == device.PartBattery {
			b.net.SetVolts(p.element, unit.Volt(p.part.Cells)*each)
		}
	}
	b.load()
	b.settle()
}

// Stretch makes the copper of every run that is not pulled yet longer or shorter than its length by a factor, and
// settles. A second call counts from the length again, not from the first call.
func (b *Bench) Stretch(factor float64) {
	const ends = 2 * wiring.TerminationOhms
	for _, w := range b.island.wires {
		c := w.Conductor
		if c.Kind != wiring.Core || c.Run.Pulled > 0 {
			continue
		}
		b.net.SetOhms(w.element, (conductorOhms(c, b.Case)-ends)*unit.Ohm(factor)+ends)
	}
	b.load()
	b.settle()
}
