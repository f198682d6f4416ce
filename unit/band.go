package unit

import (
	"encoding"
	"fmt"
	"strings"
)

// Band is a closed range of one quantity, written "10.8 V to 13.2 V".
type Band[T ~float64] struct {
	Low  T `json:"low"`
	High T `json:"high"`
}

// Holds says whether v lies in the band, ends included.
func (b Band[T]) Holds(v T) bool { return v >= b.Low && v <= b.High }

// IsZero says that no band was given.
func (b Band[T]) IsZero() bool { return b.Low == 0 && b.High == 0 }

// With is the smallest band that holds b and v.
func (b Band[T]) With(v T) Band[T] { return Band[T]{min(b.Low, v), max(b.High, v)} }

// UnmarshalText reads "LOW to HIGH", both with their unit; it errs when LOW is above HIGH.
func (b *Band[T]) UnmarshalText(text []byte) error {
	low, high, ok := strings.Cut(string(text), " to ")
	if !ok {
		return fmt.Errorf("%q is not a range; write it like \"LOW to HIGH\", both with their unit", text)
	}
	var r Band[T]
	for _, end := range []struct {
		dst  *T
		text string
	}{{&r.Low, low}, {&r.High, high}} {
		u, ok := any(end.dst).(encoding.TextUnmarshaler)
		if !ok {
			return fmt.Errorf("a range of %T cannot be read from text", *end.dst)
		}
		if err := u.UnmarshalText([]byte(end.text)); err != nil {
			return err
		}
	}
	if r.Low > r.High {
		return fmt.Errorf("the range %q starts above its end; write the lower figure first", text)
	}
	*b = r
	return nil
}

// String writes "LOW to HIGH".
func (b Band[T]) String() string { return fmt.Sprintf("%v to %v", b.Low, b.High) }

// MarshalYAML writes both ends exactly.
func (b Band[T]) MarshalYAML() (any, error) {
	type yamler interface{ MarshalYAML() (any, error) }
	low, ok := any(b.Low).(yamler)
	if !ok {
		return b.String(), nil
	}
	l, err := low.MarshalYAML()
	if err != nil {
		return nil, err
	}
	h, err := any(b.High).(yamler).MarshalYAML()
	return fmt.Sprintf("%v to %v", l, h), err
}
