package signal

import (
	"strings"
	"testing"

	"doorwright/document"
)

// poor fails on a problem that says nothing or runs over its line.
func poor(t *testing.T, wrong document.Problems) {
	t.Helper()
	for _, p := range wrong {
		if p.Want == "" || strings.ContainsAny(p.Error(), "\n\r") {
			t.Errorf("a poor problem: %#v", p)
		}
	}
}

// No text makes the reading of numbers panic; what is read is one of three things, and can be compared with anything.
func FuzzNumber(f *testing.F) {
	for _, s := range []string{"90/324", "5A0144", "0b1011", "04:A1:B2:C3", "0x", "", "00101101000000001010001000", "9q/3", "1 2 3", "/"} {
		f.Add(s)
	}
	other, _ := ParseNumber("90/324")
	f.Fuzz(func(t *testing.T, text string) {
		n, wrong := ParseNumber(text)
		poor(t, wrong)
		if len(wrong) > 0 {
			return
		}
		set := 0
		for _, is := range []bool{n.Bits != "", n.Fields != nil, n.Value != nil} {
			if is {
				set++
			}
		}
		if set != 1 || len(n.Bits) > MostBits {
			t.Fatalf("%q is read as %+v", text, n)
		}
		for _, c := range []Comparison{Compare(n, other, Formats()), Compare(other, n, Formats())} {
			for _, e := range c.Explanations {
				if e.Share < 0 || e.Share > 1 || e.What == "" {
					t.Errorf("%q: %+v", text, e)
				}
			}
		}
		if same := Compare(n, n, Formats()); n.Bits != "" && (len(same.Explanations) == 0 || same.Explanations[0].ID != causeSame) {
			t.Errorf("%q is not the same as itself: %s", text, ranking(same))
		}
		Judge(n.Bits, Formats())
	})
}

// No file of formats makes the reading panic, and every format that is read encodes, decodes and keeps its parity.
func FuzzFormats(f *testing.F) {
	f.Add(formatsYAML)
	f.Add([]byte("formats: {x: {title: t, bits: 4, fields: {a: 2-3}, parity: [{bit: 1, sense: even, over: 2-4}, {bit: 4, sense: odd, over: 2}]}}"))
	f.Add([]byte("formats: {}"))
	f.Add([]byte("formats: {x: {title: t, bits: 2, fields: {a: 2-1}}}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		all, wrong := ReadFormats("f", data)
		poor(t, wrong)
		if len(wrong) > 0 && all != nil {
			t.Fatal("formats in spite of problems")
		}
		for _, x := range all {
			b, err := x.Encode(make([]uint64, len(x.Fields)))
			if err != nil {
				t.Fatal(err)
			}
			if c, err := x.Decode(b); err != nil || !c.Valid() {
				t.Fatalf("%s: %v", b, err)
			}
		}
	})
}
