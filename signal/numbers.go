package signal

import (
	"fmt"
	"math/big"
)

// plain notes an explanation that needs no format.
func (c *comparer) plain(id, where string, prior float64) {
	c.add(Explanation{Cause: causeOf(id), Where: where, Share: prior * causeOf(id).prior})
}

// numbers compares two plain numbers without any format, and says whether they are equal.
func (c *comparer) numbers() bool {
	a, b := c.expected.Value, c.received.Value
	switch {
	case a == nil || b == nil:
		return false
	case a.Cmp(b) != 0:
	case c.expected.Hex == c.received.Hex:
		c.plain(causeSame, "", 1)
		return true
	default:
		c.plain(causeDisplay, "one is hexadecimal, the other decimal", 1)
		return true
	}
	c.turned(a, b, 0.5, "")
	for _, k := range []uint{16, 24, 32, 35, 40, 48, 56} {
		mask := new(big.Int).Sub(new(big.Int).Lsh(big.NewInt(1), k), big.NewInt(1))
		if uint(a.BitLen()) > k && new(big.Int).And(a, mask).Cmp(b) == 0 {
			c.plain(causeCut, fmt.Sprintf("of %d bits the last %d arrive", a.BitLen(), k), 0.3)
		}
	}
	c.withoutLetters(a, b)
	return false
}

// turned tries whether the bytes, or the bits in each byte, stand in reverse order.
func (c *comparer) turned(a, b *big.Int, prior float64, note string) {
	for _, n := range byteLengths(a, b) {
		raw := bytesOf(a, n)
		if new(big.Int).SetBytes(reversedBytes(raw)).Cmp(b) == 0 {
			c.plain(causeByteOrder, join(fmt.Sprintf("%d bytes", n), note), prior)
		}
		if new(big.Int).SetBytes(turnedBytes(raw)).Cmp(b) == 0 {
			c.plain(causeBitOrder, join(fmt.Sprintf("%d bytes", n), note), prior)
		}
	}
}

// withoutLetters tries numbers that were taken for decimal as hexadecimal ones that happen to have no letter.
func (c *comparer) withoutLetters(a, b *big.Int) {
	const note = "hexadecimal, though it has no letter in it"
	x, y := a, b
	if v, ok := new(big.Int).SetString(c.expected.Text, 16); ok && !c.expected.Hex {
		x = v
	}
	if v, ok := new(big.Int).SetString(c.received.Text, 16); ok && !c.received.Hex {
		y = v
	}
	switch {
	case x == a && y == b:
	case a.Cmp(y) == 0:
		c.plain(causeDisplay, "the number received is "+note, 0.5)
	case x.Cmp(b) == 0:
		c.plain(causeDisplay, "the number expected is "+note, 0.5)
	default:
		c.turned(x, y, 0.2, "both numbers are taken for hexadecimal")
	}
}

// byteLengths are the lengths in which two numbers may have been stored: the bytes they need, and the usual lengths of
// card numbers and of identity numbers of contactless cards (4, 7 and 10 bytes: ISO/IEC 14443-3, from memory).
func byteLengths(a, b *big.Int) []int {
	least := (max(a.BitLen(), b.BitLen()) + 7) / 8
	lengths := []int{least}
	for _, n := range []int{3, 4, 5, 7, 8, 10} {
		if n > least {
			lengths = append(lengths, n)
		}
	}
	return lengths
}
