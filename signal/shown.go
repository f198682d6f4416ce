package signal

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
)

// form is one way in which a card or a display gives a read as one number.
type form struct {
	cause string // what it is called when card and display differ in it; causeSame for the plain ones
	note  string
	value *big.Int
	prior float64
}

// forms lists the ways to give a read of a format as one number. Which are in use, and how often, is common practice,
// no source.
func forms(b Bits, f *Format) []form {
	all := []form{{causeSame, "all bits as one number", b.Value(), 0.2}}
	if f == nil || len(b) != f.Bits {
		return append(all, orders(b, "all bits")...)
	}
	data := pick(b, f.dataBits())
	all = append(all, form{causeSame, "the bits without parity as one number", data.Value(), 0.3})
	if n := len(f.Fields); n > 1 {
		last := pick(b, f.Fields[n-1].Value)
		all = append(all, form{causeSame, "the " + f.Fields[n-1].Key + " alone", last.Value(), 0.3})
		if n == 2 {
			all = append(all, form{
				causeSame, "facility and card written side by side, the card with five digits",
				sideBySide(b, f), 0.2,
			})
		}
	}
	all = append(all, orders(data, "the bits without parity")...)
	return append(all, orders(b, "all bits")...)
}

// sideBySide is the number many cards carry in print: facility, then the card with five digits.
func sideBySide(b Bits, f *Format) *big.Int {
	v := pick(b, f.Fields[0].Value).Value()
	v.Mul(v, big.NewInt(100_000))
	return v.Add(v, pick(b, f.Fields[1].Value).Value())
}

// orders lists the value of bits with its bytes, or the bits in each byte, counted from the other end.
func orders(b Bits, what string) []form {
	bytes := bytesOf(b.Value(), (len(b)+7)/8)
	return []form{
		{causeByteOrder, what, new(big.Int).SetBytes(reversedBytes(bytes)), 0.05},
		{causeBitOrder, what, new(big.Int).SetBytes(turnedBytes(bytes)), 0.01},
	}
}

func bytesOf(v *big.Int, n int) []byte {
	n = max(n, (v.BitLen()+7)/8)
	return v.FillBytes(make([]byte, n))
}

func reversedBytes(b []byte) []byte {
	r := slices.Clone(b)
	slices.Reverse(r)
	return r
}

// turnedBytes turns every byte round in itself.
func turnedBytes(b []byte) []byte {
	r := make([]byte, len(b))
	for i, x := range b {
		for k := range 8 {
			r[i] |= x >> k & 1 << (7 - k)
		}
	}
	return r
}

// taken is what a controller that waits for a format's length may make of a read of any length. Most take no read of a
// wrong length at all, so these count little (common practice, no source).
func taken(b Bits, f *Format) []outcome {
	switch d := len(b) - f.Bits; {
	case d == 0:
		return []outcome{{bits: b, ways: 1}}
	case d > 0:
		return []outcome{
			{bits: b[:f.Bits], where: fmt.Sprintf("the controller takes the first %d bits", f.Bits), ways: 8},
			{bits: b[d:], where: fmt.Sprintf("the controller takes the last %d bits", f.Bits), ways: 8},
		}
	default:
		return []outcome{
			{bits: zeros(-d) + b, where: "the controller fills up with zeros in front", ways: 16},
			{bits: b + zeros(-d), where: "the controller fills up with zeros at the end", ways: 16},
		}
	}
}

// shown lists how a read that arrived as b may have become what was received, when the controller reads format f: none
// when it cannot.
func shown(b Bits, f *Format, received Number) []form {
	if received.Bits != "" {
		switch {
		case b == received.Bits:
			return []form{{causeSame, "", nil, 1}}
		case f == nil || len(b) != f.Bits:
			return nil
		}
		if c, err := f.Decode(received.Bits); err == nil && c.Valid() {
			return otherCard(values(b, f), values(received.Bits, f), f)
		}
		return nil
	}
	var all []form
	for _, t := range taken(b, f) {
		for _, s := range agreeing(t.bits, f, received) {
			s.note = join(s.note, t.where)
			s.prior /= t.ways
			all = append(all, s)
		}
	}
	return all
}

func agreeing(b Bits, f *Format, received Number) []form {
	if received.Value == nil {
		return fieldsAgreeing(b, f, received.Fields)
	}
	var all []form
	for _, x := range forms(b, f) {
		if x.value.Cmp(received.Value) == 0 {
			all = append(all, x)
		}
	}
	return all
}

// fieldsAgreeing compares fields: as the format has them, split elsewhere, or with another facility.
func fieldsAgreeing(b Bits, f *Format, fields []uint64) []form {
	own := values(b, f)
	if slices.Equal(own, fields) {
		return []form{{causeSame, "", nil, 1}}
	}
	if len(own) != 2 || len(fields) != 2 {
		return nil
	}
	data := pick(b, f.dataBits())
	for k := 1; k < min(len(data), mostField); k++ {
		high, low := data[:len(data)-k].Value(), data[len(data)-k:].Value()
		if high.IsUint64() && high.Uint64() == fields[0] && low.Uint64() == fields[1] {
			return []form{{causeSplit, fmt.Sprintf("the received number has %d bits of card, format %s has %d",
				k, f.ID, len(f.Fields[1].Value)), nil, 1 / float64(len(data))}}
		}
	}
	if own[1] == fields[1] && own[1] > 0 {
		return []form{{causeFacility, fmt.Sprintf("%s %d is expected, %d received", f.Fields[0].Key, own[0],
			fields[0]), nil, 1.0 / 256}}
	}
	return otherCard(own, fields, f)
}

// neighbours is how far numbers in one box of cards lie apart.
const neighbours = 100

// otherCard is for a read of the same facility and another card: in all likelihood that is what it is.
func otherCard(own, fields []uint64, f *Format) []form {
	if len(own) != 2 || own[0] != fields[0] || own[1] == fields[1] {
		return nil
	}
	apart := max(own[1], fields[1]) - min(own[1], fields[1])
	x := form{
		causeOther, fmt.Sprintf("%s %d is right, the %s is %d away", f.Fields[0].Key, own[0],
			f.Fields[1].Key, apart),
		nil, math.Exp2(-float64(len(f.Fields[1].Value))),
	}
	if apart <= neighbours {
		x.prior = 1.0 / (2 * neighbours)
	}
	return []form{x}
}

// values are the fields of a read, in order.
func values(b Bits, f *Format) []uint64 {
	all := make([]uint64, len(f.Fields))
	for i, e := range f.Fields {
		all[i] = pick(b, e.Value).Value().Uint64()
	}
	return all
}

func join(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "; ")
}
