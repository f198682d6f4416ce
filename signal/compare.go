package signal

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Explanation is one cause that would turn the expected number into the one received.
type Explanation struct {
	Cause
	Where  string    `json:"where,omitempty"` // which bits, or how to read the numbers
	Format string    `json:"format"`          // the format in which it fits; empty when none is needed
	Sent   Bits      `json:"sent,omitempty"`  // what the card sent by this explanation
	Got    Bits      `json:"got,omitempty"`   // what arrived
	At     Positions `json:"at,omitempty"`    // bits lost of those sent; bits added or changed of those that arrived
	Share  float64   `json:"share"`           // 0 to 1, of all causes tried and of chance
}

// Comparison is what an expected and a received number say together.
type Comparison struct {
	Explanations []Explanation // most likely first; none when nothing fits
	Chance       float64       // the share left for none of them
	likely       map[string]float64
	anyhow       float64
}

// Likelihood says how likely the received number is where it is known how often each cause is at work, against how likely
// it is anyhow: above 1 it speaks for that, below 1 against it. Often holds a share of 1 for each cause by its id; what is
// left of 1 is any of the causes or none, as often as each is met.
func (c Comparison) Likelihood(often map[string]float64) float64 {
	sum, rest := 0.0, 1.0
	for _, k := range Causes() { // in their order, so that the sum is the same to the last digit
		sum += often[k.ID] * c.likely[k.ID] / c.anyhow
		rest -= often[k.ID]
	}
	return sum + rest
}

// Agree says that there is no difference to explain.
func (c Comparison) Agree() bool { return len(c.Explanations) > 0 && c.Explanations[0].agree() }

// chance is how often a wrong number has none of the causes here: another card was shown, somebody misread. It is
// weighed with the odds that a number agrees with a cause by accident. Common practice, no source.
const chance = 0.05

// leastShare is the smallest share worth telling when there is a better one.
const leastShare = 0.005

// Compare tries every cause on every format and ranks what fits. Of formats that fit alike, those listed first count more. It never makes up an explanation: what fits nothing
// has none.
func Compare(expected, received Number, formats []*Format) Comparison {
	c := comparer{expected: expected, received: received, at: map[string]int{}}
	if c.numbers() {
		return c.ranked()
	}
	for i, f := range formats {
		for _, s := range candidates(expected, received, f) {
			s.prior /= float64(i + 1)
			c.candidate(s, formats)
		}
	}
	if expected.Bits != "" && received.Bits != "" && len(c.found) == 0 {
		c.candidate(candidate{nil, expected.Bits, causeSame, "", 1}, nil)
	}
	return c.ranked()
}

type comparer struct {
	expected, received Number
	found              []Explanation // Share holds weights until they are ranked
	at                 map[string]int
}

// add notes an explanation; of equal ones the weights add up and the better note stands.
func (c *comparer) add(e Explanation) {
	key := e.ID + "|" + e.Where
	i, again := c.at[key]
	if !again {
		c.at[key] = len(c.found)
		c.found = append(c.found, e)
		return
	}
	sum := c.found[i].Share + e.Share
	if e.Share > c.found[i].Share {
		c.found[i] = e
	}
	c.found[i].Share = sum
}

// candidate tries the causes on one read that may have been sent.
func (c *comparer) candidate(s candidate, formats []*Format) {
	outcomes := whole(s.bits)
	if c.received.Bits != "" {
		outcomes = append(outcomes, aligned(s.bits, c.received.Bits)...)
	} else {
		outcomes = append(outcomes, slips(s.bits)...)
	}
	for _, o := range outcomes {
		for _, x := range shown(o.bits, s.format, c.received) {
			c.combine(s, o, x)
		}
	}
	if c.received.Bits != "" {
		return
	}
	for _, other := range formats {
		if other == s.format || s.cause != causeSame {
			continue
		}
		for _, x := range shown(s.bits, other, c.received) {
			if x.cause != causeSame {
				continue
			}
			x.cause = causeFormat
			x.note = join(fmt.Sprintf("the card sends format %s, the controller reads %s", s.format.ID, other.ID), x.note)
			x.prior /= 4
			c.combine(s, outcome{cause: causeSame, bits: s.bits, ways: 1}, x)
		}
	}
}

// combine joins what the card sent, what became of it and how it was shown. At most one of the three may be at fault:
// two faults at once explain anything.
func (c *comparer) combine(s candidate, o outcome, x form) {
	cause := causeSame
	weight := s.prior / o.ways * x.prior
	for _, id := range []string{s.cause, o.cause, x.cause} {
		if id == causeSame || id == cause {
			continue
		}
		if cause != causeSame {
			return
		}
		cause = id
	}
	k := causeOf(cause)
	e := Explanation{
		Cause: k, Where: join(o.where, s.note, x.note), Sent: s.bits, Got: o.bits, At: o.at, Share: weight * k.prior,
	}
	if cause == causeOther {
		e.Sent, e.Got = "", "" // these are of two cards, and stand for nothing on the wire
	}
	if s.format != nil {
		e.Format = s.format.ID
	}
	if cause == causeSame && c.received.Bits == "" && c.expected.Bits == "" &&
		(c.received.Value == nil) != (c.expected.Value == nil) {
		k = causeOf(causeDisplay)
		e.Cause = k
	}
	c.add(e)
}

// agree says that an explanation finds no difference between the numbers.
func (e Explanation) agree() bool { return e.ID == causeSame || e.ID == causeDisplay }

// ranked sorts by weight and turns weights into shares. Where the numbers agree, there is nothing else to explain.
func (c *comparer) ranked() Comparison {
	if slices.ContainsFunc(c.found, Explanation.agree) {
		c.found = slices.DeleteFunc(c.found, func(e Explanation) bool { return !e.agree() })
	}
	rest := chance * math.Exp2(-float64(c.received.knows()))
	sum := rest
	r := Comparison{likely: map[string]float64{}}
	for _, e := range c.found {
		sum += e.Share
		r.likely[e.ID] += e.Share / e.prior
	}
	r.anyhow = chance
	for _, k := range Causes() {
		r.anyhow += k.prior
	}
	r.anyhow = sum / r.anyhow
	slices.SortStableFunc(c.found, func(a, b Explanation) int { return cmp.Compare(b.Share, a.Share) })
	for i, e := range c.found {
		e.Share /= sum
		if i == 0 || e.Share >= leastShare {
			r.Explanations = append(r.Explanations, e)
		} else {
			rest += e.Share * sum
		}
	}
	r.Chance = rest / sum
	return r
}

// gap stands where a bit is in one of two reads and not in the other.
const gap = '-'

// Aligned gives what was sent and what arrived so that equal bits stand under each other, as far as the cause lets them.
func (e Explanation) Aligned() (sent, got string) {
	sent, got = string(e.Sent), string(e.Got)
	switch e.ID {
	case causeLost:
		got = spread(got, e.At)
	case causeAdded:
		sent = spread(sent, e.At)
	}
	return sent, got
}

// spread puts a gap at each position of the result.
func spread(bits string, at Positions) string {
	out := make([]byte, 0, len(bits)+len(at))
	for k := 0; len(bits) > 0 || k < len(at); {
		switch {
		case k < len(at) && at[k] == len(out)+1:
			out = append(out, gap)
			k++
		case bits == "":
			return string(out)
		default:
			out = append(out, bits[0])
			bits = bits[1:]
		}
	}
	return string(out)
}
