package find

import (
	"cmp"
	"math"

	"doorwright/meter"
	"doorwright/situation"
)

// belief is one suspect at one size: what it would show, and how what was read agrees. All readings of a suspect have one
// joint Gaussian: they share the tolerances of the parts, so that a supply a little high is high everywhere. A factor of
// its covariance grows by a row with every reading (incremental Cholesky; Golub and Van Loan, Matrix Computations, 4.2,
// from memory).
type belief struct {
	row    *meter.Row
	base   *meter.Row // the row at the size that the suspect was first thought of; nil where that is row
	size   float64    // where the middle of its sizes lies from that of row, in deviations
	weight float64
	jumps  bool        // where the door does not come to rest, any reading is of any state
	log    float64     // log likelihood of all that was read and seen
	used   []int       // pairs that are in the factor; what is plainly wrong is left out
	factor [][]float64 // lower triangle
	white  []float64   // the innovations, divided by their deviations
	odd    []int       // pairs of the readings that it does not explain
	read   []float64   // what each reading added to log
	saw    []float64   // what each look added to log
}

// How readings go wrong (common practice, no source). Most wrong readings are right ones of something else: the leads are
// at another screw, or nobody operates what should be. So a wrong reading mostly shows what some other pair shows.
const (
	wrongShare   = 0.05
	wrongAct     = 0.025 // of the readings with an act: nothing was operated
	wrongPlain   = 0.2   // of the wrong ones: misread, of no other pair
	floatsToZero = 0.5   // of the readings of what floats
	oddFrom      = 4.0   // deviations from which a reading counts as wrong and teaches nothing about the parts
)

// sways are what the tolerances do to a pair, in V or ohm.
func (b *belief) sways(book *meter.Book, pair int) []situation.KnobSway {
	if s := b.row.Sways[pair]; s != nil {
		return s
	}
	return book.Sound.Sways[pair]
}

// dot is the covariance of two lists of sways, which are in the order of the knobs.
func dot(a, b []situation.KnobSway) float64 {
	sum := 0.0
	for i, k := 0, 0; i < len(a) && k < len(b); {
		switch {
		case a[i].Knob < b[k].Knob:
			i++
		case a[i].Knob > b[k].Knob:
			k++
		default:
			sum += float64(a[i].By) * float64(b[k].By)
			i++
			k++
		}
	}
	return sum
}

// predict is what a pair is expected to show after what was read, in its space, with its standard deviation. Along is
// work space for the new row of the factor, which is given back.
func (b *belief) predict(book *meter.Book, pair int, along []float64) (mean, deviation float64, row []float64) {
	q := book.Pairs[pair].Quantity
	s := b.row.Shown[pair]
	p := pointOf(q, s.Value, false)
	own := b.sways(book, pair)
	mean = p.at
	v := 0.0
	row = along[:0]
	if len(own) > 0 && (q != meter.Ohms || s.Value < topOhms) {
		v += dot(own, own) * sq(p.scale)
		mean += (book.Knobs.Shift(own) + b.size*sizeSway(book, own)) * p.scale
		for i, u := range b.used {
			o := pointOf(book.Pairs[u].Quantity, b.row.Shown[u].Value, false)
			c := dot(own, b.sways(book, u)) * p.scale * o.scale
			for k := range i {
				c -= row[k] * b.factor[i][k]
			}
			c /= b.factor[i][i]
			row = append(row, c)
			mean += c * b.white[i]
			v -= c * c
		}
	}
	if len(row) > 0 {
		s.Value = valueOf(q, mean) // the meter errs by a share of what it shows, wherever tolerances have moved that
	}
	return mean, math.Sqrt(math.Max(v, 0) + sq(noise(book.Meter, q, s)) + sq(leastDeviation)), row
}

// leastDeviation keeps readings taken twice from being certain.
const leastDeviation = 1e-4

// enter takes a reading into account. Space is how wide the space of the reading is.
func (b *belief) enter(book *meter.Book, pair int, y, space float64) {
	mean, d, row := b.predict(book, pair, make([]float64, 0, len(b.used)+1))
	z := (y - mean) / d
	b.tell(&b.read, b.density(book, pair, y, z, d, space))
	switch {
	case b.restless(book, pair):
		return
	case math.Abs(z) > oddFrom:
		b.odd = append(b.odd, pair)
		return
	}
	for len(row) < len(b.used) {
		row = append(row, 0)
	}
	b.used = append(b.used, pair)
	b.factor = append(b.factor, append(row, d))
	b.white = append(b.white, z)
}

// tell takes the likelihood of a reading or look into account.
func (b *belief) tell(to *[]float64, likelihood float64) {
	by := math.Log(likelihood)
	*to = append(*to, by)
	b.log += by
}

// density is how likely a reading y is that lies z deviations d from what is expected.
func (b *belief) density(book *meter.Book, pair int, y, z, d, space float64) float64 {
	q := book.Pairs[pair].Quantity
	right := student(z) / d
	if float := floatsToZero * afloat(q, b.row.Shown[pair]); float > 0 {
		right = (1-float)*right + float*student(y/idleVolts)/idleVolts
	}
	if b.restless(book, pair) {
		return b.restlessDensity(pair, y, d, right, space)
	}
	wrong := wrongShare
	if right*space > 20 { // then nothing wrong comes near it
		return (1-wrong)*right + wrong/space
	}
	return (1-wrong)*right + wrong*(wrongPlain/space+(1-wrongPlain)*b.elsewhere(book, pair, y)) + b.unoperated(book, pair, y)
}

// elsewhere is the density of a reading at any other pair of the same condition.
func (b *belief) elsewhere(book *meter.Book, pair int, y float64) float64 {
	s := &book.Stops[book.StopOf(pair)]
	sum, n := 0.0, 0
	for k := s.From; k < s.To; k++ {
		if k != pair && !book.Across(k) && book.Pairs[k].Quantity == book.Pairs[pair].Quantity {
			sum += b.alone(book, k, y)
			n++
		}
	}
	return sum / float64(max(n, 1))
}

// unoperated is the density of a reading of the same pair with nothing operated.
func (b *belief) unoperated(book *meter.Book, pair int, y float64) float64 {
	p := book.Pairs[pair]
	if p.In.Act == meter.Idle || p.In.Dead() {
		return 0
	}
	p.In.Act = meter.Idle
	k := book.Index(p)
	if k < 0 {
		return 0
	}
	return wrongAct * b.alone(book, k, y)
}

// alone is the density of a reading of a pair, tolerances of the door taken as a share of the reading.
func (b *belief) alone(book *meter.Book, k int, y float64) float64 {
	q, s := book.Pairs[k].Quantity, b.row.Shown[k]
	p := pointOf(q, s.Value, false)
	d := math.Hypot(noise(book.Meter, q, s), looseShare*math.Abs(p.at))
	return student((y-p.at)/d) / d
}

// looseShare stands for all tolerances of a door together, as a share of a reading.
const looseShare = 0.02

// student is the density of Student's t with four degrees of freedom: tails of real readings (from memory of any table).
func student(z float64) float64 { return 0.375 * math.Pow(1+z*z/4, -2.5) }

// forget goes back to before anything was read.
func (b *belief) forget() { *b = belief{row: cmp.Or(b.base, b.row), weight: b.weight, jumps: b.jumps} }

// predictAlone is what a pair is expected to show, whatever else was read.
func (b *belief) predictAlone(book *meter.Book, pair int) (mean, deviation float64, row []float64) {
	fresh := belief{row: b.row, size: b.size}
	return fresh.predict(book, pair, nil)
}
