package signal

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What a technician reads off card and display, and what it must be taken for. The reads of the faults follow from the
// layout of the formats; 90/324 in 26 bits is 00101101000000001010001000.
func TestWrongNumbersAreExplained(t *testing.T) {
	for _, c := range []struct {
		situation          string
		expected, received string
		cause, where       string
	}{
		{"right", "90/324", "90/324", causeSame, ""},
		{"right, as bits", "90/324", "00101101000000001010001000", causeSame, ""},
		{"lines swapped", "90/324", "165/65211", causeSwapped, ""},
		{"lines swapped, as bits", "90/324", "11010010111111110101110111", causeSwapped, ""},
		{"lines swapped, only the card is printed", "324", "165/65211", causeSwapped, "facility would be 90"},
		{"lines swapped, 34 bits", "1234/5678", "64301/59857", causeSwapped, ""},
		{"reversed, as bits", "90/324", "00010001010000000010110100", causeReversed, ""},
		{"swapped and reversed, as bits", "90/324", "11101110101111111101001011", causeBoth, ""},
		{"D0 dead", "90/324", "0b1111111", causeOpenD0, "19 zeros"},
		{"D1 dead", "90/324", "0000000000000000000", causeOpenD1, "7 ones"},
		{"first pulse lost", "90/324", "0101101000000001010001000", causeLost, "one of bits 1 to 2"},
		{
			"a pulse in the middle lost", "90/324", "0010110100000000101001000", causeLost,
			"one of bits 20 to 22, which are equal, a zero, sent on D0",
		},
		{
			"a one lost", "90/324", "0010101000000001010001000", causeLost,
			"one of bits 5 to 6, which are equal, a one, sent on D1",
		},
		{"two pulses lost apart", "90/324", "010110100000001010001000", causeLost, "sent on D0"},
		{"last three lost", "90/324", "00101101000000001010001", causeLost, "the last 3 bits"},
		{
			"one pulse added", "90/324", "001011010000100001010001000", causeAdded,
			"in the read received bit 13, a one, sent on D1",
		},
		{
			"first bit gone, one filled in behind", "90/324", "01011010000000010100010001", causeShifted,
			"the first bit is missing",
		},
		{"first bit gone, one filled in behind, as numbers", "90/324", "180/648", causeShifted, "the first bit is missing"},
		{"two reads of one card", "90/324", "0010110100000000101000100000101101000000001010001000", causeTwice, ""},
		{"a read and most of another", "90/324", "00101101000000001010001000001011010000000010100010", causeTwice, "of the other there are 24 bits"},
		{"a neighbour was shown", "90/324", "90/325", causeOther, "facility 90 is right, the card is 1 away"},
		{"a neighbour was shown, as bits", "90/324", "00101101000000001010001011", causeOther, "1 away"},
		{"some card of the facility was shown", "90/324", "90/51234", causeOther, ""},
		{"bytes reversed, no letters", "12345678", "78563412", causeByteOrder, "hexadecimal"},
		{"one bit wrong", "90/324", "00101101000000001010101000", causeChanged, "bits 21"},
		{
			"34-bit card on a 26-bit controller", "1234/5678", "210/5678", causeFormat,
			"the card sends format 34, the controller reads 26",
		},
		{"other split", "90/324", "1440/324", causeSplit, "12 bits of card"},
		{"other facility", "90/324", "91/324", causeFacility, "90 is expected, 91 received"},
		{"printed in hex", "5A0144", "90/324", causeDisplay, "without parity"},
		{"printed side by side", "9000324", "90/324", causeDisplay, "side by side"},
		{"hex and decimal", "0x5A0144", "5898564", causeDisplay, "hexadecimal"},
		{"bytes reversed", "04A1B2C3", "0xC3B2A104", causeByteOrder, "4 bytes"},
		{"bytes reversed and decimal", "04A1B2C3", "3283263748", causeByteOrder, "4 bytes"},
		{"cut to 24 bits", "04A1B2C3", "A1B2C3", causeCut, "last 24"},
		{"cut to 24 bits, as fields", "04A1B2C3", "161/45763", causeCut, "has room for 24"},
	} {
		got := Compare(number(t, c.expected), number(t, c.received), Formats())
		if len(got.Explanations) == 0 {
			t.Errorf("%s: nothing fits", c.situation)
			continue
		}
		first := got.Explanations[0]
		if first.ID != c.cause || !strings.Contains(first.Where, c.where) {
			t.Errorf("%s: %s (%s), want %s (%s)\n%s", c.situation, first.ID, first.Where, c.cause, c.where, ranking(got))
		}
	}
}

func ranking(c Comparison) string {
	var b strings.Builder
	for _, e := range c.Explanations {
		fmt.Fprintf(&b, "  %.3f %s: %s [%s]\n", e.Share, e.ID, e.Where, e.Format)
	}
	fmt.Fprintf(&b, "  %.3f chance\n", c.Chance)
	return b.String()
}

// Where bits are lost or added, equal bits stand under each other.
func TestReadsAreSetUnderEachOther(t *testing.T) {
	for _, c := range []struct{ received, sent, got string }{
		{"0010110100000000101001000", "00101101000000001010001000", "001011010000000010100-1000"},
		{"0101101000000001010001000", "00101101000000001010001000", "0-101101000000001010001000"},
		{"00101101000000001010001", "00101101000000001010001000", "00101101000000001010001---"},
		{"001011010000100001010001000", "001011010000-00001010001000", "001011010000100001010001000"},
		{"001011010000000010100010001", "00101101000000001010001000-", "001011010000000010100010001"},
		{"11010010111111110101110111", "00101101000000001010001000", "11010010111111110101110111"},
	} {
		first := Compare(number(t, "90/324"), number(t, c.received), Formats()).Explanations[0]
		if sent, got := first.Aligned(); sent != c.sent || got != c.got {
			t.Errorf("%s %s:\n%s\n%s, want\n%s\n%s", first.ID, first.Where, sent, got, c.sent, c.got)
		}
	}
}

// Swapped lines fail every parity check of the built-in formats, since each covers an odd number of bits with its own; a
// read that is swapped and reversed passes them in the 26-bit format. Both follow from the layout.
func TestParityAndSwappedLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(Formats()).Draw(t, "format")
		values := make([]uint64, len(f.Fields))
		for i, e := range f.Fields {
			values[i] = rapid.Uint64().Draw(t, e.Key) >> (64 - len(e.Value))
		}
		sent, err := f.Encode(values)
		if err != nil {
			t.Fatal(err)
		}
		swapped, _ := f.Decode(sent.Inverted())
		if swapped.failing() != len(swapped.Checks) {
			t.Fatalf("%s swapped: %+v", sent, swapped.Checks)
		}
		if both, _ := f.Decode(sent.Inverted().Reversed()); f.ID == "26" && !both.Valid() {
			t.Fatalf("%s swapped and reversed: %+v", sent, both.Checks)
		}
	})
}

// A controller that does not look at parity shows a swapped read as another card; from the numbers alone the swap is named
// first.
func TestSwapIsNamedFromNumbersAlone(t *testing.T) {
	f := format(t, "26")
	rapid.Check(t, func(t *rapid.T) {
		facility, card := rapid.Uint64Range(0, 255).Draw(t, "facility"), rapid.Uint64Range(0, 65535).Draw(t, "card")
		got := Compare(Number{Fields: []uint64{facility, card}}, Number{Fields: []uint64{255 - facility, 65535 - card}}, []*Format{f})
		if len(got.Explanations) == 0 || got.Explanations[0].ID != causeSwapped {
			t.Fatal(ranking(got))
		}
	})
}

// Numbers that have nothing to do with each other are not explained away.
func TestNothingFits(t *testing.T) {
	for _, c := range [][2]string{{"90/324", "17/40961"}, {"90/324", "01100110111010110011010111"}, {
		"123456",
		"987654321",
	}, {"04A1B2C3", "55667788"}} {
		if got := Compare(number(t, c[0]), number(t, c[1]), Formats()); len(got.Explanations) > 0 {
			t.Errorf("%v:\n%s", c, ranking(got))
		}
	}
}

// Each fault done to a random card is among the first two explanations, and the shares add up.
func TestFaultsDoneAreFound(t *testing.T) {
	faults := []struct {
		cause string
		do    func(t *rapid.T, b Bits) Bits
	}{
		{causeSame, func(_ *rapid.T, b Bits) Bits { return b }},
		{causeSwapped, func(_ *rapid.T, b Bits) Bits { return b.Inverted() }},
		{causeReversed, func(_ *rapid.T, b Bits) Bits { return b.Reversed() }},
		{causeTwice, func(_ *rapid.T, b Bits) Bits { return b + b }},
		{causeLost, func(t *rapid.T, b Bits) Bits {
			i := rapid.IntRange(0, len(b)-1).Draw(t, "lost")
			return b[:i] + b[i+1:]
		}},
		{causeAdded, func(t *rapid.T, b Bits) Bits {
			i := rapid.IntRange(0, len(b)).Draw(t, "added")
			return b[:i] + rapid.SampledFrom([]Bits{"0", "1"}).Draw(t, "bit") + b[i:]
		}},
		{causeOpenD0, func(_ *rapid.T, b Bits) Bits { return Bits(strings.Repeat("1", b.Ones())) }},
	}
	f := format(t, "26")
	rapid.Check(t, func(t *rapid.T) {
		sent, err := f.Encode([]uint64{rapid.Uint64Range(1, 254).Draw(t, "facility"), rapid.Uint64Range(1,
			65534).Draw(t, "card")})
		if err != nil {
			t.Fatal(err)
		}
		x := rapid.SampledFrom(faults).Draw(t, "fault")
		got := Compare(Number{Bits: sent}, Number{Bits: x.do(t, sent)}, Formats())
		sum := got.Chance
		found := false
		for i, e := range got.Explanations {
			sum += e.Share
			found = found || i < 2 && (e.ID == x.cause || x.do == nil)
		}
		if !found || sum < 0.999 || sum > 1.001 {
			t.Fatalf("%s: sum %f\n%s", x.cause, sum, ranking(got))
		}
	})
}

// Without a number to compare with, a read still says what is strange about it.
func TestReadsAloneAreJudged(t *testing.T) {
	for _, c := range []struct {
		situation string
		bits      Bits
		cause     string
	}{
		{"right", "00101101000000001010001000", ""},
		{"swapped", "11010010111111110101110111", causeSwapped},
		{"one bit wrong", "00101101000000001010101000", causeChanged},
		{"all ones", "1111111", causeOpenD0},
		{"all zeros", "0000000000000000000", causeOpenD1},
		{"one lost", "0101101000000001010001000", causeLost},
		{"one added", "001011010000000010100010001", causeAdded},
		{"two reads", "0010110100000000101000100010000000100000000000000010", causeTwice},
		{"a key", "0101", "key"},
		{"a key with its complement", "10100101", "key"},
		{"no format", "0110011011101011001101011101100110111010110011010111", causeFormat},
	} {
		j := Judge(c.bits, Formats())
		id := ""
		if len(j.Hints) > 0 {
			id = j.Hints[0].ID
		}
		if id != c.cause {
			t.Errorf("%s: %q, want %q", c.situation, id, c.cause)
		}
	}
}

// Every cause says what it means and what to check, once.
func TestCausesAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Causes() {
		if c.What == "" || c.Wire == "" || len(c.Check) == 0 || c.prior <= 0 || seen[c.ID] {
			t.Errorf("%+v", c)
		}
		seen[c.ID] = true
	}
	if len(seen) < 15 {
		t.Errorf("only %d causes", len(seen))
	}
}

// How likely a number is with each cause, weighed by how often each is met, comes to how likely it is anyhow; a cause that
// explains it is the likelier for it, and one that cannot is ruled out but for what else there may be.
func TestLikelihoodsComeToWhatIsLikelyAnyhow(t *testing.T) {
	for _, c := range []struct{ expected, received, cause string }{
		{"90/324", "165/65211", causeSwapped},
		{"90/324", "90/324", causeSame},
		{"90/324", "0b1111111", causeOpenD0},
		{"90/324", "0101101000000001010001000", causeLost},
		{"1234/5678", "210/5678", causeFormat},
		{"90/324", "17/40961", ""},
	} {
		got := Compare(number(t, c.expected), number(t, c.received), Formats())
		all, sum := chance, 0.0
		for _, k := range Causes() {
			all += k.prior
		}
		for _, k := range Causes() {
			with := got.Likelihood(map[string]float64{k.ID: 1})
			sum += with * k.prior / all
			if k.ID == c.cause && with < 3 {
				t.Errorf("%s for %s: %s has only %.3g", c.received, c.expected, k.ID, with)
			}
		}
		if sum > 1+1e-9 || c.cause != "" && sum < 0.9 || c.cause == "" && sum > 0 {
			t.Errorf("%s for %s: the causes come to %v", c.received, c.expected, sum)
		}
		if p := got.Likelihood(nil); p != 1 {
			t.Errorf("anyhow is %v", p)
		}
		if p := got.Likelihood(map[string]float64{causeCut: 0.99}); c.cause != "" && (p < 0.0099 || p > 0.011) {
			t.Errorf("%s for %s: what cannot be has %v", c.received, c.expected, p)
		}
	}
}
