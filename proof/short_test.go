package proof_test

import "testing"

// sample is every so manieth case in short mode, as the race detector runs, and else all: races do not hide in one
// requirement more than in another.
func sample[T any](all []T, every int) []T {
	if !testing.Short() {
		return all
	}
	var some []T
	for i := 0; i < len(all); i += every {
		some = append(some, all[i])
	}
	return some
}
