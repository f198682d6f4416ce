package signal

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// script is a conversation written down frame by frame.
type script struct{ bytes.Buffer }

func (s *script) say(m Message) {
	raw, err := m.Encode()
	if err != nil {
		panic(err)
	}
	fmt.Fprintf(s, "% X\n", raw)
}

// poll sends a poll and, when code is not 0, a reply.
func (s *script) poll(address, sequence int, code byte, data ...byte) {
	s.say(Message{Address: address, Sequence: sequence, CRC: true, Code: cmdPoll})
	if code != 0 {
		s.say(Message{Address: address, Reply: true, Sequence: sequence, CRC: true, Code: code, Data: data})
	}
}

// rounds polls an address n times and has it answer ACK.
func (s *script) rounds(address, n int) {
	s.poll(address, 0, rplAck)
	for i := range n - 1 {
		s.poll(address, i%3+1, rplAck)
	}
}

// garble turns one bit round.
func garble(m Message) string {
	raw, err := m.Encode()
	if err != nil {
		panic(err)
	}
	raw[len(raw)-1] ^= 4
	return fmt.Sprintf("% X\n", raw)
}

// What a capture shows, and what it must be taken for. The conversations keep to the rules of IEC 60839-11-5: one reply
// to each command, numbers 0, 1, 2, 3, 1; the faults are those a technician makes or meets.
func TestCapturesAreExplained(t *testing.T) {
	ack := func(address, sequence int) Message {
		return Message{Address: address, Reply: true, Sequence: sequence, CRC: true, Code: rplAck}
	}
	for _, c := range []struct {
		situation string
		write     func(s *script)
		first     string // finding
		says      string
	}{
		{
			"all well", func(s *script) { s.rounds(0, 10); s.rounds(1, 10) }, findSound,
			"Of 40 frames 0 are damaged; of 20 commands 20 were answered",
		},
		{"only polls", func(s *script) {
			for range 10 {
				s.poll(5, 0, 0)
			}
		}, findSilence, "nothing answers (10 commands)"},
		{"two polls", func(s *script) { s.poll(5, 0, 0); s.poll(5, 0, 0) }, findSound, "these few frames"},
		{"one of two is silent", func(s *script) {
			for i := range 9 {
				s.poll(1, (i+2)%3+1, rplAck)
				s.poll(2, 0, 0)
			}
		}, findNoAnswer, "Address 2 never answers (9 commands)"},
		{"only replies", func(s *script) {
			for i := range 5 {
				s.say(ack(3, i%3+1))
			}
		}, findOneSide, ""},
		{"replies damaged", func(s *script) {
			for i := range 9 {
				s.poll(1, i%3+1, 0)
				if i%3 == 0 {
					s.say(ack(1, i%3+1))
				} else {
					s.WriteString(garble(ack(1, i%3+1)))
				}
			}
		}, findChecks, "Only replies are hit"},
		{"the last frame of the capture is cut", func(s *script) {
			s.rounds(0,
				5)
			s.WriteString("53 00 08 00 04 60")
		}, findSound, ""},
		{"a reply too many", func(s *script) { s.rounds(0, 5); s.say(ack(0, 1)) }, findSound, ""},
		{"all damaged", func(s *script) {
			for i := range 4 {
				s.WriteString(garble(Message{Address: 1, Sequence: i, CRC: true, Code: cmdPoll}))
			}
		}, findChecks, "Not one frame"},
		{"two serial numbers on one address", func(s *script) {
			s.rounds(4, 4)
			for i, serial := range []byte{1, 2} {
				s.say(Message{Address: 4, Sequence: i + 1, CRC: true, Code: 0x61, Data: []byte{0}})
				s.say(Message{Address: 4, Reply: true, Sequence: i + 1, CRC: true, Code: rplID, Data: []byte{
					0, 0, 0, 1, 1,
					serial, 0, 0, 0, 1, 0, 0,
				}})
			}
		}, findCollision, "Two units answer at address 4"},
		{"two replies to each command", func(s *script) {
			for i := range 6 {
				s.poll(4, i%3+1, rplAck)
				s.say(ack(4, i%3+1))
			}
		}, findCollision, "on top of another"},
		{"garbage behind every poll", func(s *script) {
			for range 6 {
				s.poll(4, 0, 0)
				s.WriteString("FF C0 D4 F8 11 20\n")
			}
		}, findGarbage, "not readably"},
		{"replies lost", func(s *script) {
			s.rounds(2, 4)
			for range 3 {
				s.poll(2, 1, 0)
				s.poll(2, 1, rplAck)
				s.poll(2, 2, rplAck)
				s.poll(2, 3, rplAck)
			}
		}, findRepeats, "3 of 16 commands"},
		{"the controller is deaf", func(s *script) {
			s.poll(2, 1, rplAck)
			s.poll(2, 1, rplAck)
			s.poll(2, 1, rplAck)
		}, findDeaf, "2 commands were sent again"},
		{
			"restarts", func(s *script) { s.rounds(2, 4); s.rounds(2, 4); s.rounds(2, 4) }, findRestarts,
			"began anew (2 times)",
		},
		{"numbers jump", func(s *script) {
			for range 4 {
				s.poll(2, 1, rplAck)
				s.poll(2, 3, rplAck)
			}
		}, findJumps, ""},
		{"late", func(s *script) {
			s.WriteString("0.000 ")
			s.poll(2, 1, 0)
			s.WriteString("0.350 ")
			s.say(ack(2, 1))
		}, findLate, "350 ms"},
		{"refused", func(s *script) { s.rounds(2, 3); s.poll(2, 3, rplNak, 6) }, findNak, "the secure channel is required"},
		{"tamper", func(s *script) { s.rounds(2, 3); s.poll(2, 3, rplLocal, 1, 0) }, findTamper, ""},
		{"power", func(s *script) { s.rounds(2, 3); s.poll(2, 3, rplLocal, 0, 1) }, findPower, ""},
		{"the published key", func(s *script) {
			s.say(Message{Address: 2, CRC: true, Security: []byte{0x11, 0}, Code: 0x76, Data: make([]byte, 8)})
			s.say(Message{Address: 2, Reply: true, CRC: true, Security: []byte{0x12, 0}, Code: rplCrypt, Data: make([]byte, 32)})
		}, findKnownKey, ""},
		{"an echo of the tap", func(s *script) {
			for i := range 6 {
				s.WriteString("TX ")
				s.poll(2, i%3+1, 0)
				s.WriteString("RX ")
				s.poll(2, i%3+1, rplAck)
			}
		}, findSound, "of 6 commands 6 were answered"},
		{"one frame with a wrong check value", func(s *script) { s.WriteString("53 00 08 00 04 60 EB AB") }, findChecks, "One frame, damaged"},
		{"the beginning of one frame", func(s *script) { s.WriteString("53 00 08 00 04 60") }, findChecks, "Of its 8 bytes 6 are there"},
		{"nothing of the protocol", func(s *script) { s.WriteString("10 20 30 40 50 60 70 80") }, findUnreadable, "No frame"},
	} {
		var s script
		c.write(&s)
		b, got := traffic(t, s.String())
		all := b.Explain(got)
		text := all[0].What + " " + all[0].Wire
		if all[0].ID != c.first || !strings.Contains(text, c.says) {
			t.Errorf("%s: %s %q, want %s %q\n%s", c.situation, all[0].ID, text, c.first, c.says, s.String())
		}
		for _, f := range all {
			if f.What == "" || f.Wire == "" || f.Fault && len(f.Check) == 0 {
				t.Errorf("%s: poor finding %+v", c.situation, f)
			}
		}
	}
}

// A line heard at its own speed, the right way round, is heard as it is.
func TestTheLineIsHeardAsSpoken(t *testing.T) {
	all := polls()
	if len(all) != 127*4*2 {
		t.Fatalf("%d polls", len(all))
	}
	for _, p := range all {
		if h := (ear{1, 1, false}).heard(p); !bytes.Equal(h, p) {
			t.Fatalf("%X is heard as %X", p, h)
		}
		if h := (ear{8, 8, false}).heard(p); !bytes.Equal(h, p) {
			t.Fatalf("%X is heard as %X with time counted finer", p, h)
		}
	}
}

// By hand: 0x53 is sent as space 1100 1010 mark. Crossed, the line rests at space, so the first change to space is the
// first data bit; the listener takes the next eight, 0110 1010 with the crossed stop bit last, for 0x56. At twice the
// speed each bit counts for two: space, then 0 11 11 00 0 for the first byte, 0x1E.
func TestTheLineIsMisheardAsWorkedOutByHand(t *testing.T) {
	for _, c := range []struct {
		ear  ear
		want byte
	}{{ear{1, 1, true}, 0x56}, {ear{2, 1, false}, 0x1E}} {
		if h := c.ear.heard([]byte{0x53, 0x65}); len(h) == 0 || h[0] != c.want {
			t.Errorf("%+v hears %X, want %02X first", c.ear, h, c.want)
		}
	}
}

// A tap at a wrong speed or with A and B crossed is recognised by the polls it mishears.
func TestMisheardCapturesAreRecognised(t *testing.T) {
	for _, c := range []struct {
		ear      ear
		id, says string
	}{
		{ear{1, 1, true}, findCrossedTap, "A and B are swapped where this was captured."},
		{ear{2, 1, false}, findSpeed, "2 times slower"},
		{ear{4, 1, false}, findSpeed, "4 times slower"},
		{ear{12, 1, false}, findSpeed, "12 times slower"},
		{ear{3, 2, false}, findSpeed, "1.5 times slower"},
		{ear{1, 2, false}, findSpeed, "2 times faster"},
		{ear{2, 1, true}, findCrossedTap, "and the line is 2 times slower"},
	} {
		var text strings.Builder
		for i := range 6 {
			p, err := Message{Address: 7, Sequence: i%3 + 1, CRC: true, Code: cmdPoll}.Encode()
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&text, "% X\n", c.ear.heard(p))
		}
		b, got := traffic(t, text.String())
		if f := b.Explain(got)[0]; f.ID != c.id || !strings.Contains(f.What, c.says) {
			t.Errorf("%+v: %s %q, want %s %q\n%s", c.ear, f.ID, f.What, c.id, c.says, text.String())
		}
	}
}

func TestInvertedCaptureIsRecognised(t *testing.T) {
	var text strings.Builder
	for _, c := range published() {
		b, _ := traffic(t, c.hex)
		fmt.Fprintf(&text, "% X\n", b.inverted().data)
	}
	b, got := traffic(t, text.String())
	if f := b.Explain(got)[0]; f.ID != findInverted {
		t.Errorf("%+v", f)
	}
}
