package situation

import (
	"doorwright/circuit"
	"doorwright/fault"
)

// SizeSway is what one deviation of the size of a bad joint or a leak does to the voltage between the nodes of a response, in V; ohms
// says that the response is that of a dead network, with the fault in it, and its own resistance is meant, in ohm. Faults that have
// no size do nothing.
func (b *Bench) SizeSway(k *Knobs, f *fault.Fault, r *circuit.Response, ohms bool) KnobSway {
	sum := 0.0
	if f.AnySize() {
		for i := range f.Edits {
			e := &f.Edits[i]
			x, y, ok := b.ends(e)
			if !ok {
				continue
			}
			far := float64(Behind(r, x, y))
			if ohms {
				sum += far * far / float64(e.Ohms)
			} else {
				sum += far * float64(b.Between(x, y)) / float64(e.Ohms)
			}
		}
	}
	return KnobSway{int32(k.Size), float32(sum * k.All[k.Size].Share)}
}

// ends are those of what has the resistance of an edit; false where it is out of sight, or off at the bench for another reason.
func (b *Bench) ends(e *fault.Edit) (x, y Tap, ok bool) {
	switch e.Op {
	case fault.Resist:
		w := b.island.wireOf(e.Conductor.ID)
		if w == nil || b.cutAlready(w) {
			return x, y, false
		}
		p, q := b.net.Ends(w.element)
		x, y = Tap{p, true}, Tap{q, true}
	case fault.Join:
		x, y = b.Tap(e.A), b.Tap(e.B)
	default:
		return x, y, false
	}
	return x, y, x.ok && y.ok && !b.Deaf(x) && !b.Deaf(y)
}
