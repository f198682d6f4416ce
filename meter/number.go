package meter

import (
	"errors"
	"fmt"
	"strings"

	"doorwright/document"
	"doorwright/signal"
)

// expectedWord stands between the number that was read and the one on the card.
const expectedWord = "expected"

// parseNumbers reads "165/65211 expected 90/324": what the controller had of a card, and what the card is. Both are written
// as signal.ParseNumber reads them; bits, such as 0b1111111, tell most.
func parseNumbers(text string) (received, expected signal.Number, err error) {
	got, want, ok := strings.Cut(text, expectedWord)
	if !ok || strings.TrimSpace(got) == "" || strings.TrimSpace(want) == "" {
		return received, expected, fmt.Errorf("%q does not say which number was read and which is expected; write it like %q", text,
			"165/65211 expected 90/324")
	}
	received, wrong := signal.ParseNumber(got)
	expected, more := signal.ParseNumber(want)
	return received, expected, errors.Join(
		misfit("read", received, wrong, signal.NoRead(received, signal.Formats())),
		misfit("expected", expected, more, signal.NoCard(expected, signal.Formats())))
}

// misfit is what is wrong with one of the numbers: as a number, else as one that no card carries.
func misfit(which string, n signal.Number, wrong document.Problems, no string) error {
	switch {
	case len(wrong) > 0:
		return fmt.Errorf("number %s: %w", which, wrong)
	case no != "":
		return fmt.Errorf("number %s: %q %s", which, n.Text, no)
	}
	return nil
}

// Numbers are the two numbers of an answer to "number read was" that gives them; false for every other observation.
func (o Observation) Numbers() (received, expected signal.Number, ok bool) {
	if o.What != NumberRead {
		return received, expected, false
	}
	received, expected, err := parseNumbers(o.Is)
	return received, expected, err == nil
}
