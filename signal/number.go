package signal

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"doorwright/document"
)

// Number is a card number as somebody read it off a card, a display or a log: as bits, as fields, or as one number.
// Exactly one of Bits, Fields and Value is set.
type Number struct {
	Text   string
	Bits   Bits     // all bits as sent
	Fields []uint64 // facility and card, or what the format has, in order
	Value  *big.Int // one number
	Hex    bool     // Value was written in hexadecimal
}

// leastBits is how many digits, all 0 or 1, are taken for bits without being marked so with "0b". No card prints a
// decimal number of that length.
const leastBits = 12

// mostDigits is the longest number taken.
const mostDigits = 80

// ParseNumber reads what people write: bits ("0b10110", or at least twelve 0 and 1), fields ("90/324", "90:324",
// "90 324"), hexadecimal ("0x5A0144", "5A0144", "04:A1:B2:C3") or decimal. It tells all that is wrong in it, by its
// place.
func ParseNumber(text string) (Number, document.Problems) {
	n := Number{Text: strings.TrimSpace(text)}
	bare := strings.ToLower(n.Text)
	if marked, ok := strings.CutPrefix(bare, "0b"); ok || looksLikeBits(bare) {
		bits, wrong := ParseBits(marked)
		n.Bits = bits
		return n, shifted(wrong, len(bare)-len(marked))
	}
	if wrong := strangers(n.Text); wrong != nil {
		return n, wrong
	}
	parts := strings.FieldsFunc(bare, separates)
	switch {
	case len(parts) == 0:
		return n, document.Problems{{Line: 1, Column: 1, Want: "no number is given; write it like 90/324, 0x5A0144 or " +
			"as bits"}}
	case len(bare) > mostDigits:
		return n, document.Problems{{
			Line: 1, Column: 1, Found: fmt.Sprintf("%d characters", len(bare)),
			Want: "is too long for a card number",
		}}
	case len(parts) > 1 && !hexBytes(parts):
		return n.fields(parts)
	}
	digits := strings.Join(parts, "")
	whole, marked := strings.CutPrefix(digits, "0x")
	n.Hex = marked || len(parts) > 1 || strings.ContainsAny(whole, "abcdef")
	base := 10
	if n.Hex {
		base = 16
	}
	v, ok := new(big.Int).SetString(whole, base)
	if !ok {
		return n, document.Problems{{
			Line: 1, Column: 1, Found: strconv.Quote(n.Text),
			Want: "is no number; write it like 90/324, 0x5A0144 or as bits",
		}}
	}
	n.Value = v
	return n, nil
}

// fields reads decimal numbers side by side.
func (n Number) fields(parts []string) (Number, document.Problems) {
	var wrong document.Problems
	column := 1
	rest := n.Text
	for _, p := range parts {
		at := strings.Index(strings.ToLower(rest), p)
		v, err := strconv.ParseUint(p, 10, 64)
		if err != nil {
			wrong = append(wrong, document.Problem{
				Line: 1, Column: column + at, Found: strconv.Quote(p), Want: "is no decimal number; write fields like 90/324",
			})
		}
		n.Fields = append(n.Fields, v)
		column += at + len(p)
		rest = rest[at+len(p):]
	}
	return n, wrong
}

func separates(r rune) bool { return strings.ContainsRune("/:,; \t", r) }

// strangers is the one problem of a text with characters that stand in no number, at the first of them; nil without any.
func strangers(text string) document.Problems {
	var found []string
	first, column := 0, 0
	for _, r := range text {
		column++
		if unicode.Is(unicode.ASCII_Hex_Digit, r) || separates(r) || (r == 'x' || r == 'X') && column == 2 {
			continue
		}
		if first == 0 {
			first = column
		}
		if said := fmt.Sprintf("%q", r); !slices.Contains(found, said) {
			found = append(found, said)
		}
	}
	if first == 0 {
		return nil
	}
	const mostNamed = 5 // a figure of our own choice
	if n := len(found); n > mostNamed {
		found = append(found[:mostNamed], fmt.Sprintf("%d others", n-mostNamed))
	}
	return document.Problems{{
		Line: 1, Column: first, Found: strings.Join(found, ", "),
		Want: "a card number has no such characters; write it like 90/324, 0x5A0144 or as bits",
	}}
}

// looksLikeBits says that a text is 0 and 1 only, and enough of them.
func looksLikeBits(text string) bool {
	digits := 0
	for _, r := range text {
		switch {
		case r == '0' || r == '1':
			digits++
		case !strings.ContainsRune(" \t_.-", r):
			return false
		}
	}
	return digits >= leastBits
}

// hexBytes says that all parts are bytes of two digits: an identity number as many readers print it.
func hexBytes(parts []string) bool {
	for _, p := range parts {
		if len(p) != 2 || strings.Contains(p, "x") {
			return false
		}
	}
	return len(parts) > 2
}

// shifted moves problems found in the rest of a text to their place in the whole.
func shifted(wrong document.Problems, by int) document.Problems {
	for i := range wrong {
		if wrong[i].Line > 0 {
			wrong[i].Column += by
		}
	}
	return wrong
}

// knows is how many bits of knowledge a number holds, to weigh chance agreement with.
func (n Number) knows() int {
	switch {
	case n.Bits != "":
		return len(n.Bits)
	case n.Value != nil:
		return max(n.Value.BitLen(), 8)
	}
	bits := 0
	for _, f := range n.Fields {
		bits += max(new(big.Int).SetUint64(f).BitLen(), 8)
	}
	return bits
}
