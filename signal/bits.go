// Package signal reads what travels on the data lines of a door: card numbers on the two pulse lines D0 and D1, and
// frames of the open supervised device protocol (IEC 60839-11-5) on a serial pair. It encodes and decodes both, and
// says what a wrong number or a strange capture means on the wire and what to check there.
package signal

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"doorwright/document"
)

// MostBits is the longest read and the longest format taken. Formats in use stay far below.
const MostBits = 256

// Bits is a read as sent, first bit first, each written as 0 or 1.
type Bits string

// ParseBits reads bits as people write them: 0 and 1, with blanks, "_", "." and "-" between groups. It tells every
// wrong
// character, by its place.
func ParseBits(text string) (Bits, document.Problems) {
	var b strings.Builder
	var wrong document.Problems
	column := 0
	for _, r := range text {
		column++
		switch {
		case r == '0' || r == '1':
			b.WriteRune(r)
		case strings.ContainsRune(" \t_.-", r):
		default:
			wrong = append(wrong, document.Problem{
				Line: 1, Column: column, Found: fmt.Sprintf("%q", r),
				Want: "is no bit; write 0 and 1",
			})
		}
	}
	switch n := b.Len(); {
	case len(wrong) > mostProblems:
		wrong = append(wrong[:mostProblems], more(len(wrong)-mostProblems))
	case len(wrong) == 0 && n == 0:
		wrong = document.Problems{{Line: 1, Column: 1, Want: "no bits are given; write 0 and 1"}}
	case n > MostBits:
		wrong = append(wrong, document.Problem{
			Line: 1, Column: 1, Found: fmt.Sprintf("%d bits", n), Want: fmt.Sprintf("a read has at most %d", MostBits),
		})
	}
	return Bits(b.String()), wrong
}

// mostProblems is how many problems of one text are told one by one.
const mostProblems = 20

func more(n int) document.Problem {
	return document.Problem{Want: fmt.Sprintf("there are %d more problems; mend these first", n)}
}

// Inverted is what is read when D0 and D1 are swapped.
func (b Bits) Inverted() Bits {
	return Bits(strings.Map(func(r rune) rune { return '0' + '1' - r }, string(b)))
}

// Reversed is the read from its last bit to its first.
func (b Bits) Reversed() Bits {
	r := []byte(b)
	slices.Reverse(r)
	return Bits(r)
}

// Ones counts the pulses on D1.
func (b Bits) Ones() int { return strings.Count(string(b), "1") }

// Value is the bits as one number, the first bit weighing most.
func (b Bits) Value() *big.Int {
	v, _ := new(big.Int).SetString("0"+string(b), 2)
	return v
}

// Hex is the value in hexadecimal, with the digits the length needs.
func (b Bits) Hex() string { return fmt.Sprintf("%0*X", (len(b)+3)/4, b.Value()) }

// uniform says that all bits are alike.
func (b Bits) uniform() bool { return b.Ones() == 0 || b.Ones() == len(b) }

// at is the bit at a position counted from 1.
func (b Bits) at(position int) byte { return b[position-1] }
