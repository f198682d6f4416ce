package circuit

import "doorwright/unit"

// Response is what a small current into one node and out of another does to every node: volts for each ampere. Since
// the matrix is symmetric, it is also how the voltage between those two nodes follows from a small current anywhere
// (the adjoint, Director and Rohrer 1969, from memory). Its zero value is ready for use; it keeps its work space.
type Response struct {
	a *Analysis
	z []float64 // by step; Earth, the last, stays 0
	j []float64
}

// Ohms is the response at a node.
func (r *Response) Ohms(v Node) unit.Ohm { return unit.Ohm(r.z[r.a.step(v)]) }

// begin makes room for a system and enters the unit current.
func (r *Response) begin(a *Analysis, into, outOf Node) {
	if r.a != a {
		r.a, r.z = a, make([]float64, a.n+1)
	}
	clear(r.z)
	r.z[a.step(into)]++
	r.z[a.step(outOf)]--
	r.z[a.n] = 0
}

// Respond finds the response at the last solution. After Solve only: the factors must be those of where it ended.
func (s *System) Respond(r *Response, into, outOf Node) {
	a, x := s.a, &s.x
	r.begin(a, into, outOf)
	z := r.z
	for k := range a.n {
		if c := z[k]; c != 0 {
			for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
				z[a.end[e]] += x.weight[e] * c
			}
		}
	}
	z[a.n] = 0
	for k := a.n - 1; k >= 0; k-- {
		v := z[k] * x.inv[k]
		for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
			v += x.weight[e] * z[a.end[e]]
		}
		z[k] = v
	}
}

// Respond finds the response within the region, patches and all. Both nodes must be of the region; what lies outside
// answers 0.
func (l *Local) Respond(r *Response, into, outOf Node) {
	r.begin(l.s.a, into, outOf)
	l.carry(r.z)
	l.respondPatched(r)
}

// respondPatched adds what the patches make of a response: their small currents follow from their slopes.
func (l *Local) respondPatched(r *Response) {
	m := len(l.patches)
	if m == 0 {
		return
	}
	l.spread()
	w := m + 1
	if len(r.j) < m*w {
		r.j = make([]float64, m*w)
	}
	for i := range l.patches {
		p := &l.patches[i]
		_, g := p.law.at(p.v)
		for k := range l.patches {
			q := &l.patches[k]
			r.j[i*w+k] = -g * (q.z[p.a] - q.z[p.b])
		}
		r.j[i*w+i]++
		r.j[i*w+m] = g * (r.z[p.a] - r.z[p.b])
	}
	solveSmall(r.j[:m*w], m)
	for i := range l.patches {
		j, z := r.j[i*w+m], l.patches[i].z
		for _, list := range [2][]int32{l.r.moving, l.r.fixed} {
			for _, k := range list {
				r.z[k] += j * z[k]
			}
		}
	}
	r.z[r.a.n] = 0
}

// Has says that a node is in the region that is solved.
func (l *Local) Has(v Node) bool { return l.r.Has(v) }

// Sway is how far the voltage that a response is about moves when an element changes by a share of itself: its
// resistance, and what else it is known by (volts of a source, watts or amperes of a load, volts of a junction at its
// current).
type Sway struct{ Ohms, Strength unit.Volt }

// Sway tells how an element sways the voltage between the nodes of a response.
func (s *System) Sway(e Element, r *Response) Sway {
	p := s.a.place[e]
	far := r.z[p.a] - r.z[p.b]
	if far == 0 || !s.on[e] {
		return Sway{}
	}
	v := s.x.volts[p.a] - s.x.volts[p.b]
	if b := s.where[e]; b >= 0 {
		return swayOf(s.branch[b].law, v, far)
	}
	g := 1 / max(s.ohms[e], LeastOhms)
	return Sway{Ohms: unit.Volt(g * (v - s.emf[e]) * far), Strength: unit.Volt(g * s.emf[e] * far)}
}

// swayOf is the sway of a nonlinear element: a source counts its resistance and voltage, a load its power or current.
func swayOf(l law, v, far float64) Sway {
	switch l := l.(type) {
	case *supply:
		const part = 1e-7 // the bend of an unloaded supply is a few milliampere, some microvolt of it
		spec := l.spec
		spec.Volts *= 1 + part
		now, _ := l.at(v)
		then, _ := newSupply(spec).at(v)
		return Sway{Strength: unit.Volt(-(then - now) / part * far)}
	case currentLoad, powerLoad:
		i, _ := l.at(v)
		return Sway{Strength: unit.Volt(-i * far)}
	case diode:
		_, g := l.at(v)
		return Sway{Strength: unit.Volt(g * v * far)}
	}
	return Sway{}
}

// SwayOhms is how far the small-signal resistance that a response is about, between its own two nodes, moves when the
// resistance of an element changes by a share of itself.
func (s *System) SwayOhms(e Element, r *Response) unit.Ohm {
	p := s.a.place[e]
	far := r.z[p.a] - r.z[p.b]
	if far == 0 || !s.on[e] || s.where[e] >= 0 {
		return 0
	}
	return unit.Ohm(far * far / max(s.ohms[e], LeastOhms))
}

// Siemens is the conductance of an element for small changes at the last solution.
func (s *System) Siemens(e Element) float64 {
	if !s.on[e] {
		return openSiemens
	}
	if b := s.where[e]; b >= 0 {
		_, g := s.branch[b].law.at(s.branch[b].v)
		return g
	}
	return 1 / max(s.ohms[e], LeastOhms)
}

// Forced says that an element is held on or off whatever its gate says.
func (s *System) Forced(e Element) bool { return s.forced[e] != asGated }

// Take makes r a copy of another response.
func (r *Response) Take(o *Response) {
	if len(r.z) != len(o.z) {
		r.z = make([]float64, len(o.z))
	}
	r.a = o.a
	copy(r.z, o.z)
}

// Add adds another response of the same system, times by.
func (r *Response) Add(o *Response, by float64) {
	for k, z := range o.z {
		r.z[k] += by * z
	}
}

// Impedance is the small-signal resistance between two nodes of the region, patches and all.
func (l *Local) Impedance(a, b Node) unit.Ohm {
	z := float64(l.s.Impedance(a, b))
	m := len(l.patches)
	if m == 0 {
		return unit.Ohm(z)
	}
	l.spread()
	w := m + 1
	small := make([]float64, m*w)
	at, to := l.s.a.step(a), l.s.a.step(b)
	for i := range l.patches {
		p := &l.patches[i]
		_, g := p.law.at(p.v)
		for k := range l.patches {
			q := &l.patches[k]
			small[i*w+k] = -g * (q.z[p.a] - q.z[p.b])
		}
		small[i*w+i]++
		small[i*w+m] = -g * (p.z[at] - p.z[to])
	}
	solveSmall(small, m)
	for i := range l.patches {
		p := &l.patches[i]
		z += small[i*w+m] * (p.z[at] - p.z[to])
	}
	return unit.Ohm(z)
}

// At is the current of a junction at a voltage, in A, and its slope in S.
func (m DiodeModel) At(v float64) (amperes, siemens float64) { return newDiode(m).at(v) }
