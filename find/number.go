package find

import (
	"slices"

	"doorwright/fault"
	"doorwright/meter"
	"doorwright/signal"
	"doorwright/wiring"
)

// often says how often each cause of package signal is at work where a number comes wrong, by its id; what is left of 1 is
// any cause or none.
type often map[string]float64

// What becomes of a card number (common practice, no source). What a cut or crossed data line does to it follows from
// SIA AC-01: each bit is a pulse on one of two lines.
var (
	comesRight   = often{"same": 0.997} // else two faults at once
	comesUnknown = often{"same": 0.95}
	byNumber     = map[string]often{ // what the circuit lets through, as meter.Sighting has it
		"complement": {"swapped-lines": 0.997},
		"ones":       {"open-d0": 0.997},
		"zeros":      {"open-d1": 0.997},
	}
	comesWeak  = often{"same": 0.5, "lost-bits": 0.2, "shifted-bits": 0.1, "added-bits": 0.07, "changed-bits": 0.07}
	comesNoisy = often{"same": 0.2, "lost-bits": 0.3, "shifted-bits": 0.1, "added-bits": 0.2, "changed-bits": 0.1, "two-reads": 0.05}
	comesTwice = often{"same": 0.6, "two-reads": 0.3, "lost-bits": 0.05}
	comesCut   = often{
		"wrong-format": 0.4, "other-split": 0.15, "facility": 0.15, "cut-off": 0.15, "display": 0.05, "same": 0.03,
	}
	comesTurned = often{"reversed-bits": 0.4, "byte-order": 0.3, "bit-order-in-bytes": 0.15, "swapped-and-reversed": 0.1}
	comesOther  = often{"another-card": 0.7, "facility": 0.25}
)

// testimony is how likely an observation is with a suspect that has a row, one number for all scales alike.
type testimony func(*suspect, *meter.Row) float64

// testimonyOf understands an observation once for all suspects.
func (f *Finder) testimonyOf(o meter.Observation) testimony {
	stop := f.book.Stop(o.In)
	if o.What == meter.Works {
		return f.testimonyOfUse(o.Is)
	}
	received, expected, ok := o.Numbers()
	if called := (seeable{stop, o.What, o.Is}); !ok && o.Called {
		if all := f.callable(); slices.Contains(all, called) {
			return f.testimonyOfCall(called, all)
		}
	}
	if !ok {
		return func(s *suspect, row *meter.Row) float64 { return chance(s, row, stop, o.What, o.Is) }
	}
	c := signal.Compare(expected, received, signal.Formats())
	return func(s *suspect, row *meter.Row) float64 {
		seen := row.Sights[stop].Number
		if seen == "none" {
			return arrivesAtAll * c.Likelihood(comesWeak)
		}
		return c.Likelihood(s.numbers(seen))
	}
}

// NumberRead is a card number that was read, with what it says by itself.
type NumberRead struct {
	Received, Expected string
	Likeliest          *signal.Explanation // nil when nothing explains it
}

// Numbers are the card numbers that were read and for which one was expected, in turn.
func (f *Finder) Numbers() []NumberRead {
	var all []NumberRead
	for _, o := range f.seen {
		received, expected, ok := o.Numbers()
		if !ok {
			continue
		}
		n := NumberRead{Received: received.Text, Expected: expected.Text}
		if c := signal.Compare(expected, received, signal.Formats()); len(c.Explanations) > 0 {
			n.Likeliest = &c.Explanations[0]
		}
		all = append(all, n)
	}
	return all
}

// arrivesAtAll is how often a number arrives where none should: now and then a loose core holds.
const arrivesAtAll = 0.1

// numbers says what becomes of a number with a suspect that lets through what is seen of it.
func (s *suspect) numbers(seen string) often {
	switch {
	case s.id == Unknown:
		return comesUnknown
	case s.comes != nil:
		return s.comes
	case byNumber[seen] != nil:
		return byNumber[seen]
	case s.weakens():
		return comesWeak
	}
	return comesRight
}

// weakens says that a fault leaves a data line, but not as it should be.
func (s *suspect) weakens() bool {
	if s.fault == nil || s.class != fault.High && s.class != fault.Wet && s.class != fault.Earthed && s.class != fault.Grounded {
		return false
	}
	for _, w := range s.fault.At {
		if w.Use == wiring.Data {
			return true
		}
	}
	return false
}
