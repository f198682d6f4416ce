package web

import (
	"fmt"
	"math"

	"doorwright/unit"
)

// nothing is what a meter shows as zero: half of the last digit of a usual one, 1 mV (common practice, no source).
const nothing = 0.0005

// volts writes a calculated voltage as it is of use: three figures, and nothing below what a meter shows.
func volts(v unit.Volt) string {
	if math.Abs(float64(v)) < nothing {
		return "0 V"
	}
	return figure(float64(v), "V")
}

// amps writes a calculated current.
func amps(a unit.Ampere) string {
	switch v := math.Abs(float64(a)); {
	case v < 0.00005:
		return "0 mA"
	case v < 1:
		return figure(v*1000, "mA")
	default:
		return figure(v, "A")
	}
}

// figure writes three figures without an exponent.
func figure(v float64, u string) string {
	digits := 0
	if v != 0 {
		digits = max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	return fmt.Sprintf("%.*f %s", min(digits, 3), v, u)
}

// revisionOf tells a revision, and that there is none.
func revisionOf(r string) string {
	if r == "" {
		return "revision not stated"
	}
	return "revision " + r
}

// counted is a number with the right form of a word.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
