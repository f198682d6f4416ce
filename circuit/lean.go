package circuit

import (
	"encoding/binary"
	"math"
)

// Lean appends to key what a region leans on in a system that was just solved: conductances and currents that the rest
// gives it, rounded to single precision, some 6e-8 of each. Two systems of one region with equal keys give it the same
// solutions but for about a millionth of a volt.
func (s *System) Lean(r *Region, key []byte) []byte {
	x := &s.x
	edges := x.sum[s.a.n:]
	for i := range r.gathered {
		g := &r.gathered[i]
		conductance, current := 0.0, 0.0
		for _, e := range g.edges {
			w, owner := x.weight[e], s.a.owner[e]
			conductance += w * x.sum[owner]
			current += w * x.flow[owner]
		}
		for _, p := range g.pairs {
			conductance += x.weight[p.weight] * edges[p.conductance]
		}
		key = appendSingle(key, conductance)
		if g.edges != nil {
			key = appendSingle(key, current)
		}
	}
	for _, i := range r.straddling {
		b := &s.branch[i]
		c, g := b.v*openSiemens, openSiemens
		if b.on {
			c, g = b.law.at(b.v)
		}
		key = appendSingle(key, g*b.v-c)
	}
	for _, k := range r.senses {
		if s.sensed[k] {
			key = append(key, 1)
		} else {
			key = append(key, 0)
		}
	}
	return key
}

func appendSingle(key []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint32(key, math.Float32bits(float32(v)))
}
