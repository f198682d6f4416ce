package meter

import (
	"math"
	"slices"

	"doorwright/device"
	"doorwright/situation"
)

// turns finds what else a row may show where the door does not come to rest. A unit that keeps restarting goes from one state to
// the next, and what hangs on it follows at its own pace: each end of a pair stands where one of two states has it, the one
// that was solved last and the one that the units made of it.
func (b *Book) turns(row *Row) {
	if !slices.Contains(row.Restless, true) {
		return
	}
	is := islandWith(b.site, b.Door, row.Fault)
	bench := is.FaultyBench(situation.Nominal(), row.Fault)
	start := bench.Save()
	zero := bench.Tap(b.zero())
	row.Turns = make([][]float64, len(b.Pairs))
	for i := range b.Stops {
		if !row.Restless[i] {
			continue
		}
		s := &b.Stops[i]
		bench.Back(start)
		for _, step := range s.steps {
			bench.Take(step)
		}
		if bench.Outcome().Settled() {
			continue
		}
		before := b.stands(s, bench, zero)
		bench.Back(bench.Save()) // what the units did last stands in the network, and was not looked at yet
		bench.Ohms(zero, zero)
		after := b.stands(s, bench, zero)
		for k := s.From; k < s.To; k++ {
			row.Turns[k] = elsewhere(row.Shown[k].Value, before[k-s.From], after[k-s.From])
		}
	}
}

// stands are the voltages of both ends of each pair of a stop.
func (b *Book) stands(s *Stop, bench *situation.Bench, zero situation.Tap) [][2]float64 {
	all := make([][2]float64, s.To-s.From)
	for k := range all {
		p := &b.Pairs[s.From+k]
		all[k] = [2]float64{float64(bench.Between(bench.Tap(p.At), zero)), float64(bench.Between(bench.Tap(p.To), zero))}
	}
	return all
}

// elsewhere is what a pair shows with each end in either state, beyond what is known already.
func elsewhere(shown float64, before, after [2]float64) []float64 {
	all := []float64{shown}
	for _, v := range []float64{before[0] - before[1], after[0] - after[1], before[0] - after[1], after[0] - before[1]} {
		if !slices.ContainsFunc(all, func(x float64) bool { return math.Abs(x-v) < sameTurn }) {
			all = append(all, v)
		}
	}
	return all[1:]
}

// sameTurn is the difference from which two states are told apart, in V: several times what a meter errs by at 12 V. A figure of
// our own choice.
const sameTurn = 0.2

// zero is the minus of the first supply of the door, against which a floating door has voltages as well.
func (b *Book) zero() string {
	for _, s := range b.Door.Supplies() {
		d := b.site.Plan.Device(s.ID)
		for _, port := range d.Model.PortsOf(device.Source) {
			return nodeName(d, device.PinOf(port, "minus"))
		}
	}
	return device.Ground
}
