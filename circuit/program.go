package circuit

// program is the elimination of moving steps, of all or of those of a region, laid out in the order in which it is read, since
// it is gone through for every Newton step. What columns outside give to a region stays while the rest keeps its straight
// lines: it is summed up once.
type program struct {
	columns columns
	mesh    []int32 // of each column in turn: the edges that pairs of its edges add to, (0, 1), (0, 2), (1, 2), (0, 3) ...
	given   []gift  // the conductances that columns outside give to
	gifts   []term  // of each of those in turn
	fed     []gift  // the steps that columns outside give flow to
	feeds   []term  // of each of those in turn
}

// column is one step and its edges.
type column struct{ step, from, to int32 }

// columns are those of some steps, ascending.
type columns []column

func (a *Analysis) columnsOf(steps []int32) columns {
	var all columns
	for _, k := range steps {
		all = append(all, column{k, a.colAt[k], a.colAt[k+1]})
	}
	return all
}

// term is a weight times a conductance or the flow of a step.
type term struct{ weight, of int32 }

// gift is a conductance or step and where its terms end.
type gift struct{ to, end int32 }

// program lays out the elimination of some moving steps, ascending, with all that they lead to; what is not inside stays.
func (a *Analysis) program(moving []int32, inside []bool) program {
	p := program{columns: a.columnsOf(moving)}
	n := int32(a.n)
	for _, k := range moving {
		out := len(p.gifts)
		for _, e := range a.into.item[a.into.split[k]:a.into.at[k+1]] {
			if t := (term{e, a.owner[e]}); !inside[t.of] {
				p.gifts, p.feeds = append(p.gifts, t), append(p.feeds, t)
			}
		}
		if len(p.gifts) > out {
			p.given = append(p.given, gift{k, int32(len(p.gifts))})
			p.fed = append(p.fed, gift{k, int32(len(p.feeds))})
		}
		for e := a.colAt[k]; e < a.colAt[k+1]; e++ {
			out := len(p.gifts)
			for _, q := range a.fill.pair[a.fill.split[e]:a.fill.at[e+1]] {
				if !inside[a.owner[q.weight]] {
					p.gifts = append(p.gifts, term{q.weight, n + q.conductance})
				}
			}
			if len(p.gifts) > out {
				p.given = append(p.given, gift{n + e, int32(len(p.gifts))})
			}
			for f := a.colAt[k]; f < e; f++ {
				p.mesh = append(p.mesh, a.edge(a.end[f], a.end[e]))
			}
		}
	}
	return p
}

// sumGifts adds up, for each gift, its terms of the given values.
func sumGifts(sums []float64, gifts []gift, terms []term, weight, of []float64) {
	i := int32(0)
	for n, g := range gifts {
		s := 0.0
		for _, t := range terms[i:g.end] {
			s += weight[t.weight] * of[t.of]
		}
		sums[n], i = s, g.end
	}
}

// run eliminates the columns, whose sums and flows hold their start values, and counts the sums that were not positive.
func (p *program) run(x *mesh) (unsteady int) {
	n := x.a.n
	sum, edge, flow, weights, invs, ends := x.sum[:n], x.sum[n:], x.flow, x.weight, x.inv, x.a.end
	mesh := p.mesh
	for i := range p.columns {
		c := &p.columns[i]
		g, b := sum[c.step], flow[c.step]
		mine := edge[c.from:c.to]
		all := g
		for _, e := range mine {
			all += e
		}
		inv := 1 / all
		invs[c.step] = inv
		if !(inv > 0) {
			unsteady++
		}
		end, weight := ends[c.from:c.to], weights[c.from:c.to]
		end, weight = end[:len(mine)], weight[:len(mine)]
		for e, s := range mine {
			w := s * inv
			weight[e] = w
			to := end[e]
			sum[to] += w * g
			flow[to] += w * b
			for f, v := range mine[:e] {
				edge[mesh[f]] += w * v
			}
			mesh = mesh[e:]
		}
	}
	return unsteady
}

// solve finds the voltages of the steps from those that they lead to.
func (all columns) solve(x *mesh) {
	flow, inv, volts, weight, end := x.flow, x.inv, x.volts, x.weight, x.a.end
	for i := len(all) - 1; i >= 0; i-- {
		c := &all[i]
		v := flow[c.step] * inv[c.step]
		to := end[c.from:c.to]
		for e, w := range weight[c.from:c.to] {
			v += w * volts[to[e]]
		}
		volts[c.step] = v
	}
}
