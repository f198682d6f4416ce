package circuit

import "slices"

// placeElements finds where every element goes.
func (a *Analysis) placeElements(n *Network) {
	a.place = make([]place, len(n.elements))
	for i := range n.elements {
		e := &n.elements[i]
		p := place{a.step(e.a), a.step(e.b), -1}
		switch {
		case p.a == p.b:
		case e.a == Earth:
			p.conductance = p.b
		case e.b == Earth:
			p.conductance = p.a
		default:
			p.conductance = int32(a.n) + a.edge(p.a, p.b)
		}
		a.place[i] = p
	}
}

// step is the step of a node; Earth's is n.
func (a *Analysis) step(v Node) int32 {
	if v == Earth {
		return int32(a.n)
	}
	return a.stepOf[v]
}

// indexElements lists the elements by where they add and by what gates them.
func (a *Analysis) indexElements(n *Network) {
	a.summands = listsOf(a.n+len(a.end), len(n.elements), func(i int, visit func(int32)) {
		if n.elements[i].law == nil && a.place[i].conductance >= 0 {
			visit(a.place[i].conductance)
		}
	})
	a.drives = listsOf(a.n+1, len(n.elements), func(i int, visit func(int32)) {
		if n.elements[i].law == nil && a.place[i].conductance >= 0 {
			visit(a.place[i].a)
			visit(a.place[i].b)
		}
	})
	for k, size := range []int{len(n.switches), len(n.senses)} {
		a.gatedBy[k] = listsOf(size, len(n.elements), func(i int, visit func(int32)) {
			for _, c := range n.elements[i].gate.all {
				if c.sense == (k == 1) {
					visit(c.index)
				}
			}
		})
	}
}

// listsOf collects the items 0 to items-1 into n lists; each visits the lists an item belongs to.
func listsOf(n, items int, each func(item int, visit func(list int32))) lists {
	c := newCounted(n)
	for i := range items {
		each(i, c.count)
	}
	c.open()
	item := make([]int32, c.total())
	for i := range items {
		each(i, func(list int32) { item[c.next(list, false)] = int32(i) })
	}
	return lists{c.at, item}
}

// floatingParts finds the parts that no element joins to Earth, each with its nodes ascending.
func floatingParts(n *Network) [][]Node {
	earth := int32(len(n.names))
	root := make([]int32, earth+1)
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	at := func(v Node) int32 {
		if v == Earth {
			return earth
		}
		return int32(v)
	}
	for i := range n.elements {
		root[find(at(n.elements[i].a))] = find(at(n.elements[i].b))
	}
	part := make([]int32, earth+1)
	var parts [][]Node
	for v := range earth {
		r := find(v)
		if r == find(earth) {
			continue
		}
		if part[r] == 0 {
			parts = append(parts, nil)
			part[r] = int32(len(parts))
		}
		parts[part[r]-1] = append(parts[part[r]-1], Node(v))
	}
	return parts
}

// pattern is what two networks have to share to be solved with one Analysis.
type pattern struct {
	nodes, switches int
	elements        []elementPattern
	senses          int
}

type elementPattern struct {
	a, b   Node
	linear bool
	gate   Gate
}

func patternOf(n *Network) pattern {
	p := pattern{nodes: len(n.names), switches: len(n.switches), senses: len(n.senses)}
	p.elements = make([]elementPattern, len(n.elements))
	for i := range n.elements {
		e := &n.elements[i]
		p.elements[i] = elementPattern{e.a, e.b, e.law == nil, e.gate}
	}
	return p
}

// matches says whether n has this pattern.
func (p *pattern) matches(n *Network) bool {
	if p.nodes != len(n.names) || p.switches != len(n.switches) || p.senses != len(n.senses) ||
		len(p.elements) != len(n.elements) {
		return false
	}
	for i := range n.elements {
		e, q := &n.elements[i], &p.elements[i]
		same := e.a == q.a && e.b == q.b && (e.law == nil) == q.linear &&
			e.gate.inverted == q.gate.inverted && slices.Equal(e.gate.all, q.gate.all)
		if !same {
			return false
		}
	}
	return true
}
