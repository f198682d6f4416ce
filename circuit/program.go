package circuit

// program is how the moving steps of a region are eliminated, laid out in the order in which it is read, since it is gone
// through for every Newton step. What columns outside give to them stays while the rest keeps its straight lines: it is
// summed up once.
type program struct {
	columns []column
	into    []term  // of each column in turn: what columns inside give to its sum and its flow
	ends    []int32 // of each edge of the columns in turn: where its terms end in fill
	fill    []term  // what columns inside give to it
	given   []gift  // the conductances that columns outside give to
	gifts   []term  // of each of those in turn
	fed     []gift  // the steps that columns outside give flow to
	feeds   []term  // of each of those in turn
}

// column is one step: its edges, and where its terms end in into.
type column struct{ step, from, to, into int32 }

// term is a weight times a conductance or the flow of a step.
type term struct{ weight, of int32 }

// gift is a conductance or step and where its terms end.
type gift struct{ to, end int32 }

// program lays out the elimination of the moving steps of a region.
func (r *Region) program() program {
	var p program
	a := r.a
	n := int32(a.n)
	for _, k := range r.moving {
		out := len(p.gifts)
		for _, e := range a.into.item[a.into.split[k]:a.into.at[k+1]] {
			t := term{e, a.owner[e]}
			if r.inside[t.of] {
				p.into = append(p.into, t)
			} else {
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
				t := term{q.weight, n + q.conductance}
				if r.inside[a.owner[q.weight]] {
					p.fill = append(p.fill, t)
				} else {
					p.gifts = append(p.gifts, t)
				}
			}
			if len(p.gifts) > out {
				p.given = append(p.given, gift{n + e, int32(len(p.gifts))})
			}
			p.ends = append(p.ends, int32(len(p.fill)))
		}
		p.columns = append(p.columns, column{k, a.colAt[k], a.colAt[k+1], int32(len(p.into))})
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
	sum, flow, weight, invs := x.sum, x.flow, x.weight, x.inv
	edges := sum[x.a.n:]
	into, fill := int32(0), int32(0)
	ends := p.ends
	for i := range p.columns {
		c := &p.columns[i]
		g, b := sum[c.step], flow[c.step]
		for _, t := range p.into[into:c.into] {
			w := weight[t.weight]
			g += w * sum[t.of]
			b += w * flow[t.of]
		}
		into = c.into
		sum[c.step], flow[c.step] = g, b
		mine := edges[c.from:c.to]
		for e := range mine {
			s := mine[e]
			end := ends[e]
			for _, t := range p.fill[fill:end] {
				s += weight[t.weight] * sum[t.of]
			}
			fill = end
			mine[e] = s
			g += s
		}
		ends = ends[len(mine):]
		inv := 1 / g
		invs[c.step] = inv
		if !(inv > 0) {
			unsteady++
		}
		to := weight[c.from:c.to]
		for e, s := range mine {
			to[e] = s * inv
		}
	}
	return unsteady
}

// solve finds the voltages of the moving steps.
func (p *program) solve(x *mesh) {
	flow, inv, volts, weight, end := x.flow, x.inv, x.volts, x.weight, x.a.end
	for i := len(p.columns) - 1; i >= 0; i-- {
		c := &p.columns[i]
		v := flow[c.step] * inv[c.step]
		to := end[c.from:c.to]
		for e, w := range weight[c.from:c.to] {
			v += w * volts[to[e]]
		}
		volts[c.step] = v
	}
}
