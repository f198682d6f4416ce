package standby

import (
	"math"

	"doorwright/unit"
)

const (
	// ratedTime is the discharge time a battery's capacity is stated for: 20 h (common practice for small valve-regulated
	// batteries).
	ratedTime unit.Second = 20 * hour
	// agm is Peukert's exponent of valve-regulated batteries with glass mat. 1.05 to 1.15 is usual (from memory); the
	// upper end gives the shorter time.
	agm = 1.15
	// ageing is how much more a new battery must have than one that is due for replacement at 80 % of its capacity
	// (IEEE 485, from memory; also BS 5839-1 annex D). No design margin is put on top: the two overlap.
	ageing = 1.25
	// longest is the answer where nothing is drawn: after a month or so self-discharge counts (common practice).
	longest unit.Second = 30 * 24 * hour
	hour    unit.Second = 3600
)

// lasts is how long a battery of the 20 h capacity c gives the current i, by Peukert's law tied to the rated time,
// t = H (C/(I H))^k. For less than the rated current it is C/I: the law would promise more than is rated.
func lasts(c unit.AmpereHour, i unit.Ampere, k float64) unit.Second {
	if !(c > 0) {
		return 0
	}
	if !(i > 0) {
		return longest
	}
	rated := float64(c) / (float64(i) * float64(ratedTime/hour)) // the current of the 20 h rate against this one
	if rated < 1 {
		return ratedTime * unit.Second(math.Pow(rated, k))
	}
	return ratedTime * unit.Second(rated)
}

// needed is the 20 h capacity that gives the current i for the time t: the inverse of lasts.
func needed(i unit.Ampere, t unit.Second, k float64) unit.AmpereHour {
	share := math.Min(1, float64(t/ratedTime))
	return unit.AmpereHour(float64(i) * float64(t/hour) / math.Pow(share, 1-1/k))
}
