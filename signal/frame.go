package signal

import (
	"doorwright/unit"
)

// State is how much of a frame arrived.
type State string

// The states.
const (
	Right   State = "right"       // the check value is right
	Damaged State = "check wrong" // it is whole and the check value is wrong
	Cut     State = "cut short"   // it ends before its length says
)

// Frame is one frame of a capture. Of a frame that is not right, everything is as found and nothing can be relied on.
type Frame struct {
	Message
	Place
	Mark        string      // direction as marked in the capture; empty when it is not
	At          unit.Second // meaningful when Timed
	Timed       bool
	State       State
	Raw         []byte
	Length      int    // as the frame says
	Found, Want uint16 // check value; Want is 0 for a frame cut short
}

// Noise is bytes between frames that belong to none.
type Noise struct {
	Place
	Raw   []byte
	After int // how many frames came before it
}

// Traffic is a capture taken apart.
type Traffic struct {
	Bytes  int
	Frames []Frame
	Noise  []Noise
}

// Split takes a capture apart into frames and noise. A frame whose check value is right is believed; what only begins
// like a frame reaches as far as it says, or to the next frame that is right.
func (b *Bytes) Split() Traffic {
	s := splitter{b: b, out: Traffic{Bytes: len(b.data)}}
	noise := 0 // where noise began
	for i := 0; i < len(b.data); {
		n := s.right(i)
		state := Right
		if n == 0 {
			n, state = s.broken(i)
		}
		if n == 0 {
			i++
			continue
		}
		s.noise(noise, i)
		s.out.Frames = append(s.out.Frames, s.frame(i, n, state))
		i += n
		noise = i
	}
	s.noise(noise, len(b.data))
	return s.out
}

type splitter struct {
	b     *Bytes
	out   Traffic
	burst int
}

// length is the length a frame at i says it has; 0 when it is none, or too short or too long for any frame.
func (s *splitter) length(i int) int {
	d := s.b.data
	if d[i] != som || i+headLen > len(d) || d[i+4]&unusedCtl != 0 {
		return 0
	}
	n := int(d[i+2]) | int(d[i+3])<<8
	if n > longest || n < s.least(i) {
		return 0
	}
	return n
}

// least is the length of the shortest frame with the control byte of the one at i.
func (s *splitter) least(i int) int {
	control := s.b.data[i+4]
	n := headLen + 1 + checkLen(control&crcBit != 0)
	if control&securBit != 0 {
		n += 2
	}
	return n
}

// right gives the length of a frame at i whose check value is right, else 0.
func (s *splitter) right(i int) int {
	n := s.length(i)
	if n == 0 || i+n > len(s.b.data) {
		return 0
	}
	raw := s.b.data[i : i+n]
	if _, _, ok := checked(raw); !ok || !wellBlocked(raw) {
		return 0
	}
	return n
}

// checked compares the check value of a whole frame.
func checked(raw []byte) (found, want uint16, ok bool) {
	crc := raw[4]&crcBit != 0
	end := len(raw) - checkLen(crc)
	want = checkOf(raw[:end], crc)
	found = uint16(raw[end])
	if crc {
		found |= uint16(raw[end+1]) << 8
	}
	return found, want, found == want
}

// wellBlocked says that a security block, when there is one, leaves room for the code, its own code and the check.
func wellBlocked(raw []byte) bool {
	if raw[4]&securBit == 0 {
		return true
	}
	n := int(raw[headLen])
	rest := len(raw) - headLen - n - 1 - checkLen(raw[4]&crcBit != 0)
	if n >= 2 && hasMAC(raw[headLen+1:headLen+2]) {
		rest -= macLen
	}
	return n >= 1 && rest >= 0
}

// broken gives the extent of a frame at i that is not right: as far as it says, but not into another frame or burst.
func (s *splitter) broken(i int) (int, State) {
	n := s.length(i)
	if n == 0 {
		return 0, ""
	}
	for k := 1; k < n; k++ {
		if i+k >= len(s.b.data) || s.starts(i+k) || s.right(i+k) > 0 {
			return k, Cut
		}
	}
	return n, Damaged
}

// starts says that a burst of the capture begins at i.
func (s *splitter) starts(i int) bool {
	bursts := s.b.bursts
	for s.burst < len(bursts) && bursts[s.burst].from < i {
		s.burst++
	}
	return s.burst < len(bursts) && bursts[s.burst].from == i
}

// frame takes a frame apart.
func (s *splitter) frame(i, n int, state State) Frame {
	raw := s.b.data[i : i+n]
	f := Frame{Place: s.b.places[i], State: state, Raw: raw, Length: n}
	if n >= headLen {
		f.Length = int(raw[2]) | int(raw[3])<<8
	}
	if k, ok := s.burstOf(i); ok {
		f.Mark, f.At, f.Timed = k.mark, k.at, k.timed
	}
	if state != Cut {
		f.Found, f.Want, _ = checked(raw)
	}
	f.Message = message(raw, state)
	return f
}

// burstOf is the burst a byte belongs to.
func (s *splitter) burstOf(i int) (burst, bool) {
	s.starts(i) // moves on to the burst at or after i
	bursts := s.b.bursts
	if s.burst < len(bursts) && bursts[s.burst].from == i {
		return bursts[s.burst], true
	}
	if s.burst == 0 {
		return burst{}, false
	}
	return bursts[s.burst-1], true
}

// message reads what a frame carries, as far as it arrived.
func message(raw []byte, state State) Message {
	var m Message
	if len(raw) < headLen {
		if len(raw) > 1 {
			m.Address, m.Reply = int(raw[1]&^reply), raw[1]&reply != 0
		}
		return m
	}
	m = Message{
		Address: int(raw[1] &^ reply), Reply: raw[1]&reply != 0, Sequence: int(raw[4] & seqMask), CRC: raw[4]&crcBit != 0,
	}
	rest := raw[headLen:]
	if state != Cut {
		rest = rest[:len(rest)-checkLen(m.CRC)]
	}
	if raw[4]&securBit != 0 && len(rest) > 0 {
		n := min(max(int(rest[0]), 1), len(rest))
		m.Security = rest[1:n]
		rest = rest[n:]
	}
	if hasMAC(m.Security) && state != Cut && len(rest) > macLen {
		m.MAC = rest[len(rest)-macLen:]
		rest = rest[:len(rest)-macLen]
	}
	if len(rest) > 0 {
		m.Code, m.Data = rest[0], rest[1:]
	}
	return m
}

// noise notes the bytes from one place to another. One mark byte before a frame belongs to the frame.
func (s *splitter) noise(from, to int) {
	if to < len(s.b.data) && to > from && s.b.data[to-1] == mark {
		to--
	}
	if from < to {
		s.out.Noise = append(s.out.Noise, Noise{s.b.places[from], s.b.data[from:to], len(s.out.Frames)})
	}
}
