package signal

import (
	"fmt"
	"strings"
)

// Field is one number of a card.
type Field struct {
	Name  string `json:"name"`
	Value uint64 `json:"value"`
}

// Check is one parity check of a read.
type Check struct {
	Bit   int       `json:"bit"` // position of the parity bit
	Sense string    `json:"sense"`
	Over  Positions `json:"over"`
	Ones  int       `json:"ones"` // counted, the parity bit included
	Holds bool      `json:"holds"`
}

// Card is a read taken apart by a format.
type Card struct {
	Format *Format
	Bits   Bits
	Fields []Field
	Checks []Check
}

// Decode takes a read apart; it errs when the read has another length than the format.
func (f *Format) Decode(b Bits) (Card, error) {
	if len(b) != f.Bits {
		return Card{}, fmt.Errorf("%d bits were read; format %s has %d", len(b), f.ID, f.Bits)
	}
	c := Card{Format: f, Bits: b}
	for _, e := range f.Fields {
		c.Fields = append(c.Fields, Field{e.Key, pick(b, e.Value).Value().Uint64()})
	}
	for _, p := range f.Parity {
		c.Checks = append(c.Checks, Check{p.Bit, p.Sense, p.Over, p.ones(b), p.holds(b)})
	}
	return c, nil
}

// Valid says that every parity check holds.
func (c Card) Valid() bool { return c.failing() == 0 }

// failing counts the parity checks that do not hold.
func (c Card) failing() int {
	n := 0
	for _, k := range c.Checks {
		if !k.Holds {
			n++
		}
	}
	return n
}

// String names the fields with their values: "facility 90, card 324".
func (c Card) String() string {
	parts := make([]string, len(c.Fields))
	for i, f := range c.Fields {
		parts[i] = fmt.Sprintf("%s %d", f.Name, f.Value)
	}
	return strings.Join(parts, ", ")
}

// pick gives the bits at positions, in their order.
func pick(b Bits, at Positions) Bits {
	picked := make([]byte, len(at))
	for i, p := range at {
		picked[i] = b.at(p)
	}
	return Bits(picked)
}

func zeros(n int) Bits { return Bits(strings.Repeat("0", n)) }

// fieldNames lists the fields for messages: "facility and card".
func (f *Format) fieldNames() string { return strings.Join(f.Fields.Keys(), " and ") }
