package meter

import (
	"math"
	"sync"

	"doorwright/circuit"
	"doorwright/fault"
	"doorwright/situation"
)

// Row is everything that can be read at a door with one fault, or with none.
type Row struct {
	Fault  *fault.Fault
	Shown  []Shown                // of each pair
	Sways  [][]situation.KnobSway // of each pair: what the knobs do to it; nil where it is as at the sound door
	Sights []Sighting             // of each stop
	// Restless says of each stop that the door does not come to rest there, as a unit that keeps restarting: what is
	// shown is one of the states it goes through, and a meter jumps.
	Restless []bool
	Turns    [][]float64 // of each pair of such a stop: what else it may show; nil where the door always comes to rest
}

// Shown is what a meter shows between a pair, and what it works against.
type Shown struct {
	Value  float64 // V or ohm, what the meter shows but for its error; +Inf over range
	Behind float64 // ohm, volts only: the resistance between the two terminals
}

// live is the work of taking rows in conditions with power.
type live struct {
	book    *Book
	closeup *situation.Closeup
	r       circuit.Response
	work    situation.SwayWork
}

// open makes the book ready to take rows.
func (b *Book) open() {
	b.at = make([]taps, len(b.Pairs))
	base := b.island.Bench(situation.Nominal())
	for i, p := range b.Pairs {
		b.at[i] = taps{base.Tap(p.At), base.Tap(p.To)}
	}
	b.dead = make([]*deadStop, len(b.Stops))
	b.stopOf = make([]int, len(b.Pairs))
	for i := range b.Stops {
		s := &b.Stops[i]
		for k := s.From; k < s.To; k++ {
			b.stopOf[k] = i
		}
		if s.In.Dead() {
			b.dead[i] = b.deadAt(s)
			continue
		}
		b.calls, b.called = append(b.calls, b.sequence(s)), append(b.called, i)
	}
}

// sequence is what leads to a stop, the last step watched.
func (b *Book) sequence(s *Stop) []situation.Step {
	steps := append([]situation.Step(nil), s.steps...)
	if len(steps) == 0 {
		steps = []situation.Step{{Say: situation.NothingHappens, Wait: 1}}
	}
	for i := range steps {
		steps[i].Watched = i == len(steps)-1
	}
	return steps
}

// workers is how many rows are taken at once: what a phone or a small machine has.
const workers = 2

// Rows takes the rows of some faults, nil for the sound door, in their order.
func (b *Book) Rows(faults []*fault.Fault) []*Row {
	rows := make([]*Row, len(faults))
	n := min(workers, len(faults))
	var done sync.WaitGroup
	for w := range n {
		done.Go(func() {
			l := b.live()
			for i := w; i < len(faults); i += n {
				rows[i] = b.row(l, faults[i])
			}
		})
	}
	done.Wait()
	return rows
}

func (b *Book) live() *live {
	frames := b.island.Frames(situation.Nominal())
	return &live{book: b, closeup: frames.Closeup(b.Door, b.calls)}
}

// row takes one row.
func (b *Book) row(l *live, f *fault.Fault) *Row {
	row := &Row{
		Fault: f, Shown: make([]Shown, len(b.Pairs)), Sways: make([][]situation.KnobSway, len(b.Pairs)),
		Sights: make([]Sighting, len(b.Stops)), Restless: make([]bool, len(b.Stops)),
	}
	if f != nil && !b.island.Has(f) {
		l.joined(row)
		b.turns(row)
		return row
	}
	l.closeup.Run(f, nil, func(sequence, _ int, bench *situation.Bench, shows situation.Shows, shown bool) {
		l.look(row, b.called[sequence], bench, b.at, true)
		row.Sights[b.called[sequence]] = b.sighting(bench, b.Stops[b.called[sequence]].In, shows, f)
	})
	for i := range b.Stops {
		if b.dead[i] != nil {
			b.dead[i].take(row, &l.work)
		}
	}
	b.turns(row)
	return row
}

// joined takes a row with a fault that joins the door's island with another: the slow and exact way.
func (l *live) joined(row *Row) {
	b := l.book
	for i := range b.Stops {
		s := &b.Stops[i]
		bench, err := At(b.site, b.Door, s.In, row.Fault)
		if err != nil {
			continue
		}
		at := make([]taps, len(b.Pairs))
		for k := s.From; k < s.To; k++ {
			at[k] = taps{bench.Tap(b.Pairs[k].At), bench.Tap(b.Pairs[k].To)}
		}
		if s.In.Dead() {
			for k := s.From; k < s.To; k++ {
				row.Shown[k].Value = b.Meter.showsOhms(b.Pairs[k].Quantity, bench.Ohms(at[k].at, at[k].to))
			}
			continue
		}
		l.look(row, i, bench, at, false)
		row.Sights[i] = b.Sound.Sights[i] // what is seen is told by the units of one island only
	}
}

// look reads all pairs of a stop with power, at a bench of the door's own island or of one that holds others too.
func (l *live) look(row *Row, stop int, bench *situation.Bench, at []taps, own bool) {
	b := l.book
	s := &b.Stops[stop]
	row.Restless[stop] = !bench.Outcome().Settled()
	for k := s.From; k < s.To; k++ {
		p := at[k]
		if b.Sound != nil && (bench.Deaf(p.at) || bench.Deaf(p.to)) {
			row.Shown[k] = b.Sound.Shown[k]
			continue
		}
		volts, behind := float64(bench.Between(p.at, p.to)), math.Max(bench.Ohms(p.at, p.to), 0)
		row.Shown[k] = Shown{volts * divided(behind, float64(b.Meter.InputOhms)), behind}
		if b.Sound != nil && (alike(row.Shown[k], b.Sound.Shown[k]) && !exchanged(row.Fault, b.Pairs[k]) || behind > ghostly) {
			continue
		}
		if row.Restless[stop] {
			row.Sways[k] = []situation.KnobSway{} // around no operating point nothing is small
			continue
		}
		if !own {
			continue // the knobs are those of the door's own island
		}
		bench.Respond(&l.r, p.at, p.to)
		row.Sways[k] = bench.Sways(b.Knobs, row.Fault, &l.r, false, nil, &l.work)
		if size := bench.SizeSway(b.Knobs, row.Fault, &l.r, false, nil); size.By != 0 {
			row.Sways[k] = append(row.Sways[k], size)
		}
	}
}

// exchanged says that a fault puts another circuit on a terminal of a pair: where both show the same, what sways the pair is yet of
// the other one.
func exchanged(f *fault.Fault, p Pair) bool {
	if f == nil || f.Class != fault.Swap {
		return false
	}
	for _, w := range f.At {
		for _, end := range []string{w.A.String(), w.B.String()} {
			if end == p.At || end == p.To {
				return true
			}
		}
	}
	return false
}

// ghostly is the resistance from which a voltage is that of whatever is near: what stands there counts for almost
// nothing (a meter of 10 megohm takes a quarter of it at 3 megohm, and a hand near the wire moves it; common practice).
const ghostly = 3e6

// alike says that a pair is as at the sound door, so that its sways are too.
func alike(a, b Shown) bool {
	return math.Abs(a.Value-b.Value) < 0.001+0.0005*math.Abs(b.Value) && math.Abs(a.Behind-b.Behind) <= 0.1*b.Behind+1
}
