package fault

import "slices"

// appendNew appends what the list does not hold yet.
func appendNew[T comparable](list []T, more ...T) []T {
	for _, x := range more {
		if !slices.Contains(list, x) {
			list = append(list, x)
		}
	}
	return list
}
