package situation

import (
	"doorwright/circuit"
	"doorwright/device"
	"doorwright/fault"
)

// Change is a conductance that a fault adds between two taps of a dead network, or takes from it.
type Change struct {
	A, B    Tap
	Siemens float64
	of      *scaled // the element it is a change of; nil for what is joined anew
}

// scaled is an element that is not what it was: its conductance is so many times the sound one.
type scaled struct {
	element circuit.Element
	times   float64
}

// timesOf is how many times the sound conductance an element has with some changes.
func timesOf(e circuit.Element, changes []Change) float64 {
	for _, c := range changes {
		if c.of != nil && c.of.element == e {
			return c.of.times
		}
	}
	return 1
}

// Changes are what a fault makes of a dead network, in which nothing turns and nothing bends: every edit of it is then a
// change of conductance. What is off its wires at the bench stays as it is.
func (b *Bench) Changes(f *fault.Fault) []Change {
	var all []Change
	between := func(e circuit.Element, siemens float64) {
		x, y := b.net.Ends(e)
		sound := b.sys.Siemens(e)
		if by := siemens - sound; by != 0 && !b.sys.Forced(e) {
			all = append(all, Change{Tap{x, true}, Tap{y, true}, by, &scaled{e, siemens / sound}})
		}
	}
	for i := range f.Edits {
		e := &f.Edits[i]
		switch e.Op {
		case fault.Resist:
			if w := b.island.wireOf(e.Conductor.ID); w != nil && !b.cutAlready(w) {
				between(w.element, 1/max(float64(e.Ohms), circuit.LeastOhms))
			}
		case fault.Join:
			all = append(all, Change{A: b.Tap(e.A), B: b.Tap(e.B), Siemens: 1 / max(float64(e.Ohms), circuit.LeastOhms)})
		case fault.Gate:
			if p, ok := b.island.partAt(e.Device.ID, e.Part); ok && linear(p.part) {
				between(p.element, siemensOf(p.part, e.On))
			}
		case fault.Scale:
			if p, ok := b.island.partAt(e.Device.ID, e.Part); ok && p.part.Is == device.PartResistor {
				between(p.element, b.sys.Siemens(p.element)/e.Factor)
			}
		case fault.Force:
			if u := b.island.byID[e.Device.ID]; u != nil {
				for _, p := range u.parts {
					if on, moved := b.gatedBy(u, p.part, e); moved && linear(p.part) {
						between(p.element, siemensOf(p.part, on))
					}
				}
			}
		}
	}
	return all
}

// cutAlready says that a conductor is off at the bench for another reason than the fault.
func (b *Bench) cutAlready(w *Wire) bool {
	return b.sys.Siemens(w.element) <= 2/circuit.OpenOhms
}

// gatedBy says whether a part of a unit is on while a signal is held, and whether that signal moves it at all.
func (b *Bench) gatedBy(u *Unit, p device.Part, e *fault.Edit) (on, moved bool) {
	on = true
	for _, w := range p.When {
		if w.Signal == e.Signal {
			moved = true
			on = on && w.Is == e.On
			continue
		}
		on = on && w.Is == b.Signal(u, w.Signal)
	}
	return on, moved
}

// linear says that a part is a plain resistance while it is on.
func linear(p device.Part) bool {
	return p.Is == device.PartResistor || p.Is == device.PartContact || p.Is == device.PartSource || p.Is == device.PartBattery
}

func siemensOf(p device.Part, on bool) float64 {
	if !on {
		return 1 / circuit.OpenOhms
	}
	return 1 / max(float64(p.Ohms), circuit.LeastOhms)
}

// Ohms is the small-signal resistance between two taps now.
func (b *Bench) Ohms(at, to Tap) float64 {
	b.present()
	if l := b.local(); l != nil && l.Has(at.node) && l.Has(to.node) {
		return float64(l.Impedance(at.node, to.node))
	}
	return float64(b.sys.Impedance(at.node, to.node))
}

// Junction is a diode, by its two ends.
type Junction struct{ Anode, Cathode Tap }

// Junctions lists the diodes of an island that are on their wires at the bench.
func (b *Bench) Junctions() []Junction {
	var all []Junction
	for _, u := range b.island.Units {
		for _, p := range u.parts {
			if p.part.Is == device.PartDiode && !b.sys.Forced(p.element) {
				x, y := b.net.Ends(p.element)
				all = append(all, Junction{Tap{x, true}, Tap{y, true}})
			}
		}
	}
	return all
}

// JunctionAmps is the current of the diodes at a voltage, and its slope.
func JunctionAmps(v float64) (amps, siemens float64) { return rectifier.At(v) }
