package signal

import (
	"strings"
	"testing"
)

// What no card can carry is told with the largest that fits. The open 26-bit format has 8 bits of facility and 16 of card
// (SIA AC-01-1996.10), so 255 and 65535; the longest identity number has 10 bytes (ISO/IEC 14443-3, from memory).
func TestNumbersThatNoCardCarries(t *testing.T) {
	own := Formats()[:1]
	for _, c := range []struct {
		text     string
		formats  []*Format
		no, read string // part of what is said; empty for nothing
	}{
		{"255/65535", own, "", ""},
		{"256/0", own, "facility 255, card 65535 (format 26)", ""},
		{"0/65536", own, "facility 255, card 65535 (format 26)", ""},
		{"1/2/3", own, "facility 255, card 65535 (format 26)", ""},
		{"300/70000", Formats(), "", ""},
		{"70000/3", Formats(), "facility 65535, card 65535 (format 34)", ""},
		{"1440/324", own, "facility 255", ""}, // read with another split
		{"16777216/3", own, "facility 255", "16777215"},
		{"04:A1:B2:C3:D4:E5:F6:07:18:29", Formats(), "", ""},
		{"1208925819614629174706175", Formats(), "", ""},
		{"1208925819614629174706176", Formats(), "1208925819614629174706175", "1208925819614629174706175"},
		{"0xFFFFFFFFFFFFFFFFFFFFFF", Formats(), "has 88 bits, and no card has more than 80", "has 88 bits"},
		{"0b111", Formats(), "", ""},
	} {
		n, wrong := ParseNumber(c.text)
		if len(wrong) > 0 {
			t.Fatal(wrong)
		}
		for _, x := range []struct{ got, want string }{{NoCard(n, c.formats), c.no}, {NoRead(n, c.formats), c.read}} {
			if (x.got == "") != (x.want == "") || !strings.Contains(x.got, x.want) {
				t.Errorf("%s: %q, want %q", c.text, x.got, x.want)
			}
		}
	}
}
