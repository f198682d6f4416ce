package circuit

import (
	"iter"
	"slices"
)

// Analysis is what depends on the pattern of a network alone: the order of elimination, where every conductance goes,
// what every switch and sense gates, and which parts float. It is read-only after Analyse; many Systems may share it.
type Analysis struct {
	pattern  pattern
	floating [][]Node

	n, fixed int     // nodes; the first fixed steps do not depend on nonlinear elements
	stepOf   []int32 // step of each node
	nodeAt   []int32 // node of each step

	// The columns: step k, when removed, has the neighbours end[colAt[k]:colAt[k+1]] (later steps, ascending). Each
	// such pair is an edge, numbered by its place in end; owner is its k.
	colAt []int32
	end   []int32
	owner []int32

	into gathers // of each step: edges of earlier columns that end in it
	fill fills   // of each edge: pairs of edges of an earlier column whose mesh adds to it

	run    program // the elimination of all moving steps
	before columns // the fixed steps

	place []place // of each element

	summands lists    // of each conductance: the linear elements in it
	drives   lists    // of each step: the linear sources at it
	gatedBy  [2]lists // of each switch, of each sense: the elements gated
}

// place is where an element goes: the steps of its ends and its conductance. Conductance k < n is from step k to Earth,
// n+e is that of edge e. Earth is step n. An element with both ends on one node has no conductance (-1).
type place struct{ a, b, conductance int32 }

// lists is many short lists in one array.
type lists struct{ at, item []int32 }

func (l *lists) of(i int32) []int32 { return l.item[l.at[i]:l.at[i+1]] }

// gathers is lists whose items from split on belong to columns that change at every Newton step.
type gathers struct{ at, split, item []int32 }

// fills is gathers of pairs.
type fills struct {
	at, split []int32
	pair      []edgePair
}

type edgePair struct{ weight, conductance int32 }

// Analyse studies the pattern of n. It panics when n.Err() is not nil, which the caller has to have looked at.
func Analyse(n *Network) *Analysis {
	if err := n.Err(); err != nil {
		panic("circuit: Analyse of a network with errors: " + err.Error())
	}
	a := &Analysis{pattern: patternOf(n), floating: floatingParts(n), n: len(n.names)}
	adjacent, touched := graphOf(n)
	order := eliminationOrder(adjacent, touched)
	a.number(order, touched)
	a.columns(order)
	a.gather()
	a.lay()
	a.placeElements(n)
	a.indexElements(n)
	return a
}

// Floating lists the parts that no path through any element, open or closed, joins to Earth.
func (a *Analysis) Floating() [][]Node { return a.floating }

// Nodes is the number of nodes analysed.
func (a *Analysis) Nodes() int { return a.n }

// graphOf is the neighbours of each node, and which nodes have a nonlinear element.
func graphOf(n *Network) (adjacent [][]int32, touched []bool) {
	adjacent = make([][]int32, len(n.names))
	touched = make([]bool, len(n.names))
	for i := range n.elements {
		e := &n.elements[i]
		if e.a == e.b {
			continue
		}
		if e.a != Earth && e.b != Earth {
			join(adjacent, int32(e.a), int32(e.b))
		}
		for _, end := range []Node{e.a, e.b} {
			if e.law != nil && end != Earth {
				touched[end] = true
			}
		}
	}
	return adjacent, touched
}

// number gives the steps: first those with no nonlinear element at or below them in the elimination tree, then the
// others, both in the order of elimination. Removing an earlier one never needs a later one.
func (a *Analysis) number(order ordering, touched []bool) {
	moving := slices.Clone(touched)
	for i, v := range order.node {
		if moving[v] {
			for _, u := range order.neighbour[i] {
				moving[u] = true
			}
		}
	}
	a.nodeAt = make([]int32, 0, a.n)
	for _, wanted := range []bool{false, true} {
		for _, v := range order.node {
			if moving[v] == wanted {
				a.nodeAt = append(a.nodeAt, v)
			}
		}
		if !wanted {
			a.fixed = len(a.nodeAt)
		}
	}
	a.stepOf = make([]int32, a.n)
	for k, v := range a.nodeAt {
		a.stepOf[v] = int32(k)
	}
}

// columns lays the neighbours out by step.
func (a *Analysis) columns(order ordering) {
	around := make([][]int32, a.n)
	edges := 0
	for i, v := range order.node {
		list := order.neighbour[i]
		for j, u := range list {
			list[j] = a.stepOf[u]
		}
		slices.Sort(list)
		around[a.stepOf[v]] = list
		edges += len(list)
	}
	a.colAt = make([]int32, a.n+1)
	a.end = make([]int32, 0, edges)
	a.owner = make([]int32, 0, edges)
	for k, list := range around {
		a.end = append(a.end, list...)
		for range list {
			a.owner = append(a.owner, int32(k))
		}
		a.colAt[k+1] = int32(len(a.end))
	}
}

// edge is the number of the edge between two steps.
func (a *Analysis) edge(k, l int32) int32 {
	k, l = min(k, l), max(k, l)
	for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
		if a.end[e] == l {
			return e
		}
	}
	panic("circuit: an edge outside the pattern") // a mistake in this file: elimination joins all neighbours
}

// after is the step that a step leads to first, Earth when it leads to none: its other neighbours are met on the way on
// from there.
func (a *Analysis) after(k int32) int32 {
	if a.colAt[k] == a.colAt[k+1] {
		return int32(a.n)
	}
	return a.end[a.colAt[k]]
}

// way goes through the steps that two steps lead to, themselves included, ascending.
func (a *Analysis) way(i, k int32) iter.Seq[int32] {
	return func(yield func(int32) bool) {
		for none := int32(a.n); i != none || k != none; {
			next := min(i, k)
			if !yield(next) {
				return
			}
			after := a.after(next)
			if i == next {
				i = after
			}
			if k == next {
				k = after
			}
		}
	}
}

// gather lists, for every step and edge, what the removal of earlier nodes adds to it. Columns are visited in order, so
// the items of fixed columns come first in every list.
func (a *Analysis) gather() {
	into := newCounted(a.n)
	fill := newCounted(len(a.end))
	a.eachMesh(func(k, e int32) { into.count(a.end[e]) }, func(k, e, f, to int32) { fill.count(to) })
	into.open()
	fill.open()
	into.item = make([]int32, into.total())
	pair := make([]edgePair, fill.total())
	a.eachMesh(
		func(k, e int32) { into.item[into.next(a.end[e], int(k) < a.fixed)] = e },
		func(k, e, f, to int32) { pair[fill.next(to, int(k) < a.fixed)] = edgePair{e, f} },
	)
	a.into = gathers{into.at, into.split, into.item}
	a.fill = fills{fill.at, fill.split, pair}
}

// lay lays out what is gone through for every solve.
func (a *Analysis) lay() {
	inside, steps := make([]bool, a.n), make([]int32, a.n)
	for k := range steps {
		inside[k], steps[k] = true, int32(k)
	}
	a.before, a.run = a.columnsOf(steps[:a.fixed]), a.program(steps[a.fixed:], inside)
}

// eachMesh visits every edge of every column and every pair of its edges with the edge their mesh adds to.
func (a *Analysis) eachMesh(edge func(k, e int32), pair func(k, e, f, to int32)) {
	for k := range int32(a.n) {
		for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
			edge(k, e)
			for f := e + 1; f < a.colAt[k+1]; f++ {
				pair(k, e, f, a.edge(a.end[e], a.end[f]))
			}
		}
	}
}

// counted builds many lists in one array: count all, open, then next gives the place of each item.
type counted struct {
	at, split, used, item []int32
}

func newCounted(n int) *counted {
	return &counted{at: make([]int32, n+1), split: make([]int32, n), used: make([]int32, n)}
}

func (c *counted) count(i int32) { c.at[i+1]++ }

func (c *counted) open() {
	for i := range c.split {
		c.at[i+1] += c.at[i]
		c.split[i], c.used[i] = c.at[i], c.at[i]
	}
}

func (c *counted) total() int32 { return c.at[len(c.at)-1] }

func (c *counted) next(i int32, early bool) int32 {
	p := c.used[i]
	c.used[i]++
	if early {
		c.split[i]++
	}
	return p
}
