package circuit

// mesh is the network being eliminated, in numbers. Index k is a step, e an edge (see Analysis).
//
// Removing step k with conductance g0 to Earth, edges g and injected current b leaves, with the weight w = g/(g0+sum g)
// of each neighbour: w g0 more to Earth and w b more current at the neighbour, and w g' more between each two of them.
// While all conductances are positive nothing is ever subtracted.
type mesh struct {
	a   *Analysis
	all []float64 // everything below but what is stale

	// What was put in: linear elements only.
	linear []float64 // conductances, steps then edges
	source []float64 // currents into the steps; the last, Earth's, is not read

	// What the fixed columns make of it for the moving ones, before nonlinear elements are added.
	base     []float64
	baseFlow []float64

	// The elimination.
	sum    []float64 // conductances when their column is removed, steps then edges
	flow   []float64 // current into a step when it is removed
	weight []float64 // of each edge
	inv    []float64 // of each step: 1 / (sum of conductances); not positive means unstable

	volts []float64 // by step; the last is Earth's 0

	stale      []bool // of each step: its linear part or an earlier column changed
	staleFixed bool   // some step is stale
}

func newMesh(a *Analysis) mesh {
	n, m := a.n, len(a.end)
	all := make([]float64, 3*(n+m)+5*(n+1)+m)
	x := all
	cut := func(k int) []float64 {
		part := x[:k:k]
		x = x[k:]
		return part
	}
	return mesh{
		a:      a,
		all:    all,
		linear: cut(n + m), base: cut(n + m), sum: cut(n + m),
		source: cut(n + 1), baseFlow: cut(n + 1), flow: cut(n + 1), inv: cut(n + 1), volts: cut(n + 1),
		weight: cut(m),
		stale:  make([]bool, n+1),
	}
}

// touch notes that the linear part of a conductance or of a step's source changed.
func (x *mesh) touch(step int32) {
	x.stale[step] = true
	x.staleFixed = true
}

// removeFixed brings the fixed columns up to date, and what they add to the moving ones.
func (x *mesh) removeFixed() {
	if !x.staleFixed {
		return
	}
	x.staleFixed = false
	a := x.a
	n := a.n
	for k := range a.fixed {
		if !x.stale[k] {
			continue
		}
		x.removeOneFixed(k)
	}
	for k := a.fixed; k < n; k++ {
		if x.stale[k] {
			x.stale[k] = false
			x.rebase(k)
		}
	}
}

// removeOneFixed eliminates the fixed step k anew.
func (x *mesh) removeOneFixed(k int) {
	a := x.a
	x.stale[k] = false
	x.sum[k], x.flow[k] = x.linear[k], x.source[k]
	from, to := a.colAt[k], a.colAt[k+1]
	copy(x.sum[a.n+int(from):a.n+int(to)], x.linear[a.n+int(from):a.n+int(to)])
	x.remove(k)
	for _, j := range a.end[from:to] {
		x.stale[j] = true
	}
}

// rebase sums what linear elements and fixed columns give to the moving step k.
func (x *mesh) rebase(k int) {
	a := x.a
	n := a.n
	g, b := x.linear[k], x.source[k]
	for _, e := range a.into.item[a.into.at[k]:a.into.split[k]] {
		w, owner := x.weight[e], a.owner[e]
		g += w * x.sum[owner]
		b += w * x.flow[owner]
	}
	x.base[k], x.baseFlow[k] = g, b
	for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
		g := x.linear[n+int(e)]
		for _, p := range a.fill.pair[a.fill.at[e]:a.fill.split[e]] {
			g += x.weight[p.weight] * x.sum[n+int(p.conductance)]
		}
		x.base[n+int(e)] = g
	}
}

// start puts the base into the moving columns, ready for nonlinear elements to be added.
func (x *mesh) start() {
	n, f := x.a.n, x.a.fixed
	e := n + int(x.a.colAt[f])
	copy(x.sum[f:n], x.base[f:n])
	copy(x.sum[e:], x.base[e:])
	copy(x.flow[f:n], x.baseFlow[f:n])
}

// removeMoving eliminates the moving columns and says whether every sum was positive.
func (x *mesh) removeMoving() (stable bool) { return x.a.run.run(x) == 0 }

// remove eliminates the fixed step k, gathering what earlier columns give it. Its sum, its flow and the sums of its edges
// hold their start values.
func (x *mesh) remove(k int) {
	a := x.a
	g, b := x.sum[k], x.flow[k]
	for _, e := range a.into.item[a.into.at[k]:a.into.at[k+1]] {
		w, owner := x.weight[e], a.owner[e]
		g += w * x.sum[owner]
		b += w * x.flow[owner]
	}
	x.sum[k], x.flow[k] = g, b
	from, to := a.colAt[k], a.colAt[k+1]
	edges := x.sum[a.n:]
	for e := from; e < to; e++ {
		c := edges[e]
		for _, p := range a.fill.pair[a.fill.at[e]:a.fill.at[e+1]] {
			c += x.weight[p.weight] * edges[p.conductance]
		}
		edges[e] = c
		g += c
	}
	inv := 1 / g
	x.inv[k] = inv
	for e := from; e < to; e++ {
		x.weight[e] = edges[e] * inv
	}
}

// solveMoving finds the voltages of the moving steps, solveFixed those of the fixed ones after them.
func (x *mesh) solveMoving() { x.a.run.columns.solve(x) }
func (x *mesh) solveFixed()  { x.a.before.solve(x) }
