package meter

import (
	"math"

	"doorwright/circuit"
	"doorwright/situation"
)

// deadStop is a condition without power: a network in which nothing turns and nothing bends but diodes, so that a fault
// is a few changes of conductance and every reading follows from responses found once.
type deadStop struct {
	book      *Book
	stop      *Stop
	bench     *situation.Bench
	response  []*circuit.Response // of each pair of the stop
	ohms      []float64           // of each pair of the stop, sound
	junctions []junction
}

// junction is a diode of a dead network, with the response to a current through its own two ends.
type junction struct {
	situation.Junction
	own *circuit.Response
}

func (b *Book) deadAt(s *Stop) *deadStop {
	bench, err := At(b.site, b.Door, s.In, nil)
	if err != nil {
		return nil
	}
	d := &deadStop{book: b, stop: s, bench: bench}
	for _, j := range bench.Junctions() {
		own := &circuit.Response{}
		bench.Respond(own, j.Anode, j.Cathode)
		d.junctions = append(d.junctions, junction{j, own})
	}
	for k := s.From; k < s.To; k++ {
		r := &circuit.Response{}
		bench.Respond(r, b.at[k].at, b.at[k].to)
		d.response = append(d.response, r)
		d.ohms = append(d.ohms, float64(situation.Behind(r, b.at[k].at, b.at[k].to)))
	}
	return d
}

// take reads all pairs of the stop with the fault of a row.
func (d *deadStop) take(row *Row, work *situation.SwayWork) {
	b, s := d.book, d.stop
	c := d.changed(row)
	for k := s.From; k < s.To; k++ {
		i := k - s.From
		z, moved := d.ohms[i], false
		if c != nil {
			z, moved = c.ohms(d.response[i], z)
		}
		if !moved && b.Sound != nil {
			row.Shown[k] = b.Sound.Shown[k]
			continue
		}
		r := d.response[i]
		var changes []situation.Change
		if moved {
			r, changes = c.response(r), c.list
		}
		row.Shown[k].Value = d.shows(k, z, r, c)
		if z < ghostly {
			row.Sways[k] = d.bench.Sways(b.Knobs, row.Fault, r, true, changes, work)
			if size := d.bench.SizeSway(b.Knobs, row.Fault, r, true, changes); moved && size.By != 0 {
				row.Sways[k] = append(row.Sways[k], size)
			}
			d.asShown(row.Sways[k], k, z, r, c)
		}
	}
}

// asShown turns sways of the resistance of a pair into sways of what the meter shows: the same on the ohm range, volts on the
// diode range, less where a diode takes its share, and nothing over range.
func (d *deadStop) asShown(sways []situation.KnobSway, k int, z float64, r *circuit.Response, c *changes) {
	const part = 1e-4
	slope := (d.shows(k, z*(1+part), r, c) - d.shows(k, z, r, c)) / (z * part)
	if !(math.Abs(slope) < 1.01) { // over range, or a diode turns over just there
		slope = 0
	}
	for i := range sways {
		sways[i].By *= float32(slope)
	}
}

// shows is what the meter shows at a pair of which the small-signal resistance is z: that, or where a diode would
// conduct under the meter's own voltage, what follows from its law. The response is with the changes, nil for none.
func (d *deadStop) shows(k int, z float64, r *circuit.Response, c *changes) float64 {
	m, q := d.book.Meter, d.book.Pairs[k].Quantity
	for _, j := range d.junctions {
		share := float64(situation.Behind(r, j.Anode, j.Cathode)) / z
		if open := float64(m.openVolts(q)); share > 0 && share*open > conducting && z > diodeShows {
			own := j.own
			if c != nil {
				own = c.response(own)
			}
			return m.throughDiode(q, z, share, float64(situation.Behind(own, j.Anode, j.Cathode)))
		}
	}
	return m.showsOhms(q, z)
}

// conducting is the voltage over a diode from which it changes a reading; a diode at 0.15 V passes a tenth of a
// microampere. diodeShows is the resistance below which no meter's current brings a diode that far (1 mA times it).
const (
	conducting = 0.15
	diodeShows = 150
)

// changes are the changes of a fault, with what they do to each other.
type changes struct {
	list  []situation.Change
	z     []*circuit.Response // of each change
	small []float64           // inverse of (1 + G Z), times G
}

// changed finds what the fault of a row changes at the stop; nil for nothing.
func (d *deadStop) changed(row *Row) *changes {
	f := row.Fault
	if f == nil {
		return nil
	}
	g := Under(f, d.stop.In, nil)
	list := d.bench.Changes(g)
	reached := false
	for _, r := range d.response {
		for _, c := range list {
			reached = reached || math.Abs(float64(situation.Behind(r, c.A, c.B))) > unheard
		}
	}
	if !reached {
		return nil
	}
	c := &changes{list: list}
	for _, x := range list {
		r := &circuit.Response{}
		d.bench.Respond(r, x.A, x.B)
		c.z = append(c.z, r)
	}
	c.invert()
	return c
}

// unheard is the response, in ohm, below which a change is not heard at a pair: even what a cut of 0.1 milliohm makes of
// it stays below a milliohm.
const unheard = 1e-8

// invert finds the small matrix by Gauss and Jordan.
func (c *changes) invert() {
	n := len(c.list)
	w := 2 * n
	x := make([]float64, n*w)
	for i, a := range c.list {
		for k := range c.list {
			x[i*w+k] = a.Siemens * float64(situation.Behind(c.z[k], a.A, a.B))
		}
		x[i*w+i]++
		x[i*w+n+i] = a.Siemens
	}
	for p := range n {
		best := p
		for i := p + 1; i < n; i++ {
			if math.Abs(x[i*w+p]) > math.Abs(x[best*w+p]) {
				best = i
			}
		}
		for k := range w {
			x[p*w+k], x[best*w+k] = x[best*w+k], x[p*w+k]
		}
		pivot := x[p*w+p]
		if math.Abs(pivot) < leastPivot {
			pivot = math.Copysign(leastPivot, pivot)
		}
		for k := range w {
			x[p*w+k] /= pivot
		}
		for i := range n {
			if f := x[i*w+p]; i != p && f != 0 {
				for k := range w {
					x[i*w+k] -= f * x[p*w+k]
				}
			}
		}
	}
	c.small = make([]float64, n*n)
	for i := range n {
		copy(c.small[i*n:(i+1)*n], x[i*w+n:(i+1)*w])
	}
}

// leastPivot keeps a cut that leaves nothing but leaks from dividing by the rounding of 1 - 1.
const leastPivot = 1e-13

// ohms is the resistance of a pair with the changes, and whether it moved.
func (c *changes) ohms(r *circuit.Response, z float64) (float64, bool) {
	n := len(c.list)
	less := 0.0
	for i := range n {
		u := float64(situation.Behind(r, c.list[i].A, c.list[i].B))
		for k := range n {
			less += u * c.small[i*n+k] * float64(situation.Behind(r, c.list[k].A, c.list[k].B))
		}
	}
	after := max(z-less, 0)
	return after, math.Abs(after-z) > 1e-3+5e-4*min(z, after)
}

// response is the response of a pair with the changes.
func (c *changes) response(r *circuit.Response) *circuit.Response {
	n := len(c.list)
	out := &circuit.Response{}
	out.Take(r)
	for i := range n {
		j := 0.0
		for k := range n {
			j += c.small[i*n+k] * float64(situation.Behind(r, c.list[k].A, c.list[k].B))
		}
		out.Add(c.z[i], -j)
	}
	return out
}
