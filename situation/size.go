package situation

import (
	"doorwright/circuit"
	"doorwright/fault"
)

// SizeSway is what one deviation of the size of a fault does to the voltage between the nodes of a response, in V; ohms says that the
// response is that of a dead network, with the fault in it, and its own resistance is meant, in ohm. A fault that has no size does
// nothing.
func (b *Bench) SizeSway(k *Knobs, f *fault.Fault, r *circuit.Response, ohms bool, changes []Change) KnobSway {
	sum := 0.0
	if f == nil || f.Spread == 0 {
		return KnobSway{}
	}
	for i := range f.Edits {
		if f.Edits[i].Op == fault.Scale {
			sum += b.swayOfPart(&f.Edits[i], r, ohms, changes)
		} else {
			sum += b.swayOfOhms(&f.Edits[i], r, ohms)
		}
	}
	return KnobSway{int32(k.Size), float32(f.Spread * sum)}
}

// swayOfOhms is what the resistance of an edit does when it changes by a share of itself.
func (b *Bench) swayOfOhms(e *fault.Edit, r *circuit.Response, ohms bool) float64 {
	var x, y Tap
	if e.Op == fault.Resist {
		w := b.island.wireOf(e.Conductor.ID)
		if w == nil || b.cutAlready(w) {
			return 0
		}
		p, q := b.net.Ends(w.element)
		x, y = Tap{p, true}, Tap{q, true}
	} else {
		x, y = b.Tap(e.A), b.Tap(e.B)
	}
	if !x.ok || !y.ok || b.Deaf(x) || b.Deaf(y) {
		return 0
	}
	far := float64(Behind(r, x, y))
	if ohms {
		return far * far / float64(e.Ohms)
	}
	return far * float64(b.Between(x, y)) / float64(e.Ohms)
}

// swayOfPart is what a scaled part does when it changes by a share of itself.
func (b *Bench) swayOfPart(e *fault.Edit, r *circuit.Response, ohms bool, changes []Change) float64 {
	p, ok := b.island.partAt(e.Device.ID, e.Part)
	if !ok {
		return 0
	}
	if x, y := b.net.Ends(p.element); b.Deaf(Tap{x, true}) || b.Deaf(Tap{y, true}) {
		return 0
	}
	if ohms {
		return float64(b.sys.SwayOhms(p.element, r)) * timesOf(p.element, changes)
	}
	sway := b.sys.Sway(p.element, r)
	if sway.Strength != 0 { // Scale is of the voltage where there is one
		return float64(sway.Strength)
	}
	return float64(sway.Ohms)
}
