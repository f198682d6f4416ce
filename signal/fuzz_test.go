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
	for _, s := range []string{
		"90/324", "5A0144", "0b1011", "04:A1:B2:C3", "0x", "", "00101101000000001010001000",
		"9q/3", "1 2 3", "/",
	} {
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
		if same := Compare(n, n, Formats()); n.Bits != "" && (len(same.Explanations) == 0 ||
			same.Explanations[0].ID != causeSame) {
			t.Errorf("%q is not the same as itself: %s", text, ranking(same))
		}
		Judge(n.Bits, Formats())
	})
}

// No file of formats makes the reading panic, and every format that is read encodes, decodes and keeps its parity.
func FuzzFormats(f *testing.F) {
	f.Add(formatsYAML)
	f.Add([]byte("formats: {x: {title: t, bits: 4, fields: {a: 2-3}, parity: [{bit: 1, sense: even, over: 2-4}, " +
		"{bit: 4, sense: odd, over: 2}]}}"))
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

// No capture makes the reading panic. Every byte of it is in a frame or in noise, in order, or is a mark before a
// frame;
// frames that are right are written again to the same bytes.
func FuzzCapture(f *testing.F) {
	for _, c := range published() {
		f.Add(c.hex)
	}
	f.Add("12:00:00.1 TX 53 00 08 00 04 60 EB AA\nRX 53 80 08 00 05 40 68 9F\n")
	f.Add("53 00 08 00 0C 60 EB AA 53 53 53 FF 53 00 A0 05 04")
	f.Add("53 00 0A 00 0C 01 60 EB AA 00")
	f.Add("FF FF 53 65 07 00 00 60 E1 0x")
	f.Fuzz(func(t *testing.T, text string) {
		b, wrong := ReadBytes("f", text)
		poor(t, wrong)
		got := b.Split()
		n := 0
		for _, x := range got.Noise {
			n += len(x.Raw)
		}
		for _, x := range got.Frames {
			n += len(x.Raw)
			x.Details(Formats())
			if x.State != Right {
				continue
			}
			if x.Security != nil && len(x.Security) == 0 {
				continue // a block of one byte is written as none
			}
			if back, err := x.Encode(); err != nil || string(back) != string(x.Raw) {
				t.Fatalf("%X is written again as %X, %v", x.Raw, back, err)
			}
		}
		if n > b.Len() || n < b.Len()-len(got.Frames) {
			t.Fatalf("%d of %d bytes told", n, b.Len())
		}
		if len(b.Explain(got)) == 0 {
			t.Fatal("nothing is said of it")
		}
	})
}
