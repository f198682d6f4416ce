package document

import "errors"

// Apart takes joined errors apart; none of nil. Only a list of nothing but errors is one: a sentence around several stays whole.
func Apart(err error) []error {
	if err == nil {
		return nil
	}
	joined, ok := err.(interface{ Unwrap() []error }) //nolint:errorlint // only the outermost is a list
	if !ok || errors.Join(joined.Unwrap()...).Error() != err.Error() {
		return []error{err}
	}
	var all []error
	for _, one := range joined.Unwrap() {
		all = append(all, Apart(one)...)
	}
	return all
}
