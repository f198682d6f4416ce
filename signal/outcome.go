package signal

import (
	"fmt"
	"math"
	"strings"
)

// outcome is what may become of a read on its way, by one cause.
type outcome struct {
	cause string
	bits  Bits
	where string    // which bits, in words; empty when all
	ways  float64   // how many outcomes like this one the cause could have had
	at    Positions // of bits lost: in the read sent; of bits added or changed: in the read that arrived
}

// whole lists what becomes of a read when something happens to all of it. It does not depend on what was received.
func whole(sent Bits) []outcome {
	all := []outcome{
		{cause: causeSame, bits: sent, ways: 1},
		{cause: causeSwapped, bits: sent.Inverted(), ways: 1},
		{cause: causeReversed, bits: sent.Reversed(), ways: 1},
		{cause: causeBoth, bits: sent.Inverted().Reversed(), ways: 1},
		{cause: causeTwice, bits: sent + sent, ways: 1},
	}
	if ones := sent.Ones(); !sent.uniform() {
		all = append(all,
			outcome{
				cause: causeOpenD0, bits: Bits(strings.Repeat("1", ones)), ways: 1,
				where: fmt.Sprintf("%d zeros are missing", len(sent)-ones),
			},
			outcome{
				cause: causeOpenD1, bits: zeros(len(sent) - ones), ways: 1,
				where: fmt.Sprintf("%d ones are missing", ones),
			})
	}
	return all
}

// slips lists reads with one pulse lost or added, a few at an end, or all bits moved by one: what can be tried on a
// number when nobody knows the bits received.
func slips(sent Bits) []outcome {
	n := len(sent)
	var all []outcome
	for k := 1; k <= 3 && k < n; k++ {
		all = append(all, lost(sent, sent[k:], 2*float64(k)), lost(sent, sent[:n-k], 2*float64(k)))
	}
	for i := 1; i < n-1; i++ {
		if sent[i] != sent[i-1] { // the loss of any other bit leaves the same read
			all = append(all, lost(sent, sent[:i]+sent[i+1:], float64(4*n)))
		}
	}
	for _, extra := range []Bits{"0", "1"} {
		if n > 2 {
			all = append(all, sameLength(sent, sent[1:]+extra)...)
			all = append(all, sameLength(sent, extra+sent[:n-1])...)
		}
		for i := range n + 1 {
			if i == 0 || sent[i-1:i] != extra {
				ways := float64(8 * n)
				if i == 0 || i == n {
					ways = 8
				}
				all = append(all, added(sent, sent[:i]+extra+sent[i:], ways))
			}
		}
	}
	return all
}

// aligned lists how the bits received may have come of those sent, when neither whole nor simple slips explain them.
// The time it takes grows with the length of the two.
func aligned(sent, got Bits) []outcome {
	switch d := len(got) - len(sent); {
	case sent == got || got == "" || sent == "":
	case d < 0:
		if at, ok := missing(sent, got); ok {
			return []outcome{lost(sent, got, ways(len(sent), -d, contiguous(at)))}
		}
	case d > len(sent)/2 && (strings.HasPrefix(string(got), string(sent)) || strings.HasSuffix(string(got), string(sent))):
		return []outcome{{
			cause: causeTwice, bits: got, ways: 64,
			where: fmt.Sprintf("one is the read expected; of the other there are %s", plural(d, "one bit", "bits")),
		}}
	case d > 0:
		if at, ok := missing(got, sent); ok {
			return []outcome{added(sent, got, ways(len(got), d, contiguous(at))*math.Exp2(float64(d)))}
		}
	default:
		return sameLength(sent, got)
	}
	return nil
}

// mostChanged is how many single wrong bits are still taken for noise, and not for another card.
const mostChanged = 3

func sameLength(sent, got Bits) []outcome {
	n := len(sent)
	for k := 1; k <= 3 && k < n-1; k++ {
		where := ""
		switch {
		case got[:n-k] == sent[k:]:
			where = fmt.Sprintf("the first %s missing, as many added at the end", plural(k, "bit is", "bits are"))
		case got[k:] == sent[:n-k]:
			where = fmt.Sprintf("the last %s missing, as many added in front", plural(k, "bit is", "bits are"))
		default:
			continue
		}
		return []outcome{{cause: causeShifted, bits: got, where: where, ways: float64(2*k) * math.Exp2(float64(k))}}
	}
	var at Positions
	for i := range n {
		if sent[i] != got[i] {
			at = append(at, i+1)
		}
	}
	if len(at) > mostChanged {
		return nil
	}
	return []outcome{{cause: causeChanged, bits: got, where: "bits " + at.String(), ways: ways(n, len(at), false), at: at}}
}

// missing finds bits of long, by position, without which it is short: one block when that is possible, else the
// earliest
// ones. It says no when short is not contained in long in this way.
func missing(long, short Bits) (Positions, bool) {
	k := len(long) - len(short)
	p := common(long, short)
	if long[p+k:] == short[p:] {
		return span(p+1, p+k), true
	}
	var at Positions
	j := 0
	for i := range len(long) {
		if j < len(short) && long[i] == short[j] {
			j++
			continue
		}
		at = append(at, i+1)
	}
	return at, j == len(short) && len(at) <= len(long)/3
}

// common is the length of the longest common beginning, at most that of b.
func common(a, b Bits) int {
	i := 0
	for i < len(b) && i < len(a) && a[i] == b[i] {
		i++
	}
	return i
}

func span(from, to int) Positions {
	var p Positions
	for i := from; i <= to; i++ {
		p = append(p, i)
	}
	return p
}

func contiguous(at Positions) bool { return at[len(at)-1]-at[0] == len(at)-1 }

// ways counts the places k bits of n can be at: in one block, or anywhere.
func ways(n, k int, block bool) float64 {
	if block {
		return float64(n) * float64(k)
	}
	w := 4.0 // scattered faults are rarer than one block
	for i := range k {
		w *= float64(n-i) / float64(i+1) * 2
	}
	return w
}

func lost(sent, got Bits, ways float64) outcome {
	at, _ := missing(sent, got)
	return outcome{causeLost, got, lostWords(sent, at), ways, at}
}

func added(sent, got Bits, ways float64) outcome {
	at, _ := missing(got, sent)
	return outcome{causeAdded, got, addedWords(got, at), ways, at}
}

// lostWords says which bits were lost, and on which line they are sent when it was one line only.
func lostWords(sent Bits, at Positions) string {
	words := ""
	switch {
	case len(at) > 0 && contiguous(at) && at[0] == 1 && len(at) > 1:
		words = fmt.Sprintf("the first %d bits", len(at))
	case len(at) > 0 && contiguous(at) && at[len(at)-1] == len(sent) && len(at) > 1:
		words = fmt.Sprintf("the last %d bits", len(at))
	default:
		words = placeWords(sent, at)
	}
	return words + lineWords(pick(sent, at))
}

func addedWords(got Bits, at Positions) string {
	return "in the read received " + placeWords(got, at) + lineWords(pick(got, at))
}

// placeWords names positions of long; when the one bit stands among equal ones, nobody can tell which of them it was.
func placeWords(long Bits, at Positions) string {
	if len(at) != 1 {
		return "bits " + at.String()
	}
	last := at[0]
	first := last
	for first > 1 && long.at(first-1) == long.at(last) {
		first--
	}
	for last < len(long) && long.at(last+1) == long.at(at[0]) {
		last++
	}
	if first == last {
		return fmt.Sprintf("bit %d", first)
	}
	return fmt.Sprintf("one of bits %d to %d, which are equal", first, last)
}

func lineWords(bits Bits) string {
	switch {
	case bits == "" || !bits.uniform():
		return ""
	case bits[0] == '0' && len(bits) == 1:
		return ", a zero, sent on D0"
	case bits[0] == '0':
		return ", all zeros, sent on D0"
	case len(bits) == 1:
		return ", a one, sent on D1"
	}
	return ", all ones, sent on D1"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return fmt.Sprintf("%d %s", n, many)
}
