package situation

import (
	"math"
	"slices"

	"doorwright/circuit"
	"doorwright/fault"
)

// KnobSway is how far a knob moves a voltage or a resistance at one standard deviation.
type KnobSway struct {
	Knob int32
	By   float32
}

// Shift is how far what is never less than the plan has moves the middle of what is swayed.
func (k *Knobs) Shift(sways []KnobSway) float64 {
	sum := 0.0
	for _, s := range sways {
		sum += float64(s.By) * k.All[s.Knob].Mean
	}
	return sum
}

// leastSway is what a sway must reach to be kept, as a share of the largest.
const leastSway = 0.02

// SwayWork is work space of Sways, kept from call to call: what moves something in the region that was solved last. Its zero
// value is ready for use.
type SwayWork struct {
	of     *Knobs
	region *circuit.Region // nil for the whole
	moves  []knobMove      // those of one element one after another
	knobs  []int32         // that these belong to, ascending
	share  []float64       // of each of these
	sums   []float64       // by knob
	found  []KnobSway
}

// fit makes the work space that of a region.
func (w *SwayWork) fit(k *Knobs, l *circuit.Local) {
	var region *circuit.Region
	if l != nil {
		region = l.Region()
	}
	if w.of == k && w.region == region {
		return
	}
	if w.of != k {
		w.sums = make([]float64, len(k.All))
	}
	w.of, w.region, w.moves, w.knobs, w.share = k, region, w.moves[:0], w.knobs[:0], w.share[:0]
	for _, m := range k.moves {
		if region == nil || region.Has(m.a) && region.Has(m.b) {
			w.moves, w.knobs = append(w.moves, m), append(w.knobs, int32(m.knob))
		}
	}
	slices.Sort(w.knobs)
	w.knobs = slices.Compact(w.knobs)
	for _, i := range w.knobs {
		w.share = append(w.share, k.All[i].Share)
	}
}

// Sways is what each knob does to the voltage between the nodes of a response, with a fault that is there, nil for none; ohms says
// that the response is that of a dead network and its own resistance is meant, with the changes that are in it.
func (b *Bench) Sways(k *Knobs, f *fault.Fault, r *circuit.Response, ohms bool, changes []Change, work *SwayWork) []KnobSway {
	work.fit(k, b.local())
	for _, i := range work.knobs {
		work.sums[i] = 0
	}
	resisted := f != nil && slices.ContainsFunc(f.Edits, func(e fault.Edit) bool { return e.Op == fault.Resist })
	var of elementSway
	for i := range work.moves {
		m := &work.moves[i]
		if i == 0 || m.element != work.moves[i-1].element {
			if ohms {
				of = b.swayOfDead(m.element, r, changes)
			} else {
				sway := b.sys.Sway(m.element, r)
				of = elementSway{float64(sway.Ohms), float64(sway.Strength), 1}
				if m.ohms > 0 && resisted {
					of.times = m.ohms * b.sys.Siemens(m.element)
				}
			}
		}
		by := of.ohms
		switch {
		case m.strength:
			by = of.strength
		case m.ohms > 0:
			by *= of.times
		}
		work.sums[m.knob] += by * m.weight
	}
	return work.kept()
}

// elementSway is what an element does by a share of its resistance and of what else it is known by. Times is how many times its planned
// conductance it has.
type elementSway struct{ ohms, strength, times float64 }

// swayOfDead is that of an element of a dead network with some changes; nothing there has any strength.
func (b *Bench) swayOfDead(e circuit.Element, r *circuit.Response, changes []Change) elementSway {
	times := timesOf(e, changes)
	return elementSway{ohms: float64(b.sys.SwayOhms(e, r)) * times, times: times}
}

// kept are the sways that matter beside the largest.
func (w *SwayWork) kept() []KnobSway {
	most := 0.0
	for n, i := range w.knobs {
		w.sums[i] *= w.share[n]
		if by := math.Abs(w.sums[i]); by > most { // not max: it minds NaN, and most of the time goes by here
			most = by
		}
	}
	least := leastSway * most
	w.found = w.found[:0]
	for _, i := range w.knobs {
		if by := w.sums[i]; by != 0 && math.Abs(by) >= least {
			w.found = append(w.found, KnobSway{i, float32(by)})
		}
	}
	all := make([]KnobSway, len(w.found), len(w.found)+1) // never nil: nil is as at the sound door; one more is the size
	copy(all, w.found)
	return all
}
