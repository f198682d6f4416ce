package signal

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// traffic reads a capture that must be readable.
func traffic(t interface{ Fatalf(string, ...any) }, text string) (*Bytes, Traffic) {
	b, wrong := ReadBytes("", text)
	if len(wrong) > 0 {
		t.Fatalf("%v in %q", wrong, text)
	}
	return b, b.Split()
}

// published lists frames with what they mean. "annex E" are the examples of annex E of the specification
// (IEC 60839-11-5, SIA OSDP 2.x) as an open library carries them; "open library" are from that library's own tests;
// "computed" were worked out apart from this program.
func published() []struct {
	origin, hex string
	m           Message
	name, says  string
} {
	return []struct {
		origin, hex string
		m           Message
		name, says  string
	}{
		{"annex E", "53 7F 0D 00 04 6E 00 80 25 00 00 6E 38", Message{
			Address: AnyUnit, CRC: true, Code: 0x6E,
			Data: []byte{0, 0x80, 0x25, 0, 0},
		}, "COMSET", "address 0 (00), speed 9600 baud"},
		{"annex E", "53 00 09 00 04 61 00 C0 66", Message{CRC: true, Code: 0x61, Data: []byte{0}}, "ID", ""},
		{"annex E", "53 7F 0C 00 00 6E 00 80 25 00 00 0F", Message{Address: AnyUnit, Code: 0x6E, Data: []byte{
			0, 0x80,
			0x25, 0, 0,
		}}, "COMSET", "address 0 (00), speed 9600 baud"},
		{"annex E", "53 00 08 00 00 61 00 44", Message{Code: 0x61, Data: []byte{0}}, "ID", ""},
		{"open library", "53 65 08 00 04 60 60 90", Message{Address: 0x65, CRC: true, Code: 0x60}, "POLL", ""},
		{"open library", "53 65 07 00 00 60 E1", Message{Address: 0x65, Code: 0x60}, "POLL", ""},
		{
			"open library", "53 65 09 00 04 61 00 D9 7A",
			Message{Address: 0x65, CRC: true, Code: 0x61, Data: []byte{0}},
			"ID", "",
		},
		{"open library", "53 65 10 00 04 76 01 02 03 04 05 06 07 08 0D 20", Message{
			Address: 0x65, CRC: true,
			Code: 0x76, Data: []byte{1, 2, 3, 4, 5, 6, 7, 8},
		}, "CHLNG", ""},
		{"open library", "53 E5 08 00 06 40 B0 F0", Message{
			Address: 0x65, Reply: true, Sequence: 2, CRC: true,
			Code: 0x40,
		}, "ACK", ""},
		{"open library", "53 E5 07 00 01 40 80", Message{Address: 0x65, Reply: true, Sequence: 1, Code: 0x40}, "ACK", ""},
		{"open library", "53 E5 09 00 05 41 01 0E 8F", Message{
			Address: 0x65, Reply: true, Sequence: 1, CRC: true,
			Code: 0x41, Data: []byte{1},
		}, "NAK", "reason 1, wrong check value"},
		{
			"open library", "53 E5 14 00 04 45 A1 A2 A3 B1 C1 D1 D2 D3 D4 E1 E2 E3 F8 D9",
			Message{Address: 0x65, Reply: true, CRC: true, Code: 0x45, Data: []byte{
				0xA1, 0xA2, 0xA3, 0xB1, 0xC1, 0xD1,
				0xD2, 0xD3, 0xD4, 0xE1, 0xE2, 0xE3,
			}},
			"PDID", "maker code A1A2A3, model 177, version 193, serial D4D3D2D1, firmware 225.226.227",
		},
		{"open library", "53 E5 0B 00 05 46 04 04 01 B3 EC", Message{
			Address: 0x65, Reply: true, Sequence: 1,
			CRC: true, Code: 0x46, Data: []byte{4, 4, 1},
		}, "PDCAP", "lamps level 4, count 1"},
		{"computed", "53 00 08 00 04 60 EB AA", Message{CRC: true, Code: 0x60}, "POLL", ""},
		{"computed", "53 80 08 00 05 40 68 9F", Message{Reply: true, Sequence: 1, CRC: true, Code: 0x40}, "ACK", ""},
		{
			"computed", "53 80 10 00 05 50 00 00 1A 00 2D 00 A2 00 14 AF",
			Message{Reply: true, Sequence: 1, CRC: true, Code: 0x50, Data: []byte{0, 0, 0x1A, 0, 0x2D, 0, 0xA2, 0}},
			"RAW", "reader 0, bits 26: 00101101000000001010001000, card facility 90, card 324 (format 26, parity right)",
		},
	}
}

func words(details []Detail) string {
	var all []string
	for _, d := range details {
		all = append(all, d.Name+" "+d.Value)
	}
	return strings.Join(all, ", ")
}

func TestFramesAsPublished(t *testing.T) {
	for _, c := range published() {
		_, got := traffic(t, c.hex)
		if len(got.Frames) != 1 || got.Frames[0].State != Right || len(got.Noise) > 0 {
			t.Errorf("%s %s: %+v", c.origin, c.hex, got)
			continue
		}
		f := got.Frames[0]
		if same(f.Message, c.m) != "" || f.Name() != c.name || words(f.Details(Formats())) != c.says {
			t.Errorf("%s %s: %s %s %q, want %s %q", c.origin, c.hex, same(f.Message, c.m), f.Name(),
				words(f.Details(Formats())), c.name, c.says)
		}
		raw, err := c.m.Encode()
		if text := fmt.Sprintf("% X", raw); err != nil || text != c.hex {
			t.Errorf("%s: sent as %s (%v), want %s", c.name, text, err, c.hex)
		}
	}
}

// same names the difference of two messages.
func same(a, b Message) string {
	x, y := fmt.Sprintf("%d %t %d %t %X %02X %X %X", a.Address, a.Reply, a.Sequence, a.CRC, a.Security, a.Code,
		a.Data, a.MAC),
		fmt.Sprintf("%d %t %d %t %X %02X %X %X", b.Address, b.Reply, b.Sequence, b.CRC, b.Security, b.Code, b.Data, b.MAC)
	if x == y {
		return ""
	}
	return x + " is not " + y
}

// The check value of the digits 1 to 9 for this polynomial and start (catalogues of CRCs, from memory; it agrees with
// the
// frames of annex E).
func TestCRCOfNineDigits(t *testing.T) {
	if got := CRC([]byte("123456789")); got != 0xE5CC {
		t.Errorf("%04X, want E5CC", got)
	}
}

// drawMessage makes any message a frame can hold.
func drawMessage(t *rapid.T) Message {
	m := Message{
		Address: rapid.IntRange(0, AnyUnit).Draw(t, "address"), Reply: rapid.Bool().Draw(t, "reply"),
		Sequence: rapid.IntRange(0, 3).Draw(t, "sequence"), CRC: rapid.Bool().Draw(t,
			"CRC"), Code: rapid.Byte().Draw(t, "code"),
		Data: rapid.SliceOfN(rapid.Byte(), 0, 40).Draw(t, "data"),
	}
	if rapid.Bool().Draw(t, "secure") {
		m.Security = append([]byte{byte(rapid.IntRange(0x11, 0x18).Draw(t, "type"))}, rapid.SliceOfN(rapid.Byte(), 0,
			3).Draw(t, "block")...)
		if hasMAC(m.Security) {
			m.MAC = rapid.SliceOfN(rapid.Byte(), macLen, macLen).Draw(t, "MAC")
		}
	}
	return m
}

func TestMessagesGoRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMessage(t)
		raw, err := m.Encode()
		if err != nil {
			t.Fatal(err)
		}
		_, got := traffic(t, fmt.Sprintf("% X", raw))
		if len(got.Frames) != 1 || got.Frames[0].State != Right || len(got.Noise) > 0 {
			t.Fatalf("%X: %+v", raw, got)
		}
		if d := same(got.Frames[0].Message, m); d != "" {
			t.Fatal(d)
		}
		got.Frames[0].Details(Formats())
	})
}

// No single wrong bit leaves a frame that is believed, except where it changes the length or the kind of check value: a
// check value then stands at another place and can agree by accident, as the protocol itself has it. Even so the
// frame is
// another one.
func TestSingleWrongBitsAreFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw, err := drawMessage(t).Encode()
		if err != nil {
			t.Fatal(err)
		}
		for i := range raw {
			for k := range 8 {
				hit := bytes.Clone(raw)
				hit[i] ^= 1 << k
				elsewhere := i == 2 || i == 3 || i == 4 && 1<<k&(crcBit|securBit) != 0
				_, got := traffic(t, fmt.Sprintf("% X", hit))
				for _, f := range got.Frames {
					if f.State == Right && (!elsewhere || bytes.Equal(f.Raw, raw)) && len(f.Raw) == len(raw) {
						t.Fatalf("bit %d of byte %d wrong and the frame is believed: %X", k, i, hit)
					}
				}
				if len(got.Frames) == 0 && len(got.Noise) == 0 {
					t.Fatalf("%X: nothing at all is told", hit)
				}
			}
		}
	})
}

// Frames are found again among noise, in any grouping of digits, each where it stands.
func TestFramesAmongNoise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var want [][]byte
		var text strings.Builder
		for range rapid.IntRange(1, 8).Draw(t, "frames") {
			for _, n := range rapid.SliceOfN(rapid.SampledFrom([]byte{0, 0x11, 0xA7, 0xFF}), 0, 3).Draw(t, "noise") {
				fmt.Fprintf(&text, "%02x ", n)
			}
			raw, err := drawMessage(t).Encode()
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, raw)
			sep := rapid.SampledFrom([]string{" ", "", ", ", "\n", " 0x", ":"}).Draw(t, "between")
			for i, b := range raw {
				if i > 0 || sep == " 0x" {
					text.WriteString(sep)
				}
				fmt.Fprintf(&text, "%02X", b)
			}
			text.WriteString("\n")
		}
		_, got := traffic(t, text.String())
		var found [][]byte
		for _, f := range got.Frames {
			if f.State == Right {
				found = append(found, f.Raw)
			}
		}
		if len(found) != len(want) {
			t.Fatalf("%d of %d frames in\n%s", len(found), len(want), text.String())
		}
		for i := range want {
			if !bytes.Equal(found[i], want[i]) {
				t.Fatalf("%X is found as %X", want[i], found[i])
			}
		}
	})
}

func TestCapturesAsWritten(t *testing.T) {
	const poll = "536508000460"
	for _, c := range []struct {
		situation, text string
		mark            string
		at              float64
		timed           bool
	}{
		{"blanks", "53 65 08 00 04 60 60 90", "", 0, false},
		{"no blanks", poll + "6090", "", 0, false},
		{"commas and 0x", "0x53,0x65,0x08,0x00,0x04,0x60,0x60,0x90", "", 0, false},
		{"as in C", `{0x53, 0x65, 0x08, 0x00,
0x04, 0x60, 0x60, 0x90}`, "", 0, false},
		{"escapes", `"\x53\x65\x08\x00\x04\x60\x60\x90"`, "", 0, false},
		{"colons", "53:65:08:00:04:60:60:90", "", 0, false},
		{"time of day and direction", "12:00:01.250 TX: 53 65 08 00 04 60 60 90", "TX:", 43201.25, true},
		{"date and time", "2026-11-25 00:00:01 > 53 65 08 00 04 60 60 90", ">", 1, true},
		{"date with time", "2026-11-25T00:01:00.5Z <- 53 65 08 00 04 60 60 90", "<-", 60.5, true},
		{"seconds", "[0.125] rx 53 65 08 00 04 60 60 90", "rx", 0.125, true},
		{"milliseconds", "1250ms 53 65 08 00 04 60 60 90", "", 1.25, true},
		{"time on a line of its own", "12:00:00.000 TX\n53 65 08 00 04 60 60 90", "TX", 43200, true},
		{"hex dump", "0000: 53 65 08 00  |Se..|\r\n0004: 04 60 60 90  |.``.|\r\n", "", 0, false},
		{"remarks", "# the reader at the door\n53 65 08 00 04 60 60 90 # poll", "", 0, false},
		{"mark byte", "FF 53 65 08 00 04 60 60 90", "", 0, false},
	} {
		_, got := traffic(t, c.text)
		if len(got.Frames) != 1 || got.Frames[0].State != Right || len(got.Noise) > 0 {
			t.Errorf("%s: %+v", c.situation, got)
			continue
		}
		if f := got.Frames[0]; f.Mark != c.mark || float64(f.At) != c.at || f.Timed != c.timed {
			t.Errorf("%s: %q at %v (%t)", c.situation, f.Mark, f.At, f.Timed)
		}
	}
}

func TestCaptureTellsEverythingWrongAtOnce(t *testing.T) {
	_, wrong := ReadBytes("tap.txt", "53 65 0g 00\nTX 5 66 hello\n53 \u00e4\n")
	want := []string{
		"tap.txt:1:8: found 'g'", "tap.txt:2:4: found \"5\", which is not made of whole bytes", "tap.txt:2:9: found " +
			"'h'", "tap.txt:3:4: found 'ä'",
	}
	if len(wrong) != len(want) {
		t.Fatal(wrong)
	}
	for i := range want {
		if !strings.Contains(wrong[i].Error(), want[i]) {
			t.Errorf("%s, want %s", wrong[i].Error(), want[i])
		}
	}
	if _, wrong := ReadBytes("", "\n# nothing\n"); len(wrong) != 1 || !strings.Contains(wrong.Error(),
		"there are no bytes") {
		t.Error(wrong)
	}
	if _, wrong := ReadBytes("", strings.Repeat("zz ", 1000)); len(wrong) != mostProblems+1 ||
		!strings.Contains(wrong.Error(), "980 more") {
		t.Error(len(wrong), wrong)
	}
}

func TestEncodeTellsEverythingWrongAtOnce(t *testing.T) {
	_, err := Message{Address: 128, Sequence: 4, MAC: []byte{1}, Data: make([]byte, 2000)}.Encode()
	for _, want := range []string{"address: found 128", "sequence: found 4", "MAC: found 1 bytes", "a frame of"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not say %q", err, want)
		}
	}
}

// Lists are complete: every code has a name of its own, and the reading of its fields takes any data of its length.
func TestCodesAreRead(t *testing.T) {
	n := 0
	for _, reply := range []bool{false, true} {
		for b := range 256 {
			m := Message{Reply: reply, Code: byte(b)}
			c, known := lookUp(m)
			if !known {
				continue
			}
			n++
			for k := range 80 {
				m.Data = bytes.Repeat([]byte{0xFF}, k)
				for _, d := range m.Details(Formats()) {
					if d.Name == "" || d.Value == "" {
						t.Errorf("%s with %d bytes: %+v", c.Name, k, d)
					}
				}
			}
		}
	}
	if n != len(commands())+len(replies()) || n < 50 {
		t.Errorf("%d codes, %d in the lists", n, len(commands())+len(replies()))
	}
}
