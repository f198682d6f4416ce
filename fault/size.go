package fault

// Nobody knows how large a fault is that has a size: of such a fault the catalogue has one, and these are the standard deviations of
// its logarithm around that one (figures of our own choice).
const (
	jointSpread  = 0.6 // of the resistance of a bad joint or a leak
	driftSpread  = 0.3 // of how many times its value a part has
	sourceSpread = 0.1 // of how much of its voltage a source still gives
)

// What a part has of its value when it is changed out of recognition, as when it is open, is no size.
const (
	leastDrift = 0.1
	mostDrift  = 10
)

// Spread is the standard deviation of the logarithm of the size of a fault: of the resistance of a bad joint, of the leak in a wet
// cable, of how far a part or a source is off its value. 0 says that it has no size.
func (f *Fault) Spread() float64 {
	if f == nil || len(f.Edits) == 0 {
		return 0
	}
	first := &f.Edits[0]
	for i := range f.Edits {
		if e := &f.Edits[i]; e.Op != first.Op || e.Ohms != first.Ohms || e.Factor != first.Factor {
			return 0 // two faults at once
		}
	}
	switch {
	case first.Op == Scale && (first.Factor < leastDrift || first.Factor > mostDrift):
		return 0
	case first.Op == Scale && f.Class == Source:
		return sourceSpread
	case first.Op == Scale:
		return driftSpread
	case (f.Class == High || f.Class == Wet) && (first.Op == Resist || first.Op == Join):
		return jointSpread
	}
	return 0
}
