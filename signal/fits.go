package signal

import (
	"fmt"
	"math/big"
	"math/bits"
	"strings"
)

// mostIdentity is how many bits the longest identity number of a contactless card has: 10 bytes (ISO/IEC 14443-3, from memory).
const mostIdentity = 80

// NoCard says why no card of the formats carries a number, with the largest that fits; empty where one may. A number in one piece
// may have more bits than a format has room for: readers cut identity numbers.
func NoCard(n Number, formats []*Format) string {
	if n.Fields == nil {
		return tooLong(n.Value, formats)
	}
	var most []string
	for _, f := range formats {
		if _, err := f.Encode(n.Fields); err == nil {
			return ""
		}
		most = append(most, fmt.Sprintf("%s (format %s)", f.most(), f.ID))
	}
	return "fits into no card format; the largest that fits is " + strings.Join(most, ", ")
}

// NoRead is the same of a number that was read: a controller may split it where no format does, so each of its fields has all the
// bits of a format to fit into.
func NoRead(n Number, formats []*Format) string {
	if n.Fields == nil {
		return tooLong(n.Value, formats)
	}
	room := 0
	for _, f := range formats {
		room = max(room, len(f.dataBits()))
	}
	for _, v := range n.Fields {
		if bits.Len64(v) > room {
			return fmt.Sprintf("has a field of %d bits, and no format has more than %d: the largest that fits is %d", bits.Len64(v), room, uint64(1)<<room-1)
		}
	}
	return ""
}

// tooLong says that a number in one piece has more bits than any card; nil is none.
func tooLong(v *big.Int, formats []*Format) string {
	most := mostIdentity
	for _, f := range formats {
		most = max(most, f.Bits)
	}
	if v == nil || v.BitLen() <= most {
		return ""
	}
	largest := new(big.Int).Lsh(big.NewInt(1), uint(most))
	return fmt.Sprintf("has %d bits, and no card has more than %d: the largest number that fits is %v", v.BitLen(), most, largest.Sub(largest, big.NewInt(1)))
}

// most names the fields with the largest number that each holds: "facility 255, card 65535".
func (f *Format) most() string {
	parts := make([]string, len(f.Fields))
	for i, e := range f.Fields {
		parts[i] = fmt.Sprintf("%s %d", e.Key, ^uint64(0)>>(mostField-len(e.Value)))
	}
	return strings.Join(parts, ", ")
}
