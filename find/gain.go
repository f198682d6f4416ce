package find

import (
	"cmp"
	"math"
	"slices"

	"doorwright/meter"
)

// guess is a group of suspects that still counts, with the suspects at the sizes that do. Which of a group it is no
// reading with everything on its wires tells; once hardly any other group is left, each suspect is a guess of its own, so
// that plugs are pulled to tell them apart.
type guess struct {
	s     *suspect // the likeliest of the group
	p     float64
	sizes []size
}

type size struct {
	s *suspect
	b *belief
	p float64 // within the guess
}

// nearlyFound is the probability of a group from which its members are told apart.
const nearlyFound = 0.95

// guesses are those that together hold all but a little of the probability, likeliest first.
func (f *Finder) guesses(most int) []guess {
	p := f.posterior()
	byGroup := map[int]float64{}
	found := false
	for i, s := range f.suspects {
		byGroup[s.group] += p[i]
		found = found || byGroup[s.group] > nearlyFound
	}
	var all []guess
	at := map[int]int{}
	for i, s := range f.suspects {
		if p[i] < leastCounted {
			continue
		}
		k, ok := at[s.group]
		if !ok || found {
			k = len(all)
			at[s.group] = k
			all = append(all, guess{s: s})
		}
		all[k].enter(s, p[i])
	}
	slices.SortStableFunc(all, func(a, b guess) int { return cmp.Compare(b.p, a.p) })
	all = all[:min(len(all), most)]
	sum := 0.0
	for i := range all {
		sum += all[i].p
	}
	for i := range all {
		for k := range all[i].sizes {
			all[i].sizes[k].p /= all[i].p
		}
		all[i].p /= sum
	}
	return all
}

// enter takes a suspect into a guess.
func (g *guess) enter(s *suspect, p float64) {
	if g.s != s {
		best := 0.0
		for _, x := range g.sizes {
			if x.s == g.s {
				best += x.p
			}
		}
		if p > best {
			g.s = s
		}
	}
	g.p += p
	for _, x := range sizesOf(s) {
		g.sizes = append(g.sizes, size{s, x.b, x.p * p})
	}
}

const leastCounted = 1e-5

func sizesOf(s *suspect) []size {
	sum := 0.0
	top := math.Inf(-1)
	for i := range s.beliefs {
		top = max(top, s.beliefs[i].log)
	}
	var all []size
	for i := range s.beliefs {
		p := s.beliefs[i].weight * math.Exp(s.beliefs[i].log-top)
		sum += p
		all = append(all, size{s, &s.beliefs[i], p})
	}
	for i := range all {
		all[i].p /= sum
	}
	return all
}

// weigher works out what a reading is expected to tell. It keeps its work space and is for one goroutine.
type weigher struct {
	book    *meter.Book
	guesses []guess
	pair    int
	at      []centre
	along   []float64
	edges   []float64
	cells   []float64 // of each guess, one after another
	mixed   []float64
}

// centre is what one guess at one size expects.
type centre struct {
	guess           int
	p               float64 // within its guess
	mean, deviation float64
}

// mostEdges bounds the bins of a reading. Fewer bins tell less, never more, than there is: they cannot invent
// information as long as the outermost reach to the ends of the world.
const mostEdges = 14

// gain is the information in bits that a pair is expected to give about which suspect it is.
func (w *weigher) gain(pair int) float64 {
	if !w.expect(pair) {
		return 0
	}
	w.cut()
	w.fill()
	return w.information()
}

// expect finds the centres of a pair, and says whether they differ at all.
func (w *weigher) expect(pair int) bool {
	w.at = w.at[:0]
	w.pair = pair
	low, high, least := math.Inf(1), math.Inf(-1), math.Inf(1)
	for i := range w.guesses {
		for _, s := range w.guesses[i].sizes {
			if s.p < 0.02 {
				continue
			}
			mean, d, row := s.b.predict(w.book, pair, w.along)
			w.along = row
			p := s.p
			if float := floatsToZero * afloat(w.book.Pairs[pair].Quantity, s.b.row.Shown[pair]); float > 0 {
				w.at = append(w.at, centre{i, p * float, 0, idleVolts})
				p -= p * float
			}
			if turns := s.b.turns(pair); s.b.restless(w.book, pair) {
				p /= float64(1 + len(turns))
				for _, turn := range turns {
					w.at = append(w.at, centre{i, p, turn, s.b.turnDeviation(pair, turn, d)})
					low, high = min(low, turn), max(high, turn)
				}
			}
			w.at = append(w.at, centre{i, p, mean, d})
			low, high, least = min(low, mean), max(high, mean), min(least, d)
		}
	}
	return high-low > 0.5*least
}

// cut puts the edges of the bins where the centres leave the widest gaps.
func (w *weigher) cut() {
	slices.SortFunc(w.at, func(a, b centre) int {
		switch { // written out, as most of a suggestion's time goes by here; no mean is NaN
		case a.mean < b.mean:
			return -1
		case a.mean > b.mean:
			return 1
		}
		return a.guess - b.guess
	})
	type gap struct{ edge, wide float64 }
	var gaps []gap
	for i := 1; i < len(w.at); i++ {
		a, b := w.at[i-1], w.at[i]
		wide := (b.mean - a.mean) / (a.deviation + b.deviation)
		if wide > 0.25 {
			// nearer to the closer known of the two
			gaps = append(gaps, gap{(a.mean*b.deviation + b.mean*a.deviation) / (a.deviation + b.deviation), wide})
		}
	}
	slices.SortStableFunc(gaps, func(a, b gap) int { return cmp.Compare(b.wide, a.wide) })
	w.edges = w.edges[:0]
	for _, g := range gaps[:min(len(gaps), mostEdges)] {
		w.edges = append(w.edges, g.edge)
	}
	if len(w.edges) == 0 { // all overlap: cut where the middle is
		w.edges = append(w.edges, w.at[len(w.at)/2].mean)
	}
	slices.Sort(w.edges)
}

// fill finds the exact probability of every bin under every guess.
func (w *weigher) fill() {
	n := len(w.edges) + 1
	w.cells = append(w.cells[:0], make([]float64, n*len(w.guesses))...)
	for _, c := range w.at {
		before := 0.0
		cell := w.cells[c.guess*n : (c.guess+1)*n]
		for i, e := range w.edges {
			up := normal((e - c.mean) / c.deviation)
			cell[i] += c.p * (up - before)
			before = up
		}
		cell[n-1] += c.p * (1 - before)
	}
	for i := range w.guesses {
		cell := w.cells[i*n : (i+1)*n]
		sum := 0.0
		for _, p := range cell {
			sum += p
		}
		wrong := w.wrong(i)
		for k := range cell {
			cell[k] = (1-wrong)*cell[k]/sum + wrong/float64(n)
		}
	}
}

// wrong is the share of readings that tell nothing of a guess.
func (w *weigher) wrong(i int) float64 {
	g := &w.guesses[i]
	if g.s.id == Unknown {
		return unknownElse
	}
	wrong := wrongShare
	for _, s := range g.sizes {
		if s.b.restless(w.book, w.pair) {
			wrong += s.p * (s.b.unsaid(w.pair) - wrongShare)
		}
	}
	return wrong
}

// unknownElse is the share of readings that something unknown moves to anywhere; the rest it leaves as they are sound.
const unknownElse = 0.3

// information is the mutual information of the guess and the bin, in bits.
func (w *weigher) information() float64 {
	n := len(w.edges) + 1
	w.mixed = append(w.mixed[:0], make([]float64, n)...)
	bits, known, log := 0.0, -1.0, 0.0
	for i, g := range w.guesses {
		for k, q := range w.cells[i*n : (i+1)*n] {
			if q != known { // most cells of a guess are what wrong readings leave there, and a logarithm takes time
				known, log = q, math.Log2(max(q, tiny))
			}
			w.mixed[k] += g.p * q
			bits += g.p * q * log
		}
	}
	for _, q := range w.mixed {
		bits -= q * math.Log2(max(q, tiny))
	}
	return max(bits, 0)
}

const tiny = 1e-300

// normal is the distribution function of the standard normal.
func normal(x float64) float64 {
	switch {
	case x < -6:
		return 0
	case x > 6:
		return 1
	}
	return 0.5 * math.Erfc(-x/math.Sqrt2)
}
