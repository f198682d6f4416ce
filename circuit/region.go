package circuit

import "slices"

// Region is a part of a network that can be solved alone while the rest keeps the linearisation it has: some nodes, and
// every step that is removed after one of them. It is read-only and may be shared.
type Region struct {
	a             *Analysis
	inside        []bool  // of each step
	fixed, moving []int32 // the steps, ascending
	run           program // the elimination of the moving ones
	before        columns // the fixed ones
	scope                 // senses with both ends and all they gate inside; branches whose conductance is inside
	straddling    []int32 // nonlinear elements whose conductance is outside, and an end inside
	rim           []int32 // steps inside that steps outside lead to
	beyond        []Sense // the other senses
	outFixed      []int32 // the steps outside, ascending
	outMoving     []int32
	outBefore     columns // the same
	outAfter      columns
	outer         []int32 // the nonlinear elements whose conductance is outside, straddling ones too
	straddled     []int32 // the steps inside that straddling elements end at, ascending
}

// Region finds the region of some nodes. Elements are told by the network analysed, as any network of its pattern.
func (s *System) Region(nodes []Node) *Region {
	a := s.a
	r := &Region{a: a, inside: make([]bool, a.n+1)}
	for _, v := range nodes {
		if v != Earth {
			r.inside[a.step(v)] = true
		}
	}
	onRim := make([]bool, a.n+1)
	for k := range int32(a.n) {
		for _, to := range a.end[a.colAt[k]:a.colAt[k+1]] {
			if r.inside[k] {
				r.inside[to] = true
			} else {
				onRim[to] = true
			}
		}
	}
	for k := range int32(a.n) {
		fixed, moving := &r.outFixed, &r.outMoving
		if r.inside[k] {
			fixed, moving = &r.fixed, &r.moving
		}
		if int(k) < a.fixed {
			*fixed = append(*fixed, k)
		} else {
			*moving = append(*moving, k)
		}
		if r.inside[k] && onRim[k] {
			r.rim = append(r.rim, k)
		}
	}
	for i := range s.branch {
		b := &s.branch[i]
		if r.inside[a.ownerOf(b.conductance)] {
			r.branches = append(r.branches, int32(i))
			continue
		}
		r.outer = append(r.outer, int32(i))
		if r.inside[b.a] || r.inside[b.b] {
			r.straddling = append(r.straddling, int32(i))
		}
		for _, k := range []int32{b.a, b.b} {
			if r.inside[k] && int(k) < a.n {
				r.straddled = append(r.straddled, k)
			}
		}
	}
	slices.Sort(r.straddled)
	r.straddled = slices.Compact(r.straddled)
	for k := range s.n.senses {
		if r.holds(s.n, Sense(k)) {
			r.senses = append(r.senses, Sense(k))
		} else {
			r.beyond = append(r.beyond, Sense(k))
		}
	}
	r.before, r.run = a.columnsOf(r.fixed), a.program(r.moving, r.inside)
	r.outBefore, r.outAfter = a.columnsOf(r.outFixed), a.columnsOf(r.outMoving)
	return r
}

// Has says that a node is inside. Earth is.
func (r *Region) Has(v Node) bool { return v == Earth || r.inside[r.a.step(v)] }

// Without is the part of a report on the whole that is about what is outside: the region decides on its own senses and
// loads anew.
func (r *Region) Without(n *Network, whole Report) Report {
	part := Report{WorstNode: Earth}
	for _, k := range whole.Alternating {
		if slices.Contains(r.beyond, k) {
			part.Alternating = append(part.Alternating, k)
		}
	}
	for _, e := range whole.Collapsed {
		if a, b := n.Ends(e); !r.Has(a) || !r.Has(b) {
			part.Collapsed = append(part.Collapsed, e)
		}
	}
	switch {
	case whole.Outcome == NotConverged:
		part.Outcome = NotConverged
	case len(part.Alternating) > 0:
		part.Outcome = Hiccup
	case len(part.Collapsed) > 0:
		part.Outcome = LoadCollapse
	}
	return part
}

// ownerOf is the step at whose removal a conductance is used up.
func (a *Analysis) ownerOf(conductance int32) int32 {
	if int(conductance) < a.n {
		return conductance
	}
	return a.owner[int(conductance)-a.n]
}

// holds says that the region has both ends of a sense and the conductance of every element that it gates.
func (r *Region) holds(n *Network, k Sense) bool {
	if !r.Has(n.senses[k].A) || !r.Has(n.senses[k].B) {
		return false
	}
	for _, i := range r.a.gatedBy[1].of(int32(k)) {
		if p := r.a.place[i]; p.conductance >= 0 && !r.inside[r.a.ownerOf(p.conductance)] {
			return false
		}
	}
	return true
}
