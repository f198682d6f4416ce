package signal

import "fmt"

// Hint is what a read says about the wires without any number to hold it against.
type Hint struct {
	Cause
	Where string `json:"where,omitempty"`
}

// Judgement is a read taken apart by every format of its length, and what is strange about it.
type Judgement struct {
	Cards []Card // by the formats of its length, those with right parity first
	Hints []Hint // none when a format fits
}

// Judge takes a read apart.
func Judge(b Bits, formats []*Format) Judgement {
	var j Judgement
	var doubtful []Card
	for _, f := range formats {
		c, err := f.Decode(b)
		switch {
		case err != nil:
		case c.Valid():
			j.Cards = append(j.Cards, c)
		default:
			doubtful = append(doubtful, c)
		}
	}
	valid := len(j.Cards) > 0
	j.Cards = append(j.Cards, doubtful...)
	switch {
	case b == "":
	case b.uniform() && !valid:
		j.Hints = dead(b)
	case valid:
	case len(j.Cards) > 0:
		j.Hints = failed(j.Cards[0])
	default:
		j.Hints = strange(b, formats)
	}
	return j
}

func hint(id, where string) Hint { return Hint{causeOf(id), where} }

// dead is for a read in which only one line spoke.
func dead(b Bits) []Hint {
	if b[0] == '1' {
		return []Hint{hint(causeOpenD0, fmt.Sprintf("%d ones and no zero; the zeros of the card are missing", len(b)))}
	}
	return []Hint{hint(causeOpenD1, fmt.Sprintf("%d zeros and no one; the ones of the card are missing", len(b)))}
}

// failed is for a read of the right length whose parity is wrong.
func failed(c Card) []Hint {
	var all []Hint
	if k := c.failing(); k == len(c.Checks) {
		// A check over an odd number of bits, its own included, always fails when all bits are inverted. Wiring can
		// invert, only settings can reverse, so the swap comes first.
		for _, x := range []struct {
			id   string
			bits Bits
			how  string
		}{{causeSwapped, c.Bits.Inverted(), "inverted"}, {causeReversed, c.Bits.Reversed(), "turned round"}} {
			if turned, err := c.Format.Decode(x.bits); err == nil && turned.Valid() {
				all = append(all, hint(x.id, fmt.Sprintf("every parity check fails; %s, all hold and the card is %s", x.how,
					turned)))
			}
		}
	}
	for _, k := range c.Checks {
		if !k.Holds && len(c.Checks) > c.failing() {
			all = append(all, hint(causeChanged, fmt.Sprintf("an odd number of bits is wrong among bits %s and %d",
				k.Over, k.Bit)))
		}
	}
	if len(all) == 0 {
		all = append(all, hint(causeChanged, "parity is wrong in every check"))
	}
	return append(all, hint(causeFormat, fmt.Sprintf("the card may have another format of %d bits", c.Format.Bits)))
}

// strange is for a read of a length that no format has.
func strange(b Bits, formats []*Format) []Hint {
	if key, ok := keypad(b); ok {
		return []Hint{{Cause{
			ID: "key", What: "This is a key of a keypad, not a card.", Wire: "The keypad sends each key as it is pressed.",
			Check: []string{"Set the controller to the keypad's way of sending keys."},
		}, key}}
	}
	for _, f := range formats {
		if len(b) != 2*f.Bits {
			continue
		}
		first, err1 := f.Decode(b[:f.Bits])
		second, err2 := f.Decode(b[f.Bits:])
		if err1 == nil && err2 == nil && first.Valid() && second.Valid() {
			return []Hint{hint(causeTwice, fmt.Sprintf("first %s, then %s, both format %s with right parity", first,
				second, f.ID))}
		}
	}
	var all []Hint
	for _, f := range formats {
		switch d := len(b) - f.Bits; {
		case d < 0 && d >= -3:
			all = append(all, hint(causeLost, fmt.Sprintf("%d fewer than format %s has", -d, f.ID)))
		case d > 0 && d <= 3:
			all = append(all, hint(causeAdded, fmt.Sprintf("%d more than format %s has", d, f.ID)))
		}
	}
	return append(all, hint(causeFormat, fmt.Sprintf("no format known here has %d bits; name the card's own in a "+
		"file of formats", len(b))))
}

// keypad reads the key of a keypad: four bits, or eight whose first half is the complement of the second, as open
// decoders implement it.
func keypad(b Bits) (string, bool) {
	switch {
	case len(b) == 8 && b[:4].Inverted() == b[4:]:
		b = b[4:]
	case len(b) != 4:
		return "", false
	}
	v := b.Value().Int64()
	if v > 11 {
		return "", false
	}
	return fmt.Sprintf("key %d", v), true
}

// Written is one way in which a card or a display may give a read as one number.
type Written struct {
	Note    string `json:"note"`
	Decimal string `json:"decimal"`
	Hex     string `json:"hex"`
}

// Written lists the usual ways to write the card as one number.
func (c Card) Written() []Written {
	var all []Written
	for _, x := range forms(c.Bits, c.Format) {
		if x.cause == causeBitOrder {
			continue
		}
		w := Written{x.note, x.value.String(), fmt.Sprintf("%X", x.value)}
		if x.cause == causeByteOrder {
			w.Note += ", bytes in reverse order"
		}
		all = append(all, w)
	}
	return all
}
