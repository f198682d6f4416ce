package find

import "math"

// fact is one reading or look, by its place among those entered; nothing for none.
type fact struct {
	read, saw int
}

var nothing = fact{-1, -1}

// without is the log likelihood of all that was read and seen but for one.
func (b *belief) without(but fact) float64 {
	switch {
	case but.read >= 0:
		return b.log - b.read[but.read]
	case but.saw >= 0:
		return b.log - b.saw[but.saw]
	}
	return b.log
}

// posterior is the probability of each suspect. What leads is no surer than the rest of the readings and looks make it without
// the one that speaks most for it, which may be the wrong one.
func (f *Finder) posterior() []float64 {
	p := f.posteriorBut(nothing)
	top, _ := f.leads(p)
	var worst []float64
	least := 1.0
	for _, but := range f.facts() {
		q := f.posteriorBut(but)
		if _, of := f.leads(q); of[top] < least {
			worst, least = q, of[top]
		}
	}
	for i := range worst {
		p[i] = (1-wrongShare)*p[i] + wrongShare*worst[i]
	}
	return p
}

// facts are all readings and looks that were entered.
func (f *Finder) facts() []fact {
	var all []fact
	if len(f.suspects) == 0 {
		return nil
	}
	b := &f.suspects[0].beliefs[0]
	for i := range b.read {
		all = append(all, fact{i, -1})
	}
	for i := range b.saw {
		all = append(all, fact{-1, i})
	}
	return all
}

// leads is the leading group, and the probability of every one.
func (f *Finder) leads(p []float64) (top int, of map[int]float64) {
	of = map[int]float64{}
	for i, s := range f.suspects {
		of[s.group] += p[i]
		if of[s.group] > of[top] || of[s.group] == of[top] && s.group < top {
			top = s.group
		}
	}
	return top, of
}

// posteriorBut is the probability of each suspect after all that was read and seen but for one.
func (f *Finder) posteriorBut(but fact) []float64 {
	p := make([]float64, len(f.suspects))
	top := math.Inf(-1)
	for i, s := range f.suspects {
		p[i] = s.log(but)
		if s.mended {
			p[i] += math.Log(mendedBadly)
		}
		top = max(top, p[i])
	}
	sum := 0.0
	for i := range p {
		p[i] = math.Exp(p[i] - top)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}
