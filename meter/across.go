package meter

import (
	"slices"

	"doorwright/job"
	"doorwright/situation"
)

// acrossCircuits are pairs of terminals at one place that belong to two circuits and are none of the known pairs. Where both
// circuits are as they should be, one reading shows it; where one is not, the sign mostly says which. The red lead comes where
// the sound door has the higher voltage while nothing is operated.
func (b *Book) acrossCircuits(known []ends) []ends {
	var all []ends
	seen := map[[2]string]bool{}
	for _, e := range known {
		seen[[2]string{e.at, e.to}], seen[[2]string{e.to, e.at}] = true, true
	}
	bench := b.island.Bench(situation.Nominal())
	places, nodes := b.nodes(bench)
	for _, at := range places {
		for i, x := range nodes[at] {
			for _, y := range nodes[at][:i] {
				if seen[[2]string{x, y}] {
					continue
				}
				red, black := x, y
				if bench.Between(bench.Tap(x), bench.Tap(y)) < 0 {
					red, black = y, x
				}
				all = append(all, ends{at: red, to: black, across: true})
			}
		}
	}
	return all
}

// nodes are the terminals in reach with a core on them, place by place, each node of the sound door once.
func (b *Book) nodes(bench *situation.Bench) ([]*job.Place, map[*job.Place][]string) {
	nodes := map[*job.Place][]string{}
	var places []*job.Place
	for _, u := range b.units() {
		for _, t := range u.Model.Strip {
			if !b.landed(u, t.Pin) || b.ofOther(u, t.Pin) {
				continue
			}
			name := nodeName(u, t.Pin)
			if slices.ContainsFunc(nodes[u.Place], func(x string) bool { return bench.Ohms(bench.Tap(x), bench.Tap(name)) < oneNode }) {
				continue
			}
			if nodes[u.Place] == nil {
				places = append(places, u.Place)
			}
			nodes[u.Place] = append(nodes[u.Place], name)
		}
	}
	return places, nodes
}

// oneNode is the resistance below which two terminals at one place read alike against any third: copper and closed contacts.
// A figure of our own choice.
const oneNode = 2.0 // ohm
