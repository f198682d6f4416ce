package fault

// Nobody knows how large a fault is that has a size: of such a fault the catalogue has one, and these are the standard deviations of
// its logarithm around that one (figures of our own choice).
const (
	jointSpread  = 0.6 // of the resistance of a bad joint or a leak
	touchSpread  = 0.8 // of the resistance where two conductors touch that should not
	DriftSpread  = 0.3 // of how many times its resistance a part has
	sourceSpread = 0.1 // of how much of its voltage a source still gives
)
