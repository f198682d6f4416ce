package signal

import (
	"fmt"
	"math/big"
)

// candidate is a read that the expected card may have sent.
type candidate struct {
	format *Format
	bits   Bits
	cause  string // causeSame, or what makes it differ from the number printed
	note   string
	prior  float64
}

// candidates lists what the expected card may have sent in a format.
func candidates(expected, received Number, f *Format) []candidate {
	switch {
	case expected.Bits != "":
		if len(expected.Bits) == f.Bits {
			return []candidate{{f, expected.Bits, causeSame, "", 1}}
		}
	case expected.Value != nil:
		return ofNumber(expected.Value, received, f)
	default:
		if b, err := f.Encode(expected.Fields); err == nil {
			return []candidate{{f, b, causeSame, "", 1}}
		}
	}
	return nil
}

// ofNumber lists the reads that one printed number may stand for.
func ofNumber(v *big.Int, received Number, f *Format) []candidate {
	var all []candidate
	add := func(cause, note string, prior float64, data Bits) {
		all = append(all, candidate{f, f.frame(data), cause, note, prior})
	}
	size := len(f.dataBits())
	if v.BitLen() <= size {
		add(causeSame, "the number printed is the bits without parity", 0.3, padded(v, size))
	} else {
		add(causeCut, fmt.Sprintf("the number printed has %d bits, format %s has room for %d", v.BitLen(), f.ID,
			size), 0.05, padded(v, size))
		turned := new(big.Int).SetBytes(reversedBytes(bytesOf(v, 0)))
		add(causeByteOrder, fmt.Sprintf("the number printed has its bytes in reverse order and is cut to the %d bits that format %s has room for", size, f.ID),
			0.01, padded(turned, size))
	}
	if b := padded(v, f.Bits); v.BitLen() <= f.Bits && v.BitLen() > size {
		all = append(all, candidate{f, b, causeSame, "the number printed is all bits", 0.2})
	}
	if len(f.Fields) != 2 {
		return all
	}
	if facility, card := new(big.Int).DivMod(v, big.NewInt(100_000), new(big.Int)); facility.IsUint64() &&
		facility.Sign() > 0 {
		if b, err := f.Encode([]uint64{facility.Uint64(), card.Uint64()}); err == nil {
			all = append(all, candidate{f, b, causeSame, "the number printed is facility and card side by side", 0.2})
		}
	}
	return append(all, ofCard(v, received, f)...)
}

// ofCard lists the reads of a card whose number is known and whose facility is not: it is taken from what was received,
// as it is and as the faults that touch all bits would have left it.
func ofCard(v *big.Int, received Number, f *Format) []candidate {
	if !v.IsUint64() || v.BitLen() > len(f.Fields[1].Value) {
		return nil
	}
	got := received.Bits
	if received.Bits == "" {
		if len(received.Fields) != 2 {
			return nil
		}
		b, err := f.Encode(received.Fields)
		if err != nil {
			return nil
		}
		got = b
	}
	if len(got) != f.Bits {
		return nil
	}
	var all []candidate
	for _, b := range []Bits{got, got.Inverted(), got.Reversed(), got.Inverted().Reversed()} {
		facility := pick(b, f.Fields[0].Value).Value().Uint64()
		if sent, err := f.Encode([]uint64{facility, v.Uint64()}); err == nil {
			all = append(all, candidate{f, sent, causeSame, fmt.Sprintf("the number printed is the card; its facility "+
				"would be %d", facility), 0.1})
		}
	}
	return all
}

// frame lays data bits into the fields and works out the parity.
func (f *Format) frame(data Bits) Bits {
	vals := make([]uint64, len(f.Fields))
	for i, e := range f.Fields {
		vals[i] = data[:len(e.Value)].Value().Uint64()
		data = data[len(e.Value):]
	}
	b, err := f.Encode(vals)
	if err != nil {
		return zeros(f.Bits) // the values were cut to their fields
	}
	return b
}

// padded is the last n bits of a number.
func padded(v *big.Int, n int) Bits {
	b := Bits(fmt.Sprintf("%0*b", n, v))
	return b[len(b)-n:]
}
