package find

import "doorwright/meter"

// seeable is one answer to one thing that can be seen in one act.
type seeable struct {
	stop int
	what meter.Sight
	is   string
}

// callable is all that somebody may call for. Nobody calls for a fuse that he has not looked at, or gives a fire signal to try a
// door in use.
func (f *Finder) callable() []seeable {
	var all []seeable
	for i := range f.book.Stops {
		in := f.book.Stops[i].In
		if in.Power != meter.On || in.Act == meter.Fire {
			continue
		}
		for _, what := range meter.Sights() {
			if what == meter.FuseBlown || !seenWhile(what, in.Act) {
				continue
			}
			for _, is := range what.Answers() {
				all = append(all, seeable{i, what, is})
			}
		}
	}
	return all
}

// testimonyOfCall is how likely each suspect makes it that somebody calls for just this. Whoever calls names one of the things
// that are otherwise than at the sound door, any as likely as another (common practice, no source): a fault that shows in
// nothing else is called for by it, and one that shows in twenty things mostly by another.
func (f *Finder) testimonyOfCall(called seeable, all []seeable) testimony {
	sound := f.suspectOf(Healthy)
	chances := make(map[seeable]float64, len(all))
	for _, x := range all {
		chances[x] = chance(sound, f.book.Sound, x.stop, x.what, x.is)
	}
	things := float64(len(all))
	return func(s *suspect, row *meter.Row) float64 {
		as := s
		if s.id == Unknown {
			as = sound
		}
		amiss := func(x seeable) float64 { return max(0, chance(as, row, x.stop, x.what, x.is)-chances[x]) }
		sum := 0.0
		for _, x := range all {
			sum += amiss(x)
		}
		p := misseen/things + (1-misseen)*amiss(called)/max(sum, 1)
		if s.id == Unknown {
			return (1-unknownElse)*p + unknownElse/things
		}
		return p
	}
}
